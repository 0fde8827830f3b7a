"""For the whole suite: property tests are not timed (that belongs to tests/bench, on an idle machine)."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")
