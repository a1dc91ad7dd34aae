"""Truing a pressed crank: what two dials say about twist, spread, skew and throw."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from gudgeon.calc.domain import Array, OutOfRangeError, require


@dataclass(frozen=True, slots=True)
class CrankError:
    """How the right half stands to the left one: angles [rad], lengths [m], vectors in crankpin axes."""

    twist: float
    spread: float
    skew: float
    throw_difference: float
    cross_offset: float
    tilt: Array
    displacement: Array


def crank_error(
    left_vector: ArrayLike,
    right_vector: ArrayLike,
    *,
    left_dial: float,
    right_dial: float,
    left_support: float,
    right_support: float,
    throw: float,
    pin_angle: float = 0.0,
) -> CrankError:
    """Twist, spread, skew and throw difference of a crank turned on two supports.

    Parameters
    ----------
    left_vector : array
        First-harmonic vector (c1, s1) under the left dial [m].
    right_vector : array
        First-harmonic vector (c1, s1) under the right dial [m].
    left_dial : float
        Place of the left dial along the shaft, 0 at the middle of the crankpin, left below 0 [m].
    right_dial : float
        Place of the right dial [m].
    left_support : float
        Place of the left support [m].
    right_support : float
        Place of the right support [m].
    throw : float
        Crank radius [m].
    pin_angle : float, optional
        Direction of the crankpin in the axes the vectors are given in [rad].

    Returns
    -------
    CrankError
        Twist about the crankpin [rad], spread and skew (tilt along and across the pin) [rad], throw
        difference and cross offset [m], tilt [rad] and displacement [m] as vectors in the axes given.
        Spread above 0: the webs stand wider opposite the crankpin.

    Notes
    -----
    D = -eL·(zB - zA)/(zL - zA); q = eR + D·(zR - zA)/(zB - zA); s = (D - q)/(zB - zR); d = q - s·zR;
    twist = -(d·t)/throw, spread = s·u, skew = s·t, throw difference = d·u; u toward the crankpin, t = u
    turned by +90°, angles right-handed about the shaft.

    Range
    -----
    Left support and dial on the left half, right ones on the right half, dials away from the supports, small
    errors. After any blow measure again.

    References
    ----------
    .. [1] Derivation: two straight half-shafts carried at one place each; checked by a rigid-body simulation
       of a crank turned on two supports.

    Examples
    --------
    >>> places = {"left_dial": -0.08, "left_support": -0.05, "right_support": 0.05, "right_dial": 0.08}
    >>> found = crank_error([0.0, 3e-6], [0.0, -3e-6], **places, throw=0.03)
    >>> round(found.spread, 9), round(found.twist, 6)
    (0.0, -0.000333)
    """
    left, right = np.asarray(left_vector, dtype=float), np.asarray(right_vector, dtype=float)
    if left.shape != (2,) or right.shape != (2,):
        raise OutOfRangeError("each dial gives one vector of two lengths, (c1, s1)")
    require("left vector", left, "m")
    require("right vector", right, "m")
    require("throw", throw, "m", 0.0, above=True)
    require("right support from the left one", right_support - left_support, "m", 0.0, above=True)
    _require_apart("left", left_dial, left_support)
    _require_apart("right", right_dial, right_support)
    span = right_support - left_support
    carried = -left * span / (left_dial - left_support)
    under_dial = right + carried * (right_dial - left_support) / span
    tilt = (carried - under_dial) / (right_support - right_dial)
    displacement = under_dial - tilt * right_dial
    along = np.array([np.cos(pin_angle), np.sin(pin_angle)])
    across = np.array([-along[1], along[0]])
    return CrankError(
        twist=float(-(displacement @ across) / throw),
        spread=float(tilt @ along),
        skew=float(tilt @ across),
        throw_difference=float(displacement @ along),
        cross_offset=float(displacement @ across),
        tilt=tilt,
        displacement=displacement,
    )


def _require_apart(side: str, dial: float, support: float) -> None:
    require(f"{side} dial", dial, "m")
    if abs(dial - support) < 1e-4:
        raise OutOfRangeError(
            f"{side} dial is {dial - support:.6g} m from its support; allowed is 0.0001 m or more"
        )
