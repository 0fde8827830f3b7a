"""The figures of the danger cards, each against what its named publication says."""

from __future__ import annotations

import pytest

from gardenmate.knowledge.facts import Facts
from gardenmate.knowledge.help_lines import sources_of, with_numbers
from gardenmate.topics.safety.answer import card_of

FACTS = Facts()

FIGURES = [
    # Nebraska Extension, Flooded gardens: 90 days where the water did not touch what is eaten, 120 where it did.
    ("flooded-crop", "nebraska-flooded-garden", "for 90 days, and for 120 days what the water touched"),
    # EPA on broken CFLs (since 2011): air 5 to 10 minutes, no vacuum; the longer time is said.
    ("mercury", "epa-broken-lamp", "wait 10 minutes"),
    # EPA on pesticide containers: rinse three times, into the spray tank.
    ("pesticide-container", "epa-pesticide-rinsing", "rinsed three times into the spray"),
    # Tacoma-Pierce County Health Department: warm water of 100 to 105 F, never rub.
    ("class-cold-person", "tacoma-pierce-cold", "100 to 105 F (38 to 40 C)"),
    # RSPB: not between March and August; Wildlife Act 1976 (Ireland): 1 March to 31 August.
    ("nests", "rspb-hedge-cutting", "In Britain leave hedges alone from March to August"),
    ("nests", "ireland-hedge-cutting", "from 1 March to 31 August"),
    # Cal Poly Pomona Student Health: the state may change within a day or two.
    ("fall", "cal-poly-pomona-head-injuries", "in the next two days"),
    # Extension Foundation: the arsenic-treated wood left the consumer trade at the end of 2003.
    ("treated-wood", "extension-treated-lumber", "from before 2004"),
    # Blue Mountain Health System: two half-full buckets.
    ("class-lifting", "blue-mountain-lifting", "two half-full buckets for one full one"),
    # US Consumer Product Safety Commission: young children drown in a few inches of water.
    ("drowning", "cpsc-water-at-home", "a few inches (5 cm) of water drown"),
    # NCHFP, garlic in oil: 40 F, 4 days.
    ("garlic-oil", "nchfp-garlic-in-oil", "40 F (4 C) or lower and use it within 4 days"),
    # CDC, cleaning up after rodents: half an hour's airing, five minutes' soaking.
    ("rodent-droppings", "cdc-rodent-clean-up", "wait at least five minutes"),
    # USDA organic rule: 120 and 90 days.
    (
        "manure",
        "usda-organic-raw-manure",
        "120 days before harvest of what touches soil, 90 days for the rest",
    ),
]

DEEDS = [
    # Unitil: no flame, phone or switch, the hole stays open. Sunshine 811: stop, tell the owner, do not mend it.
    ("cable-hit", "unitil-line-contact", ("no flame", "no switch", "no phone", "Leave the hole open")),
    ("cable-hit", "sunshine-811-damage", ("Stop", "call the emergency number", "utility")),
    # ESFI: buzzing, heat, a tingle, a breaker that trips: a licensed electrician.
    ("burning-electrics", "esfi-home-wiring", ("hot, buzzing or scorched", "licensed electrician")),
    ("tripping", "esfi-home-wiring", ("licensed electrician",)),
    # ESFI: nothing on top, never folded.
    ("blanket", "esfi-electric-blanket", ("folded", "something on top", "overheats")),
    # UC IPM: spark-plug wire off, electric ones unplugged, children and pets away.
    ("machines", "uc-ipm-mower", ("Unplug it", "spark-plug lead", "children and animals away")),
    # Red Cross: no torch or open flame on a frozen pipe; hot wet towels; else a plumber.
    ("heat-gun", "red-cross-frozen-pipes", ("torch", "hot water", "plumber")),
    # University of Minnesota Extension: no food, feed, compost or stove; cover spills with soil.
    (
        "treated-seed",
        "umn-treated-seed",
        ("eat", "feed it", "compost or the stove", "cover spills with soil"),
    ),
    # City of York: broken, drilled or scrubbed sheet sets fibres free. Shropshire: sound sheet stays, no dry sweeping.
    ("asbestos", "york-asbestos", ("cut, drill, break, brush",)),
    ("asbestos", "shropshire-asbestos", ("leave them where they are", "do not sweep", "wet them")),
    # North Carolina and Purdue: mothballs only as the label says.
    ("bait", "nc-mothballs", ("mothballs", "against the law off its label")),
    # INSPQ: gloves, wash hands, wash what you eat, cat litter for someone else.
    ("pregnant", "inspq-pregnancy-gardening", ("gloves", "Wash hands", "wash and peel", "cat litter")),
    # California DPR: no product is registered for burning sulphur in a closed space.
    ("fumigant", "cdpr-sulfur-burning", ("sulphur", "burning sulphur is not allowed")),
    # OSHA: from the ground where possible.
    ("roof-glass", "osha-roof-snow", ("from the ground",)),
    # BfR: nothing green, bitter or much sprouted; small green parts cut out generously.
    ("green-potato", "bfr-solanine", ("green, bitter or much sprouted", "deep and wide")),
    # Dufferin Veterinary Hospital: cocoa mulch, mouldy compost.
    ("pets", "dufferin-vet-garden-toxins", ("cocoa mulch", "mouldy compost")),
]


def said(kind: str) -> str:
    card = card_of(kind, FACTS)
    return " ".join((card["text"], *card["instead"], card["defer"]))


@pytest.mark.parametrize(("kind", "source", "figure"), FIGURES)
def test_a_figure_is_that_of_its_publication(kind: str, source: str, figure: str) -> None:
    assert source in card_of(kind, FACTS)["sources"]
    assert not FACTS.source(source).from_memory
    assert figure in said(kind)


@pytest.mark.parametrize(("kind", "source", "told"), DEEDS)
def test_what_to_do_is_what_its_publication_says(kind: str, source: str, told: tuple[str, ...]) -> None:
    assert source in card_of(kind, FACTS)["sources"]
    assert FACTS.source(source).url
    for words in told:
        assert words in said(kind)


def test_few_cards_rest_on_common_practice_alone() -> None:
    cards = [(name, kind) for name in FACTS.ids("dangers") for kind in FACTS.table(f"dangers/{name}")]
    alone = {kind for name, kind in cards if tuple(card_of(kind, FACTS)["sources"]) == ("common-practice",)}
    numbers = {kind for kind in alone if "{poison}" in said(kind)}  # these name the help lines' own sources
    assert alone - numbers == {"broken-glass", "wasps"}


@pytest.mark.parametrize(
    ("country", "marks", "source"),
    [
        ("US", "811", "unitil-dig-safe"),  # Unitil, Dig safe: three working days ahead, free
        ("AU", "1100", "au-1100"),  # Before You Dig Australia
        ("NZ", "0800 248 344", "nz-beforeudig"),  # beforeUdig
    ],
)
def test_who_marks_buried_lines_is_that_of_the_country(country: str, marks: str, source: str) -> None:
    lines = (said("digging"),)
    told = with_numbers(lines[0], FACTS, country)
    assert marks in told
    assert source in sources_of(lines, FACTS, country)
    assert not any(other in told for other in {"811", "1100", "0800 248 344"} - {marks})
