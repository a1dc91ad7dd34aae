"""Squish, chamber volume and compression ratio."""

import numpy as np

from gudgeon.calc.domain import Real, require
from gudgeon.calc.slider_crank import piston_depth


def squish(deck: Real, gasket_thickness: Real, base_gasket_change: Real = 0.0) -> Real:
    """Gap between the flat of the piston and the flat of the head at TDC.

    Parameters
    ----------
    deck : float or array
        Piston below the barrel's top face at TDC, negative when it stands above [m].
    gasket_thickness : float or array
        Head gasket as crushed [m].
    base_gasket_change : float or array, optional
        Change of the base gasket's crushed thickness since the deck was measured [m].

    Returns
    -------
    float or array
        Squish, negative when the piston would touch [m].

    Notes
    -----
    s = deck + head gasket + change of the base gasket.

    Cold and still: rod stretch, big-end play and heat take from it.

    Range
    -----
    gasket at or above zero.

    References
    ----------
    .. [1] Definition, adding lengths along the cylinder.

    Examples
    --------
    >>> round(squish(0.0003, 0.0006, -0.0001), 9)
    0.0008
    """
    require("deck", deck, "m")
    require("gasket thickness", gasket_thickness, "m", 0.0)
    require("base gasket change", base_gasket_change, "m")
    return deck + gasket_thickness + base_gasket_change


def swept_volume(bore: Real, piston_stroke: Real) -> Real:
    """Volume the piston sweeps in a stroke.

    Parameters
    ----------
    bore : float or array
        Bore [m].
    piston_stroke : float or array
        Travel of the piston [m].

    Returns
    -------
    float or array
        Swept volume [m³].

    Notes
    -----
    V_s = pi/4·B²·S.

    Range
    -----
    B > 0, S > 0.

    References
    ----------
    .. [1] Definition, volume of a cylinder.

    Examples
    --------
    >>> round(float(swept_volume(0.095, 0.0634)) * 1e6, 5)
    449.39305
    """
    require("bore", bore, "m", 0.0, above=True)
    require("stroke", piston_stroke, "m", 0.0, above=True)
    volume: Real = np.pi / 4.0 * np.square(bore) * piston_stroke
    return volume


def clearance_volume(
    head_volume: Real,
    gasket_bore_area: Real,
    gasket_thickness: Real,
    bore: Real,
    deck: Real,
    *,
    dome_volume: Real = 0.0,
) -> Real:
    """Volume over the piston at TDC.

    Parameters
    ----------
    head_volume : float or array
        Chamber of the head, plug fitted, valves shut [m³].
    gasket_bore_area : float or array
        Open area of the head gasket [m²].
    gasket_thickness : float or array
        Head gasket as crushed [m].
    bore : float or array
        Bore [m].
    deck : float or array
        Piston below the barrel's top face at TDC, negative when it stands above [m].
    dome_volume : float or array, optional
        What the crown fills over its flat, less pockets; negative for a dish [m³].

    Returns
    -------
    float or array
        Clearance volume [m³].

    Notes
    -----
    V_c = V_head + A_gasket·t + pi/4·B²·deck - V_dome.

    The crevice over the top ring is part of a poured volume and is not in this sum.

    Range
    -----
    a sum above zero.

    References
    ----------
    .. [1] Definition, adding volumes; common practice of the trade.

    Examples
    --------
    >>> round(float(clearance_volume(30e-6, 0.0070, 0.0006, 0.0913, 0.0002, dome_volume=2e-6)) * 1e6, 5)
    33.50937
    """
    require("head volume", head_volume, "m³", 0.0, above=True)
    require("gasket bore area", gasket_bore_area, "m²", 0.0)
    require("gasket thickness", gasket_thickness, "m", 0.0)
    require("bore", bore, "m", 0.0, above=True)
    require("deck", deck, "m")
    require("dome volume", dome_volume, "m³")
    over_barrel = np.pi / 4.0 * np.square(bore) * deck
    volume: Real = head_volume + gasket_bore_area * gasket_thickness + over_barrel - dome_volume
    require("clearance volume", volume, "m³", 0.0, above=True)
    return volume


def compression_ratio(swept: Real, clearance: Real) -> Real:
    """Volume at BDC over volume at TDC.

    Parameters
    ----------
    swept : float or array
        Swept volume of one cylinder [m³].
    clearance : float or array
        Volume over the piston at TDC [m³].

    Returns
    -------
    float or array
        Compression ratio [-].

    Notes
    -----
    ratio = (V_s + V_c)/V_c.

    Range
    -----
    both volumes above zero.

    References
    ----------
    .. [1] Gupta, Fundamentals of Internal Combustion Engines, example 2.1, p. 44 (read there).

    Examples
    --------
    >>> round(compression_ratio(449.39305e-6, 38.08416e-6), 4)
    12.8
    """
    require("swept volume", swept, "m³", 0.0, above=True)
    require("clearance volume", clearance, "m³", 0.0, above=True)
    return (swept + clearance) / clearance


def clearance_for_ratio(swept: Real, ratio: Real) -> Real:
    """Volume over the piston at TDC that gives a compression ratio.

    Parameters
    ----------
    swept : float or array
        Swept volume of one cylinder [m³].
    ratio : float or array
        Compression ratio wanted [-].

    Returns
    -------
    float or array
        Clearance volume [m³].

    Notes
    -----
    V_c = V_s/(ratio - 1).

    Range
    -----
    ratio above 1.

    References
    ----------
    .. [1] Inverse of the definition of the ratio.

    Examples
    --------
    >>> round(clearance_for_ratio(449.39305e-6, 12.8) * 1e6, 5)
    38.08416
    """
    require("swept volume", swept, "m³", 0.0, above=True)
    require("compression ratio", ratio, "", 1.0, above=True)
    return swept / (ratio - 1.0)


def trapped_ratio(
    bore: Real,
    clearance: Real,
    intake_closing: Real,
    crank_radius: Real,
    rod_length: Real,
    *,
    pin_offset: Real = 0.0,
) -> Real:
    """Volume when the intake closes over volume at TDC.

    Parameters
    ----------
    bore : float or array
        Bore [m].
    clearance : float or array
        Volume over the piston at TDC [m³].
    intake_closing : float or array
        Intake closing after bottom dead centre, at the lift that counts as shut [rad].
    crank_radius : float or array
        Throw of the crank [m].
    rod_length : float or array
        Rod between its eyes' centres [m].
    pin_offset : float or array, optional
        Displacement of the cylinder's axis toward the side the crankpin moves to after TDC [m].

    Returns
    -------
    float or array
        Trapped compression ratio [-].

    Notes
    -----
    ratio_t = (V_c + A_p·x(-pi + closing))/V_c.

    Range
    -----
    closing from 0 to 180 degrees after bottom dead centre, counted as 180 degrees from TDC.

    References
    ----------
    .. [1] Derivation: the volume at the piston's depth when the valve shuts; no outside table was read.

    Examples
    --------
    >>> round(float(trapped_ratio(0.0913, 33.99e-6, np.radians(60.0), 0.02985, 0.106)), 4)
    10.2406
    """
    require("bore", bore, "m", 0.0, above=True)
    require("clearance volume", clearance, "m³", 0.0, above=True)
    require("intake closing", intake_closing, "rad", 0.0, np.pi)
    depth = piston_depth(intake_closing - np.pi, crank_radius, rod_length, pin_offset)
    ratio: Real = 1.0 + np.pi / 4.0 * np.square(bore) * depth / clearance
    return ratio
