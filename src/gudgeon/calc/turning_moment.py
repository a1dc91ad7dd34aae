"""What the air in a cylinder does to a crank that is held: how hard, which way, and to the held nut."""

from typing import Literal

import numpy as np

from gudgeon.calc.domain import Real, require
from gudgeon.calc.slider_crank import depth_per_angle

Direction = Literal["forwards", "backwards", "neither"]
NutEffect = Literal["tightens", "loosens", "neither"]


def turning_moment(
    cylinder_pressure: Real,
    crankcase_pressure: Real,
    bore: Real,
    angle: Real,
    *,
    crank_radius: Real,
    rod_length: Real,
    pin_offset: Real = 0.0,
) -> Real:
    """Moment on the crank from air in the cylinder.

    Parameters
    ----------
    cylinder_pressure : float or array
        Absolute pressure over the piston [Pa].
    crankcase_pressure : float or array
        Absolute pressure under the piston [Pa].
    bore : float or array
        Bore [m].
    angle : float or array
        Crank angle after the piston's own TDC, negative before it [rad].
    crank_radius : float or array
        Throw of the crank [m].
    rod_length : float or array
        Rod between its eyes' centres [m].
    pin_offset : float or array, optional
        Displacement of the cylinder's axis toward the side the crankpin moves to after TDC [m].

    Returns
    -------
    float or array
        Moment, positive in the running direction [N·m].

    Notes
    -----
    M = (p_cyl - p_case)·(pi·B²/4)·dx/dt.

    Friction is left out.

    Range
    -----
    pressures at or above zero, B > 0, l > r + abs(e).

    References
    ----------
    .. [1] Derivation: virtual work of the gas force over the piston's travel; checked against the work done
       over the whole stroke.

    Examples
    --------
    >>> crank = {"crank_radius": 0.02985, "rod_length": 0.106}
    >>> round(float(turning_moment(791325.0, 101325.0, 0.0913, np.radians(5.0), **crank)), 2)
    15.05
    """
    require("cylinder pressure", cylinder_pressure, "Pa", 0.0)
    require("crankcase pressure", crankcase_pressure, "Pa", 0.0)
    require("bore", bore, "m", 0.0, above=True)
    area = np.pi / 4.0 * np.square(bore)
    arm = depth_per_angle(angle, crank_radius, rod_length, pin_offset)
    return (cylinder_pressure - crankcase_pressure) * area * arm


def force_at_bar(moment: Real, bar_length: Real) -> Real:
    """Force that holds a moment at the end of a bar.

    Parameters
    ----------
    moment : float or array
        Moment on the crank [N·m].
    bar_length : float or array
        Length of the bar from the crank's axis, square to the force [m].

    Returns
    -------
    float or array
        Force at the bar's end [N].

    Notes
    -----
    F = M/L.

    Range
    -----
    L > 0.

    References
    ----------
    .. [1] Definition of a moment.

    Examples
    --------
    >>> force_at_bar(30.0, 0.5)
    60.0
    """
    require("moment", moment, "N·m")
    require("bar length", bar_length, "m", 0.0, above=True)
    return moment / bar_length


def turning_direction(moment: float) -> Direction:
    """Which way the air turns the crank, seen against its running direction.

    Parameters
    ----------
    moment : float
        Moment, positive in the running direction [N·m].

    Returns
    -------
    str
        "forwards", "backwards", or "neither" at exactly nothing.

    Notes
    -----
    M > 0 is forwards, M < 0 backwards.

    Range
    -----
    any finite moment.

    References
    ----------
    .. [1] Sign convention of ``turning_moment``.

    Examples
    --------
    >>> turning_direction(-3.0)
    'backwards'
    """
    require("moment", moment, "N·m")
    if moment == 0.0:
        return "neither"
    return "forwards" if moment > 0.0 else "backwards"


def held_nut_effect(
    moment: float,
    side: Literal["left", "right"],
    thread: Literal["right-hand", "left-hand"] = "right-hand",
    crank_rolls: Literal["forwards", "backwards"] = "forwards",
) -> NutEffect:
    """What a nut on the crank's end does when it is held and the air turns the crank in it.

    Parameters
    ----------
    moment : float
        Moment, positive in the engine's running direction [N·m].
    side : {"left", "right"}
        End of the crank as the rider sits.
    thread : {"right-hand", "left-hand"}, optional
        Hand of the nut's thread.
    crank_rolls : {"forwards", "backwards"}, optional
        Whether the running crank turns as the wheels roll, or against them.

    Returns
    -------
    str
        "tightens", "loosens", or "neither" at exactly nothing.

    Notes
    -----
    Tightens when sign(M)·side·thread·rolls > 0,

    with each sign +1 for left end, right-hand thread, crank rolling forwards.

    Range
    -----
    any finite moment.

    References
    ----------
    .. [1] Derivation: seen from the left a forward-rolling crank turns anticlockwise, so a nut held there
       turns clockwise on it; common practice of the trade says the same.

    Examples
    --------
    >>> held_nut_effect(15.0, "left")
    'tightens'
    """
    require("moment", moment, "N·m")
    turned = np.sign(moment) * (1 if side == "left" else -1)
    turned *= (1 if thread == "right-hand" else -1) * (1 if crank_rolls == "forwards" else -1)
    if turned == 0:
        return "neither"
    return "tightens" if turned > 0 else "loosens"
