"""The coefficients shipped are those the fit gives today, and their error is as stated."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from statistics import fmean
from types import ModuleType

import pytest

from gardenmate.climate.freezes import freeze_fit
from gardenmate.knowledge.facts import Facts

FACTS = Facts()


@pytest.fixture(scope="module")
def bench() -> ModuleType:
    path = Path(__file__).parents[1] / "bench" / "freeze_fit.py"
    spec = importlib.util.spec_from_file_location("freeze_fit_bench", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module  # dataclasses look their module up there
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize(("spring", "mean_days", "nine_in_ten_days"), [(True, 4.2, 9.0), (False, 4.0, 8.0)])
def test_fit(bench: ModuleType, spring: bool, mean_days: float, nine_in_ten_days: float) -> None:
    everything = bench.cases(FACTS, spring)
    assert len(everything) >= 240
    coefficients = bench.fit_level(case for case in everything if case.cold)
    fit = freeze_fit(FACTS.table("climate"))
    side = fit.spring if spring else fit.autumn
    assert [side.at_40_c, *side.per_term_c] == pytest.approx(coefficients, abs=0.02)
    sizes = sorted(abs(miss) for case, miss in bench.cross_validated(everything, spring) if case.cold)
    assert fmean(sizes) <= mean_days
    assert sizes[len(sizes) * 9 // 10] <= nine_in_ten_days
    (level, slope), size = bench.spread(everything)
    assert side.sd_at_1 == pytest.approx(level, abs=0.1)
    assert side.sd_per_log == pytest.approx(slope, abs=0.1)
    assert size < 2.0


def test_other_thresholds(bench: ModuleType, capsys: pytest.CaptureFixture[str]) -> None:
    """28 F and 36 F dates found from 32 F, against the places that publish them: within six days."""
    bench.other_thresholds(FACTS)
    lines = capsys.readouterr().out.splitlines()
    assert len(lines) == 4
    for line in lines:
        assert float(line.split("mean size")[1].split()[0]) < 6.0, line
