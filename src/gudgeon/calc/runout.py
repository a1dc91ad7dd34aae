"""Runout: eccentricity and ovality out of dial readings round a shaft."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from gudgeon.calc.domain import Array, OutOfRangeError, require


@dataclass(frozen=True, slots=True)
class Runout:
    """Harmonics of the readings: lengths [m], angles [rad]; errors are standard ones, None when unknowable.

    ``coefficients`` and ``covariance`` go c0, c1, s1 (, c2, s2).
    """

    coefficients: Array
    covariance: Array | None
    residual_deviation: float | None
    degrees_of_freedom: int
    amplitude: float
    amplitude_error: float | None
    high_angle: float
    high_angle_error: float | None
    indicator_reading: float
    ovality: float | None
    ovality_error: float | None


def runout(
    angles: ArrayLike, readings: ArrayLike, *, ovality: bool = False, reading_error: float | None = None
) -> Runout:
    """Eccentricity, where its high place is, and ovality, by least squares.

    Parameters
    ----------
    angles : array
        Angle of the place on the shaft under the dial, in the shaft's own axes [rad].
    readings : array
        Dial readings, positive where the shaft stands toward the dial [m].
    ovality : bool, optional
        Whether the second harmonic is looked for too.
    reading_error : float, optional
        Standard uncertainty of one reading when it is known; else the residuals give it [m].

    Returns
    -------
    Runout
        Coefficients [m], their covariance [m²], amplitude [m] and high angle [rad] with standard errors,
        total indicator reading of the eccentricity, and ovality as a difference of diameters [m].

    Notes
    -----
    reading = c0 + c1·cos a + s1·sin a (+ c2·cos 2a + s2·sin 2a); A1 = hypot(c1, s1), high angle
    atan2(s1, c1), TIR = 2·A1, ovality = 4·A2; errors of first order from the covariance.

    Range
    -----
    At least as many different places as unknowns, 3 or with ovality 5. The angle's error is of first order:
    it means little when the amplitude is not several of its own errors.

    References
    ----------
    .. [1] Gauss's least squares; checked with numpy.linalg.lstsq and with simulated readings.

    Examples
    --------
    >>> places = np.radians([0.0, 90.0, 180.0, 270.0])
    >>> found = runout(places, [0.015e-3, 0.0, -0.015e-3, 0.0])
    >>> round(found.indicator_reading * 1000, 6), round(found.high_angle, 9)
    (0.03, 0.0)
    """
    places, values = np.asarray(angles, dtype=float), np.asarray(readings, dtype=float)
    unknowns = 5 if ovality else 3
    if places.shape != values.shape or places.ndim != 1 or len(places) < unknowns:
        raise OutOfRangeError(
            f"{values.size} readings given; allowed is at least {unknowns}, each with its angle"
        )
    require("angle", places, "rad")
    require("reading", values, "m")
    columns = [np.ones_like(places), np.cos(places), np.sin(places)]
    columns += [np.cos(2.0 * places), np.sin(2.0 * places)] if ovality else []
    design = np.column_stack(columns)
    if np.linalg.cond(design) > 1e6:
        raise OutOfRangeError(
            f"the readings stand at too few different angles; allowed is at least {unknowns}"
        )
    found, *_ = np.linalg.lstsq(design, values, rcond=None)
    freedom = len(values) - unknowns
    spread = float(np.sqrt(np.sum((values - design @ found) ** 2) / freedom)) if freedom else None
    error = reading_error if reading_error is not None else spread
    covariance = None if error is None else error**2 * np.linalg.inv(design.T @ design)
    return _described(found, covariance, spread, freedom)


def _described(found: Array, covariance: Array | None, spread: float | None, freedom: int) -> Runout:
    first, first_error, angle_error = _polar(found, covariance, 1)
    oval, oval_error = None, None
    if len(found) > 3:
        second, second_error, _ = _polar(found, covariance, 3)
        oval, oval_error = 4.0 * second, None if second_error is None else 4.0 * second_error
    return Runout(
        coefficients=found,
        covariance=covariance,
        residual_deviation=spread,
        degrees_of_freedom=freedom,
        amplitude=first,
        amplitude_error=first_error,
        high_angle=float(np.arctan2(found[2], found[1])),
        high_angle_error=angle_error,
        indicator_reading=2.0 * first,
        ovality=oval,
        ovality_error=oval_error,
    )


def _polar(found: Array, covariance: Array | None, at: int) -> tuple[float, float | None, float | None]:
    """Amplitude of a harmonic, its standard error, and the standard error of its angle."""
    vector = found[at : at + 2]
    size = float(np.hypot(*vector))
    if covariance is None or size == 0.0:
        return size, None, None
    block = covariance[at : at + 2, at : at + 2]
    along, across = vector / size, np.array([-vector[1], vector[0]]) / size
    spread, aside = (float(np.sqrt(axis @ block @ axis)) for axis in (along, across))
    return size, spread, aside / size if aside < np.pi * size else None  # beyond half a turn it is any angle
