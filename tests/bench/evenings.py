"""Evenings played and scored: act, topic, crops, verdict, what was kept, and what must never happen.

    python tests/bench/evenings.py [FILE] [-v] [--only e07]

Each evening is played in a folder of its own, with its day and place; a turn may move the day on. What the journal
holds after a turn is compared with what was to be kept (action, crop, count, where, day). A turn is right when its
act, topic, crops, verdict and everything to be kept are right. The evenings were written without sight of the
program; tests/bench/data/evenings_unread.jsonl is for the last measurement and not read by whoever mends.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from collections import Counter
from collections.abc import Iterable, Mapping
from datetime import date
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from gardenmate.core.answer import Answer
from gardenmate.core.effects import GardenChange
from gardenmate.dialogue.conversation import Conversation
from gardenmate.garden.store import GardenFile, garden_path, journal_path
from gardenmate.journal.decision import KeptDecision
from gardenmate.journal.store import Journal
from gardenmate.knowledge.facts import Facts
from gardenmate.records import dataclass, field, replace
from tests.bench.spoken import evenings, wanted

DATA = Path(__file__).parent / "data"
ALL = 100_000
# Deeds the evenings file under "note" because their list of actions is short.
ALSO_NOTES = frozenset(
    {
        "cover",
        "divide",
        "cut",
        "move",
        "mat-off",
        "open-frame",
        "thin",
        "water",
        "note",
        "garden",
        "chit",
        "frost",
        "have",
    }
)
# The evenings were written with trade names of their own; the same plants under the ids of the program.
SAME = {
    "fava-bean": "broad-bean",
    "artichoke": "globe-artichoke",
    "saskatoon": "serviceberry",
    "haskap": "honeyberry",
    "mache": "corn-salad",
    "swede": "rutabaga",
    "purple-sprouting-broccoli": "broccoli",
    "chive": "chives",
}
AGAIN = ("again", "repeat", "more", "why", "help")


@dataclass
class Score:
    """What was counted over all evenings."""

    turns: int = 0
    right: int = 0
    parts: Counter[str] = field(default_factory=Counter)
    of: Counter[str] = field(default_factory=Counter)
    moved: int = 0
    again: int = 0
    crashed: int = 0
    written_by_question: int = 0
    whole: int = 0

    def count(self, what: str, ok: bool) -> bool:
        """Count one thing compared; returns ``ok``."""
        self.of[what] += 1
        self.parts[what] += ok
        return ok


def every(answer: Answer) -> list[Answer]:
    """The answer and those beside it."""
    return [answer, *answer.also]


def state(journal: Journal) -> dict[int, KeptDecision]:
    """Every standing entry by its number."""
    return {d.id: d for d in journal.search(limit=ALL)}


def fits(
    deed: Mapping[str, Any], entry: KeptDecision, of_turn: frozenset[str] = frozenset()
) -> dict[str, bool]:
    """Which fields of a deed to be kept an entry has right. A deed labelled with no crop is one about no crop, or about
    those of the turn (``of_turn``): the labels name one crop at most."""
    action = entry.action if entry.action not in ALSO_NOTES else "note"
    where = (entry.detail.get("where") or "").lower()
    wanted_where = (deed.get("where") or "").lower()
    count = deed.get("count")
    on = deed.get("on")
    by_number = deed["crop"] is None and str(deed.get("detail", "")).startswith("job")
    return {
        "action": action == (deed["action"] if deed["action"] not in ALSO_NOTES else "note"),
        "crop": (SAME.get(deed["crop"], deed["crop"]) in entry.crops)
        if deed["crop"]
        else by_number or set(entry.crops) <= of_turn,
        "count": not isinstance(count, int | float) or entry.count == count,
        "where": not wanted_where or same_place(wanted_where, where),
        "on": on is None or entry.on.isoformat().startswith(on),
    }


def same_place(one: str, other: str) -> bool:
    """True where every word of one is among those of the other: "kitchen and bedroom sills", "sill in the kitchen"."""
    small = {"and", "the", "in", "by", "on", "of"}
    first, second = ({w.rstrip("s") for w in text.split()} - small for text in (one, other))
    return bool(second) and (first <= second or second <= first)


def added_up(deed: Mapping[str, Any], entries: list[KeptDecision]) -> list[KeptDecision]:
    """The entries, and one that adds up those kept apart for two places: "12, 6 on the sill and 6 in the bedroom"."""
    parts = [
        e for e in entries if e.action == deed["action"] and deed["crop"] in e.crops and e.count is not None
    ]
    if len(parts) < 2:
        return entries
    places = " and ".join(e.detail.get("where") or "" for e in parts)
    whole = replace(
        parts[0], count=sum(e.count or 0.0 for e in parts), detail={**parts[0].detail, "where": places}
    )
    return [*entries, whole]


def deeds_right(
    wanted: Iterable[Mapping[str, Any]], changed: list[KeptDecision], score: Score, of_turn: frozenset[str]
) -> tuple[bool, list[str]]:
    """Compare what was to be kept with what was; (all right, what was wrong)."""
    good, wrong = True, []
    left = list(changed)
    wanted = list(wanted)
    for deed in wanted:
        shown = added_up(deed, left) if len(wanted) == 1 else left
        best = max(
            shown,
            key=lambda e: (
                fits(deed, e, of_turn)["action"] + fits(deed, e, of_turn)["crop"],
                sum(fits(deed, e, of_turn).values()),
            ),
            default=None,
        )
        fit = (
            fits(deed, best, of_turn)
            if best is not None
            else dict.fromkeys(("action", "crop", "count", "where", "on"), False)
        )
        logged = fit["action"] and fit["crop"]
        score.count("deeds logged", logged)
        for name, ok in fit.items():
            score.count(f"deed {name}", ok)
        if not all(fit.values()):
            good = False
            got = (
                None
                if best is None
                else (best.action, best.crops, best.count, best.detail.get("where"), best.on.isoformat())
            )
            wrong.append(f"wanted {tuple(deed.values())} got {got}")
        elif best in left and len(left) > 1 and len(best.crops) < 2:
            left.remove(best)
    return good, wrong


def play(evening: Mapping[str, Any], facts: Facts, score: Score, verbose: bool) -> None:
    """Play one evening in a folder of its own."""
    today = [date.fromisoformat(evening["today"])]
    fine = True
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        garden = GardenFile(garden_path(home))
        journal = Journal(journal_path(home))
        if evening["place"]:
            garden.apply(GardenChange("place.name", evening["place"]))
        talk = Conversation(facts=facts, clock=lambda: today[0], garden_file=garden, journal=journal)
        said: list[str] = []
        if verbose:
            print(f"== {evening['id']} {today[0]} {evening['place']}")
        for turn in evening["turns"]:
            if "today" in turn:
                today[0] = date.fromisoformat(turn["today"])
            before, place = state(journal), garden.garden.place
            score.turns += 1
            try:
                answer = talk.ask(turn["say"])
            except Exception as error:  # a fault of the program is what is measured
                score.crashed += 1
                fine = False
                print(f"CRASH {evening['id']} {turn['say']!r}: {type(error).__name__}: {error}")
                continue
            after = state(journal)
            changed = [d for n, d in after.items() if before.get(n) != d]
            gone = [d for n, d in before.items() if n not in after]
            ok, wrong = judged(turn, answer, changed, gone, score)
            if turn["act"] in ("ask", "talk", "manage") and (changed or gone):
                score.written_by_question += 1
                ok = False
                wrong.append("a question wrote")
            if turn["act"] != "tell" and garden.garden.place != place:
                score.moved += 1
                ok = False
                wrong.append(f"moved to {garden.garden.place}")
            headlines = [a.headline for a in every(answer)]
            if any(len(h) > 40 and h in said for h in headlines) and not any(
                w in turn["say"].lower() for w in AGAIN
            ):
                score.again += 1
                ok = False
                wrong.append("printed again")
            said = [*said, *headlines][-6:]
            score.right += ok
            fine = fine and ok
            if verbose:
                print(
                    f"{'  ' if ok else '✗ '}{turn['say']!r}\n       -> {answer.headline}"
                    + "".join(f"\n       ++ {a.headline}" for a in answer.also)
                )
                if not ok:
                    print("       " + "; ".join(wrong))
        journal.close()
    score.whole += fine


def judged(
    turn: Mapping[str, Any],
    answer: Answer,
    changed: list[KeptDecision],
    gone: list[KeptDecision],
    score: Score,
) -> tuple[bool, list[str]]:
    """One turn compared with what was written beside it; (right, what was wrong)."""
    wrong: list[str] = []
    answers = every(answer)
    acts, topics = turn["act"].split("+"), turn["topic"].split("+")
    got_acts = [a.act for a in answers]
    got_topics = [a.question.topic for a in answers]
    if not score.count("act", set(acts) <= set(got_acts)):
        wrong.append(f"act {'+'.join(got_acts)}")
    talk = acts == ["talk"] and got_acts == ["talk"]
    if not score.count("topic", talk or set(topics) <= set(got_topics)):
        wrong.append(f"topic {'+'.join(got_topics)}")
    if turn["act"] != "talk":
        crops = {ref.id for a in answers for ref in a.question.crops}
        named = {SAME.get(crop, crop) for crop in turn["crops"]}
        if not score.count("crops", named <= crops if len(acts) > 1 else named == crops):
            wrong.append(f"crops {sorted(crops)}")
    if turn["verdict"]:
        verdicts = [a.verdict for a in answers if a.act == "ask"] or [answer.verdict]
        near = turn["verdict"] in verdicts
        if not score.count("verdict", near):
            wrong.append(f"verdict {verdicts[0]} not {turn['verdict']}")
        if verdicts[0] is not None and not near:
            score.of["wrong verdicts"] += 1
    deeds = [d for d in wanted(turn) if d["action"] != "undo"]
    for _ in range(len(wanted(turn)) - len(deeds)):
        if not score.count("undone", bool(gone)):
            wrong.append("nothing taken back")
    good, told = deeds_right(deeds, changed, score, frozenset(SAME.get(c, c) for c in turn["crops"]))
    return good and not wrong, [*wrong, *told]


def main() -> None:
    """Play a file of evenings and print the counts."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("file", nargs="?", default=DATA / "evenings.jsonl", type=Path)
    parser.add_argument("-v", "--verbose", action="store_true")
    parser.add_argument("--only", action="append", default=[])
    options = parser.parse_args()
    facts, score = Facts(), Score()
    played = evenings(options.file)
    chosen = [e for e in played if not options.only or e["id"] in options.only]
    for evening in chosen:
        play(evening, facts, score, options.verbose)
    share = score.right / max(score.turns, 1)
    print(f"turns right {score.right}/{score.turns} ({share:.0%})")
    print(f"evenings without fault {score.whole}/{len(chosen)}")
    for what, of in score.of.items():
        got = score.parts[what]
        print(f"  {what}: {of}" if what == "wrong verdicts" else f"  {what}: {got}/{of} ({got / of:.0%})")
    print(f"  place moved {score.moved}, printed again {score.again}")
    print(f"  written by a question {score.written_by_question}, crashed {score.crashed}")


if __name__ == "__main__":
    main()
