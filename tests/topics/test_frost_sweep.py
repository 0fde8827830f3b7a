"""Every crop, every stage, cover and unit, any low: a whole answer each time."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenmate.core.answer import Answer
from gardenmate.core.units import Units
from tests.topics.raising_bench import FACTS, ask, bare_world, continental_site

CROPS = [f"{c.base}/{c.kind}" if c.kind else c.base for c in FACTS.crops()]
STAGES = ("", "seedling", "just-set-out", "hardened", "established", "bloom", "fruit", "unhardened")
COVERS = ("", "none", "fleece", "heavy-fleece", "cloche", "frame", "tunnel", "mulch", "blanket", "greenhouse")
SKIES = ("", "clear", "part-cloud", "hazy", "cloudy", "rain")
SITE = continental_site()
_RANK = {"no": 0, "tight": 1, "yes": 2}


def check(reply: Answer, units: Units) -> None:
    """What holds for every answer."""
    where = f"{dict(reply.question.cues)} {[c.id for c in reply.question.crops]} {reply.headline}"
    assert reply.verdict in ("yes", "tight", "no", None), where
    assert reply.headline.endswith((".", "?")), where
    assert reply.headline[0].isupper() or reply.headline[0] in "-0123456789", where
    assert len(reply.headline) < 330, where
    assert reply.cautions, where
    for source in reply.sources:
        FACTS.source(source)
    said = [
        reply.headline, *reply.details, *reply.steps, *reply.changes, *reply.assumptions, *reply.working,
        *(cell for row in (reply.table.rows if reply.table else ()) for cell in row),
    ]  # fmt: skip
    for text in said:
        assert not re.search(r"\bNone\b|nan|inf\b|  |\{|\}|,,| ,| \.|-0 [FC]", text), f"{where}: {text!r}"
    if units == "metric":
        for text in (reply.headline, *reply.details):
            assert not re.search(r"\d ?F\b", re.sub(r"[-\d.e]+ F (?=\(-?[\d.]+ C\))", "", text)), (
                f"{where}: {text!r}"
            )
    names = [(n.name, n.crop) for n in reply.numbers]
    assert len(names) == len(set(names)), f"{where}: {names}"
    if reply.table is not None:
        assert all(len(row) == len(reply.table.heads) for row in reply.table.rows), where


@pytest.mark.parametrize("units", ["us", "metric"])
@pytest.mark.parametrize("topic", ["frost", "cold-frame"])
@pytest.mark.parametrize("low_f", [-20, 12, 24, 31, 36, 48])
def test_every_crop(units: Units, topic: str, low_f: float) -> None:
    world = bare_world(units=units, site=SITE if units == "us" else None)
    for crop in CROPS:
        check(ask(topic, crop, f=low_f, role="low", world=world), units)
    check(ask(topic, f=low_f, role="low", world=world), units)
    check(ask(topic, "tomato", "cabbage", "garlic", f=low_f, role="low", world=world), units)


@pytest.mark.parametrize("units", ["us", "metric"])
def test_every_crop_without_a_temperature(units: Units) -> None:
    world = bare_world(units=units)
    for crop in CROPS:
        for cues in ({}, {"freeze": "winter"}, {"frosting": "aftermath"}):
            check(ask("frost", crop, world=world, cues=cues), units)


@settings(max_examples=200, deadline=None)
@given(
    st.sampled_from(CROPS), st.sampled_from(STAGES), st.sampled_from(COVERS), st.sampled_from(SKIES),
    st.floats(-40, 80), st.sampled_from(["us", "metric"]),
)  # fmt: skip
def test_any_night(crop: str, stage: str, cover: str, sky: str, low_f: float, units: Units) -> None:
    cues = {k: v for k, v in {"stage": stage, "cover": cover, "sky": sky}.items() if v}
    check(ask("frost", crop, f=low_f, role="low", cues=cues, world=bare_world(units=units)), units)


@settings(max_examples=400, deadline=None)
@given(
    st.sampled_from(CROPS), st.sampled_from(STAGES), st.sampled_from(COVERS),
    st.sampled_from(SKIES), st.sampled_from(SKIES), st.floats(-40, 70), st.floats(0, 20),
)  # fmt: skip
def test_a_warmer_night_under_a_kinder_sky_is_never_worse(
    crop: str, stage: str, cover: str, sky: str, other: str, low_f: float, warmer: float
) -> None:
    """A sky nothing is said of counts as clear; cloud and rain are kinder."""
    harsh, kind = sorted((sky, other), key=lambda s: s in ("cloudy", "rain"))
    cues = {k: v for k, v in {"stage": stage, "cover": cover}.items() if v}
    cold = ask("frost", crop, f=low_f, role="low", cues={**cues, "sky": harsh} if harsh else cues).verdict
    warm = ask(
        "frost", crop, f=low_f + warmer, role="low", cues={**cues, "sky": kind} if kind else cues
    ).verdict
    assert cold is not None
    assert warm is not None
    assert _RANK[warm] >= _RANK[cold]


@settings(max_examples=300, deadline=None)
@given(
    st.sampled_from(CROPS), st.sampled_from(STAGES), st.sampled_from(SKIES), st.floats(-10, 60),
    st.sampled_from([("none", "cloche"), ("cloche", "blanket"), ("fleece", "medium-fleece"),
                     ("medium-fleece", "heavy-fleece"), ("none", "heavy-fleece")]),
)  # fmt: skip
def test_a_better_cover_is_never_worse(
    crop: str, stage: str, sky: str, low_f: float, pair: tuple[str, str]
) -> None:
    cues = {k: v for k, v in {"stage": stage, "sky": sky}.items() if v}
    less, more = (
        ask("frost", crop, f=low_f, role="low", cues={**cues, "cover": cover}).verdict for cover in pair
    )
    assert less is not None
    assert more is not None
    assert _RANK[more] >= _RANK[less]


@settings(max_examples=300, deadline=None)
@given(st.sampled_from(CROPS), st.sampled_from(STAGES), st.sampled_from(COVERS), st.floats(-10, 60))
def test_no_margin_is_never_a_plain_yes(crop: str, stage: str, cover: str, low_f: float) -> None:
    cues = {k: v for k, v in {"stage": stage, "cover": cover}.items() if v}
    reply = ask("frost", crop, f=low_f, role="low", cues=cues)
    if reply.verdict == "yes":
        assert next(n.value for n in reply.numbers if n.name == "margin_f") >= 0.9


@settings(max_examples=100, deadline=None)
@given(st.sampled_from(CROPS), st.floats(-20, 60))
def test_a_frame_with_a_blanket_is_never_worse_than_without(crop: str, low_f: float) -> None:
    plain = ask("cold-frame", crop, f=low_f, role="low").verdict
    warm = ask("cold-frame", crop, f=low_f, role="low", cues={"cover": "blanket"}).verdict
    assert plain is not None
    assert warm is not None
    assert _RANK[warm] >= _RANK[plain]


@settings(max_examples=200, deadline=None)
@given(
    st.floats(-20, 120), st.floats(-20, 110), st.sampled_from(SKIES), st.sampled_from(["us", "metric"]),
    st.sampled_from(["", "closed", "ajar", "propped", "open"]),
)  # fmt: skip
def test_any_frame_day(inside: float, outside: float, sky: str, units: Units, vent: str) -> None:
    from gardenmate.core.question import Temperature

    temps = (Temperature(outside, "F", "outside"), Temperature(inside, "F", "inside"))
    cues = {k: v for k, v in {"sky": sky, "vent": vent}.items() if v}
    check(ask("cold-frame", temps=temps, cues=cues, world=bare_world(units=units)), units)
