"""What another gasket thickness does to squish, ratio, cam timing and valve gap, and how thin it may be."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from gudgeon.calc.cam_chain import delay_from_deck
from gudgeon.calc.chamber import compression_ratio
from gudgeon.calc.domain import Real, require

Binding = Literal["squish", "ratio", "valve gap"]


@dataclass(frozen=True, slots=True)
class GasketEffect:
    """After the change: squish [m], ratio [-], delay of the cams [rad], change of the valve gap [m]."""

    squish: Real
    clearance_volume: Real
    ratio: Real
    cam_delay: Real
    valve_gap_change: Real


@dataclass(frozen=True, slots=True)
class ThinnestGasket:
    """Largest allowed thinning as a change of thickness [m], and which limit stops it."""

    change: float
    binding: Binding
    by_squish: float
    by_ratio: float
    by_valve_gap: float


def gasket_effect(
    thickness_change: Real,
    squish: Real,
    clearance: Real,
    *,
    swept: Real,
    open_area: Real,
    pitch_radius: Real,
    valve_angle: Real = 0.0,
) -> GasketEffect:
    """What a thicker or thinner gasket under the head or the barrel changes.

    Parameters
    ----------
    thickness_change : float or array
        New crushed thickness less old, negative for thinner [m].
    squish : float or array
        Squish now [m].
    clearance : float or array
        Volume over the piston at TDC now [m³].
    swept : float or array
        Swept volume of one cylinder [m³].
    open_area : float or array
        Area of the gasket's bore for a head gasket, of the engine's bore for a base gasket [m²].
    pitch_radius : float or array
        Pitch radius of the cam's sprocket [m].
    valve_angle : float or array, optional
        Valve's axis to the cylinder's axis [rad].

    Returns
    -------
    GasketEffect
        Squish [m], clearance volume [m³], ratio [-], cam delay [rad] and change of the valve gap [m].

    Notes
    -----
    squish + dt; V_c + A·dt; (V_s + V_c)/V_c; delay = -2·dt/r; valve gap + dt·cos f at the old cam timing.

    Range
    -----
    Change within 5 mm; squish and clearance volume still above 0.

    References
    ----------
    .. [1] Derivation: lengths, areas and the chain's pulling run; common practice gives the same figures.

    Examples
    --------
    >>> effect = gasket_effect(
    ...     -0.0001, 0.0010, 33.99e-6, swept=390.8e-6, open_area=6.547e-3, pitch_radius=0.025
    ... )
    >>> round(effect.ratio, 2), round(effect.squish * 1000, 6)
    (12.72, 0.9)
    """
    require("change of thickness", thickness_change, "m", -0.005, 0.005)
    require("gasket's open area", open_area, "m²", 0.0, above=True)
    require("valve angle", valve_angle, "rad", -np.pi / 3, np.pi / 3)
    gap = squish + thickness_change
    require("squish after the change", gap, "m", 0.0, above=True)
    volume = clearance + open_area * thickness_change
    return GasketEffect(
        gap,
        volume,
        compression_ratio(swept, volume),
        delay_from_deck(-thickness_change, pitch_radius),
        thickness_change * np.cos(valve_angle),
    )


def thinnest_gasket(
    squish: float,
    clearance: float,
    valve_gap: float,
    *,
    least_squish: float,
    largest_ratio: float,
    least_valve_gap: float,
    swept: float,
    open_area: float,
    valve_angle: float = 0.0,
) -> ThinnestGasket:
    """How much thinner a gasket may be before squish, ratio or valve gap stops it.

    Parameters
    ----------
    squish : float
        Squish now [m].
    clearance : float
        Volume over the piston at TDC now [m³].
    valve_gap : float
        Least gap between valve and piston now, along the valve's axis [m].
    least_squish : float
        Squish not to go below [m].
    largest_ratio : float
        Ratio not to go above [-].
    least_valve_gap : float
        Valve gap not to go below [m].
    swept : float
        Swept volume of one cylinder [m³].
    open_area : float
        Area of the gasket's bore for a head gasket, of the engine's bore for a base gasket [m²].
    valve_angle : float, optional
        Valve's axis to the cylinder's axis [rad].

    Returns
    -------
    ThinnestGasket
        Change of thickness [m], negative for thinner, positive when it must be thicker; what stops it; and
        the change each limit alone would allow [m].

    Notes
    -----
    Largest of s_min - s, (V_s/(ratio_max - 1) - V_c)/A, (g_min - g)/cos f. The shift of the cams is left out
    of the valve gap: look at it again with `closest_approach`.

    Range
    -----
    Ratio above 1, valve angle below 60 degrees.

    References
    ----------
    .. [1] Inverse of `gasket_effect`; checked by the round trip.

    Examples
    --------
    >>> found = thinnest_gasket(
    ...     0.0011, 34e-6, 0.0014, least_squish=0.0009, largest_ratio=13.0, least_valve_gap=0.0010,
    ...     swept=390.8e-6, open_area=6.547e-3,
    ... )
    >>> found.binding, round(found.change * 1000, 6)
    ('squish', -0.2)
    """
    for name, size in (
        ("squish", squish),
        ("least squish", least_squish),
        ("least valve gap", least_valve_gap),
    ):
        require(name, size, "m", 0.0)
    require("valve gap", valve_gap, "m")
    require("clearance volume", clearance, "m³", 0.0, above=True)
    require("swept volume", swept, "m³", 0.0, above=True)
    require("largest ratio", largest_ratio, "", 1.0, above=True)
    require("gasket's open area", open_area, "m²", 0.0, above=True)
    require("valve angle", valve_angle, "rad", -np.pi / 3, np.pi / 3, above=True, below=True)
    changes: dict[Binding, float] = {
        "squish": least_squish - squish,
        "ratio": (swept / (largest_ratio - 1.0) - clearance) / open_area,
        "valve gap": float((least_valve_gap - valve_gap) / np.cos(valve_angle)),
    }
    binding = max(changes, key=lambda name: changes[name])
    return ThinnestGasket(changes[binding], binding, *changes.values())
