"""Light for seedlings and what it costs: daily light integral, lamp hours, lux, watts, energy.

PPFD: photosynthetic photon flux density on the leaves, umol/m2/s. DLI: daily light integral, mol/m2/day.
Pure arithmetic; a negative or zero input where it has no meaning raises ValueError.
"""

from __future__ import annotations

_SECONDS_PER_HOUR = 3600.0  # s
_UMOL_PER_MOL = 1e6  # micromoles
# Photosynthetic light in sunlight: 45 percent of the energy at 4.48 umol/J
# (HortScience 53:1250-1257, 2018), which is 2.016 mol per MJ or 0.00726 mol per Wh.
MOL_PER_MJ = 2.016


def dli(ppfd: float, hours: float) -> float:
    """DLI of a steady PPFD for some hours a day: PPFD x 3600 x hours / 1e6."""
    _not_negative(ppfd=ppfd, hours=hours)
    return ppfd * _SECONDS_PER_HOUR * hours / _UMOL_PER_MOL


def ppfd_for(target_dli: float, hours: float) -> float:
    """The PPFD that gives ``target_dli`` in ``hours`` of light a day."""
    _not_negative(target_dli=target_dli)
    _positive(hours=hours)
    return target_dli * _UMOL_PER_MOL / (_SECONDS_PER_HOUR * hours)


def hours_for(target_dli: float, ppfd: float) -> float:
    """Hours a day at ``ppfd`` that give ``target_dli``; may exceed 24, which no lamp can do."""
    _not_negative(target_dli=target_dli)
    _positive(ppfd=ppfd)
    return target_dli * _UMOL_PER_MOL / (_SECONDS_PER_HOUR * ppfd)


def ppfd_from_illuminance(illuminance: float, per_umol: float) -> float:
    """PPFD from lux or foot-candles, given how many of them one umol/m2/s of this light makes."""
    _not_negative(illuminance=illuminance)
    _positive(per_umol=per_umol)
    return illuminance / per_umol


def dli_from_sun_mj(energy_mj_m2: float) -> float:
    """DLI outdoors from a day's solar energy on the flat, MJ/m2."""
    _not_negative(energy_mj_m2=energy_mj_m2)
    return energy_mj_m2 * MOL_PER_MJ


def lamp_ppfd(watts: float, efficacy_umol_j: float, share_on_plants: float, area_m2: float) -> float:
    """Mean PPFD over ``area_m2`` under a lamp of ``watts`` when this share of its light lands there."""
    _not_negative(watts=watts, efficacy_umol_j=efficacy_umol_j, share_on_plants=share_on_plants)
    _positive(area_m2=area_m2)
    return watts * efficacy_umol_j * share_on_plants / area_m2


def lamp_watts(ppfd: float, efficacy_umol_j: float, share_on_plants: float, area_m2: float) -> float:
    """Watts of lamp for a mean PPFD over ``area_m2``."""
    _not_negative(ppfd=ppfd, area_m2=area_m2)
    _positive(efficacy_umol_j=efficacy_umol_j, share_on_plants=share_on_plants)
    return ppfd * area_m2 / (efficacy_umol_j * share_on_plants)


def energy_kwh(watts: float, hours_per_day: float, days: float, duty: float = 1.0) -> float:
    """Energy used: W x h x days / 1000; ``duty`` is the share of the time a thermostat lets it draw power."""
    _not_negative(watts=watts, hours_per_day=hours_per_day, days=days, duty=duty)
    return watts * hours_per_day * days * duty / 1000.0


def _not_negative(**values: float) -> None:
    for name, value in values.items():
        if value < 0:
            raise ValueError(f"{name} must not be negative, got {value:g}")


def _positive(**values: float) -> None:
    for name, value in values.items():
        if value <= 0:
            raise ValueError(f"{name} must be above zero, got {value:g}")
