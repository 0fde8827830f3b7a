"""Commands: what is shown, listed or told about the program, by the noun and verb of the command."""

from __future__ import annotations

from gardenmate.core.answer import Answer
from gardenmate.core.question import Command, Part, Request
from gardenmate.core.world import World
from gardenmate.records import replace
from gardenmate.topics.garden.shown import shown, where_is
from gardenmate.topics.log.answer import export
from gardenmate.topics.log.listing import listing
from gardenmate.topics.plantings import last_year, own_frosts
from gardenmate.topics.plantings.answer import NOUNS
from gardenmate.topics.plantings.answer import answer as plantings_answer
from gardenmate.topics.registry import rule_for

_ON_THE_COMMAND_LINE = {
    "backup": "To keep everything in one file: gardenmate backup FILE. 'gardenmate restore FILE' brings it back.",
    "restore": "To bring a backup back: gardenmate restore FILE.",
    "print": "To print a season sheet: gardenmate sheet --html --out season.html. For the jobs: gardenmate agenda.",
    "demo": "Type 'gardenmate demo' to see conversations played.",
    "version": "Type 'gardenmate --version' for the version.",
    "leave": "Type 'quit' or press Ctrl-D to leave.",
}
_HELP = (
    "Ask when to sow, what tonight's low does, when to harden off or prune.",
    "Tell me what you do: 'sowed 12 tomatoes in tray 1', 'peppers are up', 'lost 3 kale to slugs'.",
    "'How are my trays', 'what's in bed 2' and 'jobs' show where things stand; 'done 2', '2 until Saturday', 'drop 3'.",
    "'My tomatoes are Glacier, 55 days' counts from then on. 'What do you know about my garden' shows what is kept.",
    "'Undo', 'delete note 5', 'no, 36' put things right.",
)


def command(part: Part, world: World, last: Answer | None) -> Answer:
    """The reply to a command. ``last`` is the answer shown last, for "again"."""
    said = part.command or Command("show")
    request = part.request
    if said.verb == "repeat" and last is not None:
        return last
    if said.verb == "help":
        return Answer(question=request, verdict=None, headline=_HELP[0], details=_HELP[1:])
    if said.verb in _ON_THE_COMMAND_LINE:
        return Answer(question=request, verdict=None, headline=_ON_THE_COMMAND_LINE[said.verb])
    if said.verb == "export":
        return export(request)
    if said.verb == "frosts":
        year = last_year.year_asked(request, world) if request.first("season-year") is not None else None
        return own_frosts.answer(request, world, year)
    if said.verb == "review":
        return last_year.answer(request, world)
    if said.verb in ("why", "sources"):
        return rule_for(request.topic).answer(request, world)
    return _shown(request, said, world)


def _shown(request: Request, said: Command, world: World) -> Answer:
    noun = said.noun
    named = {t.value for t in request.all("crop")}
    request = replace(request, crops=tuple(ref for ref in request.crops if ref.id in named))
    if request.has("asks", "spent") or request.topic == "explain":
        return rule_for(request.topic).answer(request, world)
    if request.has("where") and noun not in ("place", "garden", "varieties", "seeds", "log"):
        return plantings_answer(request, said._replace(noun="plantings"), world)
    if noun in NOUNS:
        return plantings_answer(request, said, world)
    if noun == "place" and request.topic == "garden":
        return where_is(request, world)
    if noun in ("garden", "gardens"):
        return shown(request, world)
    if noun == "log" or request.topic == "log":
        return listing(request, world)
    return rule_for(request.topic).answer(request, world)
