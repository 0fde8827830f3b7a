"""Recompute the clear-sky reference values committed in tests/published (needs the `bench` extra).

Run with the package installed: python tests/bench/clear_sky.py
"""

from __future__ import annotations

import pandas as pd
import pvlib

from gardenmate.science.sun import clear_sky_w_m2

MOMENTS = ("2027-01-21 18:23", "2027-04-18 18:11", "2027-06-21 18:14")  # solar noon at 93 W, UTC
HEIGHTS_DEG = (5.0, 10.0, 30.0, 50.0, 90.0)


def main() -> None:
    """Print our clear sky beside pvlib's two models."""
    print(f"pvlib {pvlib.__version__}")
    zenith_only = pvlib.clearsky.haurwitz(pd.Series([90.0 - h for h in HEIGHTS_DEG]))["ghi"]
    for height, theirs in zip(HEIGHTS_DEG, zenith_only, strict=True):
        ours = clear_sky_w_m2(height)
        print(f"sun at {height:4.0f} degrees: ours {ours:7.2f}, zenith-only {theirs:7.2f} W/m2")
    place = pvlib.location.Location(45.0, -93.0, "UTC", 250)
    moments = pd.DatetimeIndex(MOMENTS, tz="UTC")
    height_deg = place.get_solarposition(moments)["elevation"]
    fuller = place.get_clearsky(moments, model="ineichen", linke_turbidity=3.0)["ghi"]
    for moment, height, theirs in zip(MOMENTS, height_deg, fuller, strict=True):
        ours = clear_sky_w_m2(height)
        print(f"{moment} UTC, sun at {height:6.3f}: ours {ours:6.1f}, Ineichen {theirs:6.1f} W/m2")


if __name__ == "__main__":
    main()
