"""For the whole suite: property tests are not timed (timing belongs to tests/bench, not to a busy machine)."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")
