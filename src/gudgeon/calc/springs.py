"""Valve springs of round wire: rate, loads, stress, coil bind and first surge."""

import numpy as np

from gudgeon.calc.domain import Real, require


def spring_rate(wire: Real, mean_diameter: Real, active_coils: Real, shear_modulus: Real) -> Real:
    """Load for each length a round-wire spring is pressed.

    Parameters
    ----------
    wire : float or array
        Wire diameter [m].
    mean_diameter : float or array
        Mean diameter of the coils, outside less wire [m].
    active_coils : float or array
        Coils that move [-].
    shear_modulus : float or array
        Shear modulus of the wire [Pa].

    Returns
    -------
    float or array
        Rate [N/m].

    Notes
    -----
    k = G·d⁴/(8·D³·n).

    Range
    -----
    Spring index D/d from 3 to 20, constant pitch; a progressive spring has no one rate.

    References
    ----------
    .. [1] Wentzell, Machine Design, example 8.2, p. 163 (read there).

    Examples
    --------
    >>> round(spring_rate(0.004, 0.024, 5.0, 79.3e9))
    36713
    """
    _require_index(wire, mean_diameter)
    require("active coils", active_coils, "", 0.0, above=True)
    require("shear modulus", shear_modulus, "Pa", 0.0, above=True)
    return shear_modulus * wire**4 / (8.0 * mean_diameter**3 * active_coils)


def active_coils(wire: Real, mean_diameter: Real, rate: Real, shear_modulus: Real) -> Real:
    """Coils that must move for a spring to have a rate.

    Parameters
    ----------
    wire : float or array
        Wire diameter [m].
    mean_diameter : float or array
        Mean diameter of the coils [m].
    rate : float or array
        Rate wanted or measured [N/m].
    shear_modulus : float or array
        Shear modulus of the wire [Pa].

    Returns
    -------
    float or array
        Active coils [-].

    Notes
    -----
    n = G·d⁴/(8·D³·k).

    Range
    -----
    Spring index D/d from 3 to 20.

    References
    ----------
    .. [1] Wentzell, Machine Design, example 8.2, p. 163 (read there).

    Examples
    --------
    >>> round(active_coils(0.004, 0.024, 36713.0, 79.3e9), 3)
    5.0
    """
    require("rate", rate, "N/m", 0.0, above=True)
    return spring_rate(wire, mean_diameter, 1.0, shear_modulus) / rate


def wahl_factor(wire: Real, mean_diameter: Real) -> Real:
    """Wahl's factor for curvature and direct shear.

    Parameters
    ----------
    wire : float or array
        Wire diameter [m].
    mean_diameter : float or array
        Mean diameter of the coils [m].

    Returns
    -------
    float or array
        Factor on the stress [-].

    Notes
    -----
    K = (4C - 1)/(4C - 4) + 0.615/C, C = D/d.

    Range
    -----
    C from 3 to 20.

    References
    ----------
    .. [1] A. M. Wahl, Mechanical Springs, 2nd edition, 1963; from memory.

    Examples
    --------
    >>> round(wahl_factor(0.004, 0.024), 4)
    1.2525
    """
    index = _require_index(wire, mean_diameter)
    return (4.0 * index - 1.0) / (4.0 * index - 4.0) + 0.615 / index


def bergstraesser_factor(wire: Real, mean_diameter: Real) -> Real:
    """Bergsträsser's factor for curvature and direct shear.

    Parameters
    ----------
    wire : float or array
        Wire diameter [m].
    mean_diameter : float or array
        Mean diameter of the coils [m].

    Returns
    -------
    float or array
        Factor on the stress [-].

    Notes
    -----
    K = (4C + 2)/(4C - 3), C = D/d.

    Range
    -----
    C from 3 to 20, where it stays within 1 % of Wahl's.

    References
    ----------
    .. [1] Shigley, Mechanical Engineering Design, chapter on springs; from memory.

    Examples
    --------
    >>> round(bergstraesser_factor(0.004, 0.024), 4)
    1.2381
    """
    index = _require_index(wire, mean_diameter)
    return (4.0 * index + 2.0) / (4.0 * index - 3.0)


def spring_stress(load: Real, wire: Real, mean_diameter: Real, factor: Real) -> Real:
    """Largest shear stress in the wire under a load.

    Parameters
    ----------
    load : float or array
        Load on the spring [N].
    wire : float or array
        Wire diameter [m].
    mean_diameter : float or array
        Mean diameter of the coils [m].
    factor : float or array
        Wahl's or Bergsträsser's factor; 1 gives the plain torsion [-].

    Returns
    -------
    float or array
        Shear stress [Pa].

    Notes
    -----
    tau = K·8·F·D/(pi·d³).

    Range
    -----
    C from 3 to 20, factor from 1 to 2.

    References
    ----------
    .. [1] Shigley, Mechanical Engineering Design, chapter on springs; from memory.

    Examples
    --------
    >>> round(spring_stress(500.0, 0.004, 0.024, 1.2525) / 1e6, 1)
    598.0
    """
    require("load", load, "N", 0.0)
    require("factor", factor, "", 1.0, 2.0)
    _require_index(wire, mean_diameter)
    return factor * 8.0 * load * mean_diameter / (np.pi * wire**3)


