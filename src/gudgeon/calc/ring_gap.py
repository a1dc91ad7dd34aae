"""Ring end gap: what the bore does to it, and what heat does to it."""

import numpy as np

from gudgeon.calc.domain import Real, require


def target_gap(factor: Real, bore: Real) -> Real:
    """Gap a leaflet or manual asks for as a share of the bore.

    Parameters
    ----------
    factor : float or array
        Gap for each length of bore [-].
    bore : float or array
        Bore [m].

    Returns
    -------
    float or array
        Gap wanted [m].

    Notes
    -----
    g = f·B.

    Range
    -----
    factor from 0 to 0.02, bore above zero. The leaflet with the rings and the manual decide.

    References
    ----------
    .. [1] Common practice of the trade, no source.

    Examples
    --------
    >>> round(target_gap(0.0045, 0.0913) * 1000, 5)
    0.41085
    """
    require("gap factor", factor, "", 0.0, 0.02)
    require("bore", bore, "m", 0.0, above=True)
    return factor * bore


def gap_change(bore_change: Real) -> Real:
    """Change of a ring's gap between two places of a bore.

    Parameters
    ----------
    bore_change : float or array
        Bore where it is read now, less bore where it was read first [m].

    Returns
    -------
    float or array
        Change of the gap [m].

    Notes
    -----
    dg = pi·dD.

    Range
    -----
    the same ring in both places, at one temperature.

    References
    ----------
    .. [1] Exact geometry: circumference of the closed ring.

    Examples
    --------
    >>> round(gap_change(0.00005) * 1000, 5)
    0.15708
    """
    require("bore change", bore_change, "m")
    return np.pi * bore_change


def bore_change_from_gaps(gap_worn: Real, gap_unworn: Real) -> Real:
    """How much wider a bore is at one place than at another, from one ring's gaps there.

    Parameters
    ----------
    gap_worn : float or array
        Gap where the top ring turns [m].
    gap_unworn : float or array
        Gap of the same ring below the rings' travel [m].

    Returns
    -------
    float or array
        Difference of the bore's diameter [m].

    Notes
    -----
    dD = (g_worn - g_unworn)/pi.

    Range
    -----
    gaps at or above zero.

    References
    ----------
    .. [1] Exact geometry: circumference of the closed ring.

    Examples
    --------
    >>> round(bore_change_from_gaps(0.00045, 0.00042) * 1000, 4)
    0.0095
    """
    require("gap where the ring turns", gap_worn, "m", 0.0)
    require("gap below the travel", gap_unworn, "m", 0.0)
    return (gap_worn - gap_unworn) / np.pi


def hot_gap(
    cold_gap: Real,
    bore: Real,
    *,
    ring_expansion: Real,
    ring_rise: Real,
    barrel_expansion: Real,
    barrel_rise: Real,
) -> Real:
    """Gap of a ring when ring and barrel are hot.

    Parameters
    ----------
    cold_gap : float or array
        Gap read cold [m].
    bore : float or array
        Bore, cold [m].
    ring_expansion : float or array
        Expansion of the ring's material [1/K].
    ring_rise : float or array
        Ring above the temperature the gap was read at [K].
    barrel_expansion : float or array
        Expansion of what sets the bore: the plated barrel, or the iron liner [1/K].
    barrel_rise : float or array
        Barrel above the temperature the gap was read at [K].

    Returns
    -------
    float or array
        Hot gap, negative when the ends would butt [m].

    Notes
    -----
    g_hot = g_cold - pi·B·(a_ring·dT_ring - a_barrel·dT_barrel).

    First order in expansion.

    Range
    -----
    rises from -100 K to 600 K.

    References
    ----------
    .. [1] Derivation: linear expansion of two circumferences; common practice gives the same figures.

    Examples
    --------
    >>> ring = {"ring_expansion": 11.4e-6, "ring_rise": 150.0}
    >>> barrel = {"barrel_expansion": 21.0e-6, "barrel_rise": 100.0}
    >>> round(hot_gap(0.0004, 0.0913, **ring, **barrel) * 1000, 4)
    0.5119
    """
    require("cold gap", cold_gap, "m", 0.0)
    require("bore", bore, "m", 0.0, above=True)
    for name, expansion in (("ring expansion", ring_expansion), ("barrel expansion", barrel_expansion)):
        require(name, expansion, "1/K", 0.0, 1e-4)
    for name, rise in (("ring's rise", ring_rise), ("barrel's rise", barrel_rise)):
        require(name, rise, "K", -100.0, 600.0)
    return cold_gap - np.pi * bore * (ring_expansion * ring_rise - barrel_expansion * barrel_rise)
