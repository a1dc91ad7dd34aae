"""Tightening: torque, preload, friction, angle. A maker's figure always wins; these explain and check."""

from dataclasses import dataclass

import numpy as np

from gudgeon.calc.bolts import thread_geometry
from gudgeon.calc.domain import Real, require

FLANK = np.cos(np.radians(30.0))


@dataclass(frozen=True, slots=True)
class PreloadRange:
    """Least and largest preload [N] a torque can give, and their ratio."""

    least: Real
    largest: Real
    ratio: Real


def torque_per_preload(
    diameter: Real, pitch: Real, bearing_diameter: Real, thread_friction: Real, bearing_friction: Real
) -> Real:
    """Torque for each unit of preload in a bolt.

    Parameters
    ----------
    diameter : float or array
        Nominal diameter [m].
    pitch : float or array
        Pitch [m].
    bearing_diameter : float or array
        Mean diameter on which head or nut rubs, (outside + hole)/2 [m].
    thread_friction : float or array
        Coefficient of friction in the thread [-].
    bearing_friction : float or array
        Coefficient of friction under the head [-].

    Returns
    -------
    float or array
        Torque over preload [m].

    Notes
    -----
    T/F = P/(2·pi) + (d2/2)·mu_thread/cos 30° + (D_b/2)·mu_bearing.

    Range
    -----
    Friction from 0 to 0.5; while tightening, below yield.

    References
    ----------
    .. [1] ISO 16047:2005, the linear form, from memory; VDI 2230:2001 has the same with 0.16·P and 0.58·d2,
       read in a secondary source.

    Examples
    --------
    >>> round(float(torque_per_preload(0.008, 0.00125, 0.011, 0.12, 0.12)) * 1000, 4)
    1.3569
    """
    require("bearing diameter", bearing_diameter, "m", 0.0, above=True)
    for name, friction in (("thread friction", thread_friction), ("bearing friction", bearing_friction)):
        require(name, friction, "", 0.0, 0.5)
    mean = thread_geometry(diameter, pitch).pitch_diameter
    rubbing = mean / 2.0 * thread_friction / FLANK + bearing_diameter / 2.0 * bearing_friction
    lever: Real = pitch / (2.0 * np.pi) + rubbing
    return lever


def tightening_torque(preload: Real, lever: Real) -> Real:
    """Torque that gives a preload.

    Parameters
    ----------
    preload : float or array
        Preload wanted [N].
    lever : float or array
        Torque over preload, from `torque_per_preload` [m].

    Returns
    -------
    float or array
        Torque [N·m].

    Notes
    -----
    T = F·(T/F).

    Range
    -----
    Preload at or above 0, lever above 0.

    References
    ----------
    .. [1] ISO 16047:2005, the linear form, from memory.

    Examples
    --------
    >>> round(tightening_torque(18600.0, 0.0013569), 2)
    25.24
    """
    require("preload", preload, "N", 0.0)
    require("torque over preload", lever, "m", 0.0, above=True)
    return preload * lever


def preload_from_torque(torque: Real, lever: Real) -> Real:
    """Preload that a torque gives.

    Parameters
    ----------
    torque : float or array
        Torque at the fastener [N·m].
    lever : float or array
        Torque over preload, from `torque_per_preload` [m].

    Returns
    -------
    float or array
        Preload [N].

    Notes
    -----
    F = T/(T/F).

    Range
    -----
    Torque at or above 0, lever above 0; below yield.

    References
    ----------
    .. [1] ISO 16047:2005, the linear form, from memory.

    Examples
    --------
    >>> round(preload_from_torque(25.24, 0.0013569))
    18601
    """
    require("torque", torque, "N·m", 0.0)
    require("torque over preload", lever, "m", 0.0, above=True)
    return torque / lever


def preload_range(torque: Real, wrench_scatter: Real, slippery: Real, sticky: Real) -> PreloadRange:
    """Preloads one torque can give when friction and wrench scatter.

    Parameters
    ----------
    torque : float or array
        Torque set [N·m].
    wrench_scatter : float or array
        Half-width of the wrench's error, as a share of the torque [-].
    slippery : float or array
        Torque over preload at the least friction [m].
    sticky : float or array
        Torque over preload at the largest friction [m].

    Returns
    -------
    PreloadRange
        Least and largest preload [N], and their ratio, the tightening factor [-].

    Notes
    -----
    F_least = T·(1 - s)/(T/F)_sticky; F_largest = T·(1 + s)/(T/F)_slippery.

    Range
    -----
    Scatter from 0 to below 1, sticky at least as long as slippery.

    References
    ----------
    .. [1] Derivation: both ends taken together; VDI 2230:2001 names the ratio so (memory).

    Examples
    --------
    >>> found = preload_range(25.0, 0.04, 0.0012, 0.0016)
    >>> round(found.least), round(found.largest)
    (15000, 21667)
    """
    require("torque", torque, "N·m", 0.0, above=True)
    require("wrench scatter", wrench_scatter, "", 0.0, 1.0, below=True)
    require("torque over preload at the least friction", slippery, "m", 0.0, above=True)
    require("sticky over slippery", np.divide(sticky, slippery), "", 1.0)
    least = torque * (1.0 - wrench_scatter) / sticky
    largest = torque * (1.0 + wrench_scatter) / slippery
    return PreloadRange(least, largest, largest / least)


