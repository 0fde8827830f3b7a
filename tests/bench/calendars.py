"""Score the engine's windows against the published calendars, per publication and activity.

Usage: python tests/bench/calendars.py [--rows] [--leave-one-out]

``--rows`` lists every row the engine does not accept. ``--leave-one-out`` refits the start temperatures and
risks of knowledge/season.toml on all places but one and scores the one left out, place by place: the honest
figure for a place never seen (some minutes). A naive weeks-from-last-frost rule is scored beside the engine.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterable
from copy import deepcopy
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from gardenmate.knowledge.facts import Facts
from gardenmate.topics.season.site_year import site_year
from tests.published.calendar_scores import (
    GENERIC,
    GRACE_DAYS,
    MORE_WHOLE_SEASON,
    Row,
    Score,
    Summary,
    between,
    overreach,
    read_rows,
    score_row,
    summary,
)

STEPS = {
    "best_mean_c": (-1.5, -0.75, 0.75, 1.5),
    "earliest_mean_c": (-1.5, -0.75, 0.75, 1.5),
    "best_risk": (-0.15, 0.15),
    "earliest_risk": (-0.2, 0.2),
}


def main() -> None:
    """Print the scores."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--rows", action="store_true")
    parser.add_argument("--leave-one-out", action="store_true")
    options = parser.parse_args()
    facts = Facts()
    rows = read_rows(facts)
    scores = [score_row(row, facts) for row in rows]
    print(f"{'':44} rows  accepted  overlap  outside  start  last-sow")
    _line("all", summary(scores))
    for place in dict.fromkeys(r.place for r in rows):
        _line(place, summary(s for s in scores if s.row.place == place))
    for activity in dict.fromkeys(r.activity for r in rows):
        _line(activity, summary(s for s in scores if s.row.activity == activity))
    print(f"starts late by a median of {summary(scores).start_bias_days:.0f} days, sign kept")
    print(f"overreach, three whole-season calendars: {100 * overreach(rows, facts):.1f}%")
    print(f"with Oregon's charts and Napa's: {100 * overreach(rows, facts, MORE_WHOLE_SEASON):.1f}%")
    print(f"weeks-from-last-frost rule alone: {_naive(rows, facts)}")
    if options.rows:
        _list_rows(s for s in scores if not s.accepted)
    if options.leave_one_out:
        leave_one_out(rows)


def _line(label: str, s: Summary) -> None:
    last = "-" if s.last_error_days is None else f"{s.last_error_days:.0f}"
    print(
        f"{label[:44]:44} {s.rows:4}  {100 * s.accepted:7.1f}% {100 * s.overlap:6.1f}%  {s.outside_days:7.1f}"
        f"  {s.start_error_days:5.1f}  {last:>8}"
    )


def _list_rows(scores: Iterable[Score]) -> None:
    for s in scores:
        w = s.window
        ours = (
            "no window"
            if w is None
            else f"{w.earliest:%m-%d} {w.best_from:%m-%d} {w.best_to:%m-%d} {w.latest:%m-%d}"
        )
        print(f"{s.row.place[:20]:20} {s.row.crop:18} {s.row.activity:13} off {s.late:4} ours {ours}")


def _naive(rows: list[Row], facts: Facts) -> str:
    """The published weeks of knowledge/crops from the last frost, and nothing else."""
    accepted, off, n = 0, [], 0
    for row in rows:
        crop_id = GENERIC.get(row.crop, row.crop)
        crop_id = {"lettuce": "lettuce-leaf", "onion": "onion-seed"}.get(crop_id, crop_id)
        if row.activity not in ("sow-indoors", "sow-outdoors", "set-out") or crop_id not in facts.crop_ids:
            continue
        timing = facts.crop(crop_id).timing
        weeks = (
            timing.direct_sow_weeks_from_last_frost
            if row.activity == "sow-outdoors"
            else timing.set_out_weeks_from_last_frost
        )
        last = site_year(row.site).last_spring(0.0)
        n += 1
        if weeks is None or last is None:
            continue
        low, high = weeks
        if row.activity == "sow-indoors":
            age = timing.weeks_indoors or (4.0, 6.0)
            low, high = low - age[1], high - age[0]
        zero = last.day(site_year(row.site).origin(_mid_year())).timetuple().tm_yday - 1
        at = between(round(zero + 7 * low) % 365, row.middle)
        accepted += -GRACE_DAYS <= at <= 7 * (high - low) + GRACE_DAYS
        off.append(abs(between(row.start, round(zero + 7 * low) % 365)))
    off.sort()
    return (
        f"{100 * accepted / n:.0f}% accepted, start off by a median of {off[len(off) // 2]} days ({n} rows)"
    )


def _mid_year() -> Any:
    from datetime import date

    return date(2027, 6, 1)


# -- leaving one place out -----------------------------------------------------------------------------------


class Refit(Facts):
    """The facts with other start groups."""

    def __init__(self, groups: dict[str, dict[str, Any]]) -> None:
        super().__init__()
        self.groups = groups

    def table(self, name: str) -> dict[str, Any]:
        """The season table with the groups on trial; every other table as it is."""
        found = super().table(name)
        return {**found, "start": self.groups} if name == "season" else found


def loss(rows: list[Row], groups: dict[str, dict[str, Any]], base: Facts) -> float:
    """What a set of groups costs: the start error, days outside, and a fine for what is not accepted."""
    facts = Refit(groups)
    facts._crops = base._crops
    total = 0.0
    windows = [r for r in rows if r.activity != "last-sow"]
    for row in windows:
        s = score_row(row, facts)
        total += min(40, s.off) + min(40, s.outside) + (0 if s.accepted else 30) + (0 if s.overlaps else 15)
    return total / max(1, len(windows))


def refit(rows: list[Row], base: Facts) -> dict[str, dict[str, Any]]:
    """Start groups fitted to these rows: one round of steps in every term from round starting values."""
    groups = deepcopy(base.table("season")["start"])
    for g in groups.values():  # start from round values, not from the terms fitted on all places
        g["earliest_mean_c"], g["best_mean_c"] = (
            round(g["earliest_mean_c"] / 2) * 2.0,
            round(g["best_mean_c"] / 2) * 2.0,
        )
        g["earliest_risk"], g["best_risk"] = 0.6, 0.3
    best = loss(rows, groups, base)
    for name in groups:
        for term, steps in STEPS.items():
            kept = groups[name][term]
            for step in steps:
                groups[name][term] = kept + step
                ordered = groups[name]["earliest_mean_c"] <= groups[name]["best_mean_c"]
                sensible = 0.02 < groups[name]["best_risk"] <= groups[name]["earliest_risk"] < 0.98
                cost = loss(rows, groups, base) if ordered and sensible else best
                if cost < best:
                    best, kept = cost, groups[name][term]
            groups[name][term] = kept
    return groups


def leave_one_out(rows: list[Row]) -> None:
    """Refit without each place in turn and score it."""
    base = Facts()
    list(base.crops())
    scores: list[Score] = []
    for place in dict.fromkeys(r.place for r in rows):
        facts = Refit(refit([r for r in rows if r.place != place], base))
        facts._crops = base._crops
        mine = [score_row(r, facts) for r in rows if r.place == place]
        scores += mine
        _line(f"left out: {place}", summary(mine))
        sys.stdout.flush()
    _line("left out, all", summary(scores))


if __name__ == "__main__":
    main()
