"""Cam timing: events, lobe centres, and corrections in teeth and slots."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from gudgeon.calc.domain import OutOfRangeError, Real, require

HALF_TURN = np.pi
LATEST = np.radians(150.0)


@dataclass(frozen=True, slots=True)
class SprocketCorrection:
    """Whole teeth a cam's chain is moved, and what is left over: crank angles [rad]."""

    teeth: int
    per_tooth: float
    leftover: float


def duration(opening: Real, closing: Real) -> Real:
    """Crank angle over which a valve is open, at the lift both events were read at.

    Parameters
    ----------
    opening : float or array
        Opening before the dead centre the lobe belongs to: BTDC for intake, BBDC for exhaust [rad].
    closing : float or array
        Closing after the other dead centre: ABDC for intake, ATDC for exhaust [rad].

    Returns
    -------
    float or array
        Duration [rad].

    Notes
    -----
    d = opening + pi + closing.

    Range
    -----
    Each event from -150 to 150 degrees.

    References
    ----------
    .. [1] Definition; trade arithmetic, common practice, no source.

    Examples
    --------
    >>> round(float(np.degrees(duration(np.radians(20.0), np.radians(50.0)))), 9)
    250.0
    """
    _require_events(opening, closing)
    return opening + HALF_TURN + closing


def lobe_centre(opening: Real, closing: Real, valve: Literal["intake", "exhaust"]) -> Real:
    """Crank angle from TDC in overlap to the middle of a lobe.

    Parameters
    ----------
    opening : float or array
        Opening: intake BTDC, exhaust BBDC, at the lift stated [rad].
    closing : float or array
        Closing: intake ABDC, exhaust ATDC, at the same lift [rad].
    valve : {"intake", "exhaust"}
        Which lobe; an intake's centre is after TDC, an exhaust's before it.

    Returns
    -------
    float or array
        Lobe centre, ATDC for intake, BTDC for exhaust [rad].

    Notes
    -----
    Intake c = (pi + closing - opening)/2; exhaust c = (pi + opening - closing)/2.

    Range
    -----
    Lobes symmetric about their middle; each event from -150 to 150 degrees.

    References
    ----------
    .. [1] Definition; trade arithmetic, common practice, no source.

    Examples
    --------
    >>> round(float(np.degrees(lobe_centre(np.radians(40.0), np.radians(60.0), "intake"))), 9)
    100.0
    """
    _require_events(opening, closing)
    later = closing - opening if valve == "intake" else opening - closing
    return (HALF_TURN + later) / 2.0


def overlap(intake_opening: Real, exhaust_closing: Real) -> Real:
    """Crank angle over which both valves are open about TDC.

    Parameters
    ----------
    intake_opening : float or array
        Intake opening BTDC [rad].
    exhaust_closing : float or array
        Exhaust closing ATDC [rad].

    Returns
    -------
    float or array
        Overlap, negative when both are shut between [rad].

    Notes
    -----
    o = intake opening + exhaust closing.

    Range
    -----
    Each event from -150 to 150 degrees.

    References
    ----------
    .. [1] Definition; trade arithmetic, common practice, no source.

    Examples
    --------
    >>> round(float(np.degrees(overlap(np.radians(20.0), np.radians(18.0)))), 9)
    38.0
    """
    _require_events(intake_opening, exhaust_closing)
    return intake_opening + exhaust_closing


def lobe_separation(intake_centre: Real, exhaust_centre: Real) -> Real:
    """Angle between the two lobes, in degrees of the cam.

    Parameters
    ----------
    intake_centre : float or array
        Intake lobe centre ATDC, crank angle [rad].
    exhaust_centre : float or array
        Exhaust lobe centre BTDC, crank angle [rad].

    Returns
    -------
    float or array
        Lobe separation, cam angle [rad].

    Notes
    -----
    s = (intake centre + exhaust centre)/2.

    Range
    -----
    Centres from 0 to 180 degrees of the crank.

    References
    ----------
    .. [1] Definition; trade arithmetic, common practice, no source.

    Examples
    --------
    >>> round(float(np.degrees(lobe_separation(np.radians(105.0), np.radians(107.0)))), 9)
    106.0
    """
    require("intake lobe centre", intake_centre, "rad", 0.0, HALF_TURN)
    require("exhaust lobe centre", exhaust_centre, "rad", 0.0, HALF_TURN)
    return (intake_centre + exhaust_centre) / 2.0


def cam_angle(crank_angle: Real) -> Real:
    """Turn of a camshaft for a turn of the crank.

    Parameters
    ----------
    crank_angle : float or array
        Crank angle [rad].

    Returns
    -------
    float or array
        Cam angle [rad].

    Notes
    -----
    cam = crank/2.

    Range
    -----
    Four-stroke engines, any angle.

    References
    ----------
    .. [1] Definition of the four-stroke cycle: one turn of the cam in two of the crank.

    Examples
    --------
    >>> cam_angle(0.1)
    0.05
    """
    require("crank angle", crank_angle, "rad")
    return crank_angle / 2.0


def sprocket_correction(crank_angle: float, teeth: int) -> SprocketCorrection:
    """Nearest whole teeth for a correction of cam timing, and what they leave.

    Parameters
    ----------
    crank_angle : float
        Correction wanted, crank angle [rad].
    teeth : int
        Teeth of the cam's sprocket [-].

    Returns
    -------
    SprocketCorrection
        Teeth to move, crank angle of one tooth and of what is left to correct [rad].

    Notes
    -----
    One tooth = 4·pi/N of the crank; leftover = correction - n·4·pi/N.

    Range
    -----
    8 to 120 teeth.

    References
    ----------
    .. [1] Exact arithmetic: one turn of the cam is N teeth and two turns of the crank.

    Examples
    --------
    >>> moved = sprocket_correction(np.radians(20.0), 34)
    >>> moved.teeth, round(float(np.degrees(moved.leftover)), 4)
    (1, -1.1765)
    """
    require("correction", crank_angle, "rad")
    require("teeth", teeth, "", 8, 120)
    per_tooth = 4.0 * np.pi / teeth
    moved = round(crank_angle / per_tooth)
    return SprocketCorrection(moved, per_tooth, crank_angle - moved * per_tooth)


def slot_travel(crank_angle: Real, bolt_radius: Real) -> Real:
    """How far a slotted sprocket moves at its bolts for a correction.

    Parameters
    ----------
    crank_angle : float or array
        Correction, crank angle [rad].
    bolt_radius : float or array
        From the cam's axis to the bolts [m].

    Returns
    -------
    float or array
        Travel along the slot [m].

    Notes
    -----
    travel = R·angle/2.

    Range
    -----
    R above 0; travel along the arc.

    References
    ----------
    .. [1] Exact arithmetic: arc of half the crank's angle.

    Examples
    --------
    >>> round(float(slot_travel(np.radians(1.0), 0.015)) * 1000, 4)
    0.1309
    """
    require("correction", crank_angle, "rad")
    require("bolt radius", bolt_radius, "m", 0.0, above=True)
    return bolt_radius * crank_angle / 2.0


def _require_events(opening: Real, closing: Real) -> None:
    require("opening", opening, "rad", -LATEST, LATEST)
    require("closing", closing, "rad", -LATEST, LATEST)
    if np.any(np.asarray(opening) + np.asarray(closing) <= -HALF_TURN):
        raise OutOfRangeError("opening and closing leave a duration of 0 rad or less; allowed is above 0 rad")
