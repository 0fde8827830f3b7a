"""What the turns of a conversation leave for those after them, and how each adds to it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gardenmate.core.answer import Answer, JobRef
from gardenmate.core.question import CropRef, Deed, Part, Request
from gardenmate.dialogue.memory import deeds_kept
from gardenmate.dialogue.rephrased import KEPT, TOLD, asked_before, placeless, to_follow
from gardenmate.records import NamedTuple, replace

if TYPE_CHECKING:
    from gardenmate.language.intent.reading import Context
    from gardenmate.language.intent.topics import Before

_TOLD_DEEDS = ("report", "plan")


class TurnsSoFar(NamedTuple):
    """The answers a turn may lean on: ``last`` shown, ``previous`` that a follow-up goes on with, ``asked`` and
    ``worked`` of the questions asked and worked out last, ``supposed`` with something supposed for it; the jobs
    ``listed`` last, the ``deeds`` told last, the plants spoken of ``lately``, and what the words of the next turn are
    weighed with (``before``)."""

    previous: Answer | None = None
    asked: Answer | None = None
    worked: Answer | None = None
    supposed: Answer | None = None
    last: Answer | None = None
    listed: tuple[JobRef, ...] = ()
    deeds: tuple[Deed, ...] = ()
    lately: tuple[tuple[CropRef, ...], ...] = ()
    before: Before | None = None

    def over(self, context: Context) -> Context:
        """The context of the next turn: ``context`` with what was said so far."""
        return context._replace(
            previous=to_follow(self.previous) if self.previous is not None else None,
            deeds=self.deeds,
            asked=asked_before(self.previous, self.worked, self.asked),
            told=self.previous is not None and self.previous.act in TOLD,
            lately=self.lately,
            before=self.before if self.before is not None else context.before,
            listed=bool(self.listed),
        )

    def after(self, part: Part, question: Request, answer: Answer, *, nowhere: bool) -> TurnsSoFar:
        """What is left once ``part``, read as ``question``, was answered. ``nowhere``: its place was not found; it is
        asked about once and not taken over."""
        if part.act == "talk":
            return self
        # start-up seam: loaded with the first turn read
        from gardenmate.language.intent.reading import turned_to
        from gardenmate.language.intent.topics import NOTHING_SAID

        strange = tuple(CropRef(t.unit) for t in question.all("unknown-plant") if t.unit)
        now = self._replace(lately=turned_to(self.lately, answer.question.crops or strange))
        if question.topic in ("out-of-scope", "unclear"):
            return now
        if nowhere:
            answer = replace(answer, question=placeless(answer.question))
        told = deeds_kept(answer) if part.act in _TOLD_DEEDS and answer.effects else ()
        crops = (ref.id for ref in answer.question.crops)
        before = (self.before or NOTHING_SAID).then(
            f"{part.act}/{answer.question.topic}", told[-1].action if told else None, crops
        )
        now = now._replace(
            last=answer, listed=answer.jobs or self.listed, deeds=told or self.deeds, before=before
        )
        return now.going_on(part, question, answer)

    def going_on(self, part: Part, question: Request, answer: Answer) -> TurnsSoFar:
        """With the answer a follow-up goes on with: an explanation changes nothing of it, nor does a command that
        names no plant."""
        if answer.question.topic == "explain":
            # start-up seam: only behind an explanation
            from gardenmate.topics.explain.answer import supposes

            return self._replace(supposed=answer) if supposes(question) else self
        if part.act == "manage" and not answer.question.crops:
            return self
        now = self._replace(previous=answer, supposed=None)
        if part.act != "ask":
            return now
        return now._replace(asked=answer, worked=answer if answer.question.topic not in KEPT else self.worked)