def solid_height(wire: Real, total_coils: Real, ends_ground: bool = True) -> Real:
    """Height of a spring with all its coils touching.

    Parameters
    ----------
    wire : float or array
        Wire diameter [m].
    total_coils : float or array
        All coils, the dead ones at the ends with them [-].
    ends_ground : bool, optional
        Whether the closed ends are ground flat.

    Returns
    -------
    float or array
        Solid height [m].

    Notes
    -----
    L = d·n_total with ground ends, d·(n_total + 1) without.

    Range
    -----
    d above 0, at least 2 coils.

    References
    ----------
    .. [1] Shigley, Mechanical Engineering Design, table of spring ends; from memory.

    Examples
    --------
    >>> round(solid_height(0.004, 7.0), 9)
    0.028
    """
    require("wire diameter", wire, "m", 0.0, above=True)
    require("total coils", total_coils, "", 2.0)
    return wire * (total_coils if ends_ground else total_coils + 1.0)


def spring_load(rate: Real, free_length: Real, height: Real) -> Real:
    """Load of a spring held at a height: the seat load, or with the lift taken off the open load.

    Parameters
    ----------
    rate : float or array
        Rate [N/m].
    free_length : float or array
        Free length [m].
    height : float or array
        Height it is held at: installed, or installed less lift [m].

    Returns
    -------
    float or array
        Load [N].

    Notes
    -----
    F = k·(L0 - H).

    Range
    -----
    Height above 0 and at most the free length.

    References
    ----------
    .. [1] Hooke's law.

    Examples
    --------
    >>> round(spring_load(36713.0, 0.042, 0.036), 2)
    220.28
    """
    require("rate", rate, "N/m", 0.0, above=True)
    require("free length", free_length, "m", 0.0, above=True)
    require("height", height, "m", 0.0, above=True)
    require("free length less height", np.subtract(free_length, height), "m", 0.0)
    return rate * (free_length - height)


def coil_bind_margin(installed_height: Real, lift: Real, solid: Real) -> Real:
    """What is left between the coils at full lift.

    Parameters
    ----------
    installed_height : float or array
        Height with the valve shut [m].
    lift : float or array
        Valve lift [m].
    solid : float or array
        Solid height [m].

    Returns
    -------
    float or array
        Margin, negative when the coils bind before full lift [m].

    Notes
    -----
    m = H - lift - solid height.

    Range
    -----
    All at or above 0.

    References
    ----------
    .. [1] Definition, common practice of the trade, no source.

    Examples
    --------
    >>> round(coil_bind_margin(0.036, 0.0085, 0.0255) * 1000, 6)
    2.0
    """
    require("installed height", installed_height, "m", 0.0, above=True)
    require("lift", lift, "m", 0.0)
    require("solid height", solid, "m", 0.0)
    return installed_height - lift - solid


def surge_frequency(
    wire: Real, mean_diameter: Real, active_coils: Real, shear_modulus: Real, density: Real
) -> Real:
    """First frequency at which the coils swing between fixed ends.

    Parameters
    ----------
    wire : float or array
        Wire diameter [m].
    mean_diameter : float or array
        Mean diameter of the coils [m].
    active_coils : float or array
        Coils that move [-].
    shear_modulus : float or array
        Shear modulus of the wire [Pa].
    density : float or array
        Density of the wire [kg/m³].

    Returns
    -------
    float or array
        Frequency [Hz].

    Notes
    -----
    f = d/(2·pi·D²·n)·sqrt(G/(2·rho)), half of sqrt(k/m) with m the mass of the moving coils.

    Range
    -----
    C from 3 to 20, both ends held.

    References
    ----------
    .. [1] Shigley, Mechanical Engineering Design, critical frequency of springs; from memory.

    Examples
    --------
    >>> round(surge_frequency(0.004, 0.024, 5.0, 79.3e9, 7850.0))
    497
    """
    _require_index(wire, mean_diameter)
    require("active coils", active_coils, "", 0.0, above=True)
    require("shear modulus", shear_modulus, "Pa", 0.0, above=True)
    require("density", density, "kg/m³", 0.0, above=True)
    slender = wire / (2.0 * np.pi * mean_diameter**2 * active_coils)
    frequency: Real = slender * np.sqrt(shear_modulus / (2.0 * density))
    return frequency


def _require_index(wire: Real, mean_diameter: Real) -> Real:
    require("wire diameter", wire, "m", 0.0, above=True)
    require("mean diameter", mean_diameter, "m", 0.0, above=True)
    index = mean_diameter / wire
    require("spring index (mean diameter over wire)", index, "", 3.0, 20.0)
    return index
