"""What single topics ask of a crop, read from its own file: groups, calendar, amounts, stock and the like.

Temperatures in degrees C unless a field says ``_f``, lengths in cm, days or weeks; every
figure names its source.
"""

from __future__ import annotations

from gardenmate.knowledge.reader import Range, Sources
from gardenmate.records import NamedTuple

TRAITS = frozenset(
    {
        "mass-noun",  # spoken of as a mass: "the kale is", not "the kales are"
        "thinned",  # sown in a row and thinned
        "several-to-a-cell",  # sown a pinch to a cell and separated at planting out
        "cracks-when-soaked",  # large seed that rots when soaked long
        "not-hardened",  # sown in place, or planted as a piece
        "poor-from-seed",  # herbs that are better bought as a plant
        "tuber",  # what is eaten lies below ground, and would be killed by frost there
        "day-length-bulb",  # swells by the length of the day: kinds suit latitudes
    }
)


class Groups(NamedTuple):
    """The groups whose shared figures hold for the crop; "none" where it belongs to no group of the sort."""

    start: str  # season.toml
    frost: str  # protection.toml
    aftermath: str
    night: str
    potting: str  # raising.toml
    price: str  # prices.toml
    pick: str = "none"
    way: str = "none"
    held: str = "none"


class Calendar(NamedTuple):
    """Where the season of the crop differs from its start group; knowledge/season.toml says what each is."""

    sources: Sources = Sources()
    rule: str = ""
    base_c: float | None = None
    upper_c: float | None = None
    reference_c: float | None = None
    heat_c: float | None = None
    until_mean_c: float | None = None
    wanted_days: float | None = None
    also_direct: bool = False
    spring_days: float | None = None
    autumn_means_c: tuple[float, ...] = ()
    autumn_coldest_c: float | None = None
    autumn_weeks_from_equinox: float = -8.0
    after_winter_degree_days: float | None = None
    bulbs: bool = False
    stands: bool = False
    winter_harvest: bool = False
    grown_by_dark: bool = False
    best_days: int | None = None
    picked_from_mean_c: float | None = None
    spring_ripe_from: int | None = None
    fall_plants: bool = False


class WinteredKind(NamedTuple):
    """A kind sown in summer and cut in spring: weeks from the autumn equinox."""

    sources: Sources
    names: tuple[str, ...]
    sow_weeks: Range
    out_weeks: Range
    cut_weeks: Range


class Germination(NamedTuple):
    """How the seed behaves where its emergence table does not tell.

    ``relative``: the crop whose table stands in; ``season_relative``: the one that does in the season's
    reckoning only; ``grown_from``: pieces, not seed.
    """

    sources: Sources = Sources()
    relative: str = ""
    season_relative: str = ""
    room_days: Range | None = None
    soak_hours: Range | None = None
    grown_from: str = ""


class Warmth(NamedTuple):
    """Mix temperature for germination, day and lowest night temperature of the seedlings."""

    sources: Sources
    germinate_c: Range
    day_c: Range
    night_c: float


class Lamp(NamedTuple):
    """Hours of lamp a day where day length matters, and why."""

    sources: Sources
    hours: Range
    why: str


class BestAge(NamedTuple):
    """The age of a transplant at planting, weeks from sowing."""

    sources: Sources
    weeks: Range


class StageLimit(NamedTuple):
    """Air temperatures that hurt and kill at a stage, where they differ from the crop's own. ``plant_lives``: it is the
    flowers or fruit that are killed, not the plant."""

    sources: Sources
    stage: tuple[str, ...]
    hurt_c: float
    killed_c: float
    note: str
    plant_lives: bool = False


class WinterMulch(NamedTuple):
    """A mulch over the bed in winter: how deep (cm), of what, when it goes on and comes off, how; what becomes of
    shoots that come through it; of roots kept in the ground, what frost does to them there (``bare``)."""

    sources: Sources
    depth_cm: Range
    what: str
    on_when: str
    off_when: str
    how: str
    off: str = ""
    shoots: str = ""
    bare: str = ""


class FrostWords(NamedTuple):
    """What is done for it on a frosty night instead of covering it; {word} and {them} are filled in."""

    cover: str
    rescue: str


class VarietyRow(NamedTuple):
    """A kind or variety growers name, with its own days to maturity (from planting or setting out)."""

    sources: Sources
    names: tuple[str, ...]
    words: str
    days: float


class TuberJobs(NamedTuple):
    """Weeks of sprouting in the light before planting; shoot height for earthing up, and the days to it."""

    sources: Sources
    chit_weeks: Range
    earth_up_cm: float
    up_days: float
    after_up_days: float


class Amounts(NamedTuple):
    """Usual amounts that no published table gives: for one person, from one plant, for a jar, to plant.

    ``in_place_of_yields``: they stand although a table names others. ``keep_back_one_in``: share of the heads
    kept to plant again. ``spacing_ft``: between woody plants in a row.
    """

    sources: Sources = Sources()
    in_place_of_yields: bool = False
    plants_per_person_fresh: Range | None = None
    plants_per_person_preserve: Range | None = None
    row_ft_per_person_fresh: Range | None = None
    row_ft_per_person_preserve: Range | None = None
    again_weeks: int | None = None
    yield_lb_per_plant: Range | None = None
    fruits_per_plant: Range | None = None
    lb_per_quart: float | None = None
    quart_of: str = ""
    winter_store: str = ""
    pieces_per_lb: Range | None = None
    keep_back_one_in: int | None = None
    plants_per_support: Range | None = None
    support_seeds_extra: int | None = None
    support: str = ""
    spacing_ft: Range | None = None
    stock_row_note: str = ""
    space_note: str = ""


class Stock(NamedTuple):
    """Planting stock rather than packets: the price of one piece, how seed compares, and the advice.

    ``prefer``: stock | seed | own. ``extra_years``: how much longer seed takes. ``seed_crop``, ``sets_crop``:
    the file of the same plant grown the other way; ``name``: what both are called.
    """

    sources: Sources = Sources()
    usual_plants: int = 1
    piece: str = "plant"
    prefer: str = "stock"
    advice: str = ""
    seed: str = ""
    share: str = ""
    headline: str = ""
    name: str = ""
    price: float | None = None
    extra_years: int = 0
    first_crop_years: str = ""
    packet: float | None = None
    seeds: int | None = None
    own: str = ""
    own_price: float = 0.0
    own_weeks: float | None = None
    seed_crop: str = ""
    sets_crop: str = ""


class Cuttings(NamedTuple):
    """What is said of a herb raised from cuttings or division."""

    advice: str
