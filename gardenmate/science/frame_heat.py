"""The heat balance of a cold frame: W, m, m2, m3, degrees C (differences in K).

By day the sun that passes the lid leaves again through lid, walls and air exchange; by night the soil's
warmth does. Steady state, well mixed air: good for comparing lids and for why, not for promising degrees.
"""

from __future__ import annotations

from collections.abc import Iterable

from gardenmate.records import dataclass

AIR_WH_PER_M3_K = 0.33  # heat held by a cubic metre of air: 1.2 kg/m3 x 1005 J/kg K / 3600


@dataclass(frozen=True, slots=True)
class FrameBox:
    """A frame as the balance sees it.

    Outside plan ``width_m`` x ``length_m``, mean wall height ``height_m``; ``u_lid`` and ``u_wall`` in
    W/m2.K; ``transmittance`` 0-1 is the share of light the lid lets through.
    """

    width_m: float
    length_m: float
    height_m: float
    u_lid: float
    u_wall: float
    transmittance: float

    @property
    def lid_m2(self) -> float:
        """Area of the lid, which is also the soil beneath it, m2."""
        return self.width_m * self.length_m

    @property
    def wall_m2(self) -> float:
        """Area of the four walls, m2."""
        return 2.0 * (self.width_m + self.length_m) * self.height_m

    @property
    def volume_m3(self) -> float:
        """Air inside, m3."""
        return self.lid_m2 * self.height_m

    def loss_w_k(self, air_changes_h: float, u_lid: float | None = None) -> float:
        """Heat lost per degree: lid, walls and ``air_changes_h`` air changes an hour, W/K."""
        lid = self.u_lid if u_lid is None else u_lid
        solid = conduction_w_k(((lid, self.lid_m2), (self.u_wall, self.wall_m2)))
        return solid + air_exchange_w_k(air_changes_h, self.volume_m3)


def conduction_w_k(parts: Iterable[tuple[float, float]]) -> float:
    """Sum of U x A over (U in W/m2.K, area in m2), W/K."""
    return sum(u * area for u, area in parts)


def air_exchange_w_k(air_changes_h: float, volume_m3: float) -> float:
    """Heat carried off by air exchange per degree: 0.33 x changes per hour x volume, W/K."""
    return AIR_WH_PER_M3_K * air_changes_h * volume_m3


def heat_loss_w(loss_w_k: float, inside_c: float, outside_c: float) -> float:
    """Heat needed to hold ``inside_c``, W (negative when it is warmer outside)."""
    return loss_w_k * (inside_c - outside_c)


def sun_rise_k(
    sun_w_m2: float, transmittance: float, heat_share: float, lid_m2: float, loss_w_k: float
) -> float:
    """Rise over outside in the sun: share x transmittance x sun x lid / loss, K.

    ``heat_share`` is the part of the sun's heat that warms air rather than evaporating water: 0.5-0.7 dry,
    0.3-0.5 leafy and wet.
    """
    return heat_share * transmittance * sun_w_m2 * lid_m2 / loss_w_k


def night_rise_k(ground_w_m2: float, soil_m2: float, loss_w_k: float) -> float:
    """Rise over outside at night from the warmth of the soil, K."""
    return ground_w_m2 * soil_m2 / loss_w_k


def covered_u(u_lid: float, blanket_r_m2k_w: float) -> float:
    """U of a lid with a blanket of this thermal resistance (m2.K/W) on it, W/m2.K."""
    return 1.0 / (1.0 / u_lid + blanket_r_m2k_w)