def yield_preload(
    diameter: Real, pitch: Real, yield_stress: Real, thread_friction: Real, share: Real = 0.9
) -> Real:
    """Preload at which stretch and twist together reach a share of the yield stress while tightening.

    Parameters
    ----------
    diameter : float or array
        Nominal diameter [m].
    pitch : float or array
        Pitch [m].
    yield_stress : float or array
        Yield stress of the bolt [Pa].
    thread_friction : float or array
        Coefficient of friction in the thread [-].
    share : float or array, optional
        Share of the yield stress used [-].

    Returns
    -------
    float or array
        Preload [N].

    Notes
    -----
    F = share·R·A_s/sqrt(1 + 3·(1.5·(d2/d_s)·(P/(pi·d2) + mu/cos 30°))²).

    Range
    -----
    Share above 0 to 1, friction from 0 to 0.5, full shank or thread; not for waisted bolts.

    References
    ----------
    .. [1] VDI 2230:2001, formula and table A, read in a secondary source.

    Examples
    --------
    >>> round(float(yield_preload(0.008, 0.001, 640e6, 0.12)) / 1000, 1)
    20.2
    """
    require("yield stress", yield_stress, "Pa", 0.0, above=True)
    require("thread friction", thread_friction, "", 0.0, 0.5)
    require("share of yield", share, "", 0.0, 1.0, above=True)
    thread = thread_geometry(diameter, pitch)
    slope = pitch / (np.pi * thread.pitch_diameter) + thread_friction / FLANK
    twist = 1.5 * thread.pitch_diameter / thread.stress_diameter * slope
    preload: Real = share * yield_stress * thread.stress_area / np.sqrt(1.0 + 3.0 * twist**2)
    return preload


def angle_from_snug(
    preload: Real, snug_preload: Real, pitch: Real, bolt_stiffness: Real, parts_stiffness: Real
) -> Real:
    """Turn of the nut from snug to a preload.

    Parameters
    ----------
    preload : float or array
        Preload wanted [N].
    snug_preload : float or array
        Preload at the snug torque [N].
    pitch : float or array
        Pitch [m].
    bolt_stiffness : float or array
        Load for each length the bolt stretches [N/m].
    parts_stiffness : float or array
        Load for each length the clamped parts shorten [N/m].

    Returns
    -------
    float or array
        Angle [rad].

    Notes
    -----
    angle = 2·pi·(F - F_snug)·(1/k_bolt + 1/k_parts)/P.

    Range
    -----
    Preload at least the snug preload, everything elastic.

    References
    ----------
    .. [1] Derivation: the nut's advance is the bolt's stretch and the parts' shortening.

    Examples
    --------
    >>> round(float(np.degrees(angle_from_snug(20000.0, 5000.0, 0.00125, 150e6, 600e6))), 6)
    36.0
    """
    require("snug preload", snug_preload, "N", 0.0)
    require("preload over snug", np.subtract(preload, snug_preload), "N", 0.0)
    require("pitch", pitch, "m", 0.0, above=True)
    require("bolt stiffness", bolt_stiffness, "N/m", 0.0, above=True)
    require("parts' stiffness", parts_stiffness, "N/m", 0.0, above=True)
    stretch = (preload - snug_preload) * (1.0 / bolt_stiffness + 1.0 / parts_stiffness)
    return 2.0 * np.pi * stretch / pitch


def nut_factor_torque(preload: Real, diameter: Real, nut_factor: Real) -> Real:
    """Torque by the shop's rule of one nut factor.

    Parameters
    ----------
    preload : float or array
        Preload wanted [N].
    diameter : float or array
        Nominal diameter [m].
    nut_factor : float or array
        Nut factor, about 0.20 dry and 0.15 oiled [-].

    Returns
    -------
    float or array
        Torque [N·m].

    Notes
    -----
    T = K·d·F.

    Range
    -----
    Factor from 0.05 to 0.5; a rule with a scatter of a quarter or more.

    References
    ----------
    .. [1] Jindal, Machine Design, example 9-5, p. 268 (read there).

    Examples
    --------
    >>> round(nut_factor_torque(56062.5, 0.014, 0.2), 3)
    156.975
    """
    require("preload", preload, "N", 0.0)
    require("thread diameter", diameter, "m", 0.0, above=True)
    require("nut factor", nut_factor, "", 0.05, 0.5)
    return nut_factor * diameter * preload
