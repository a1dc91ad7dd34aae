"""Crank, rod and piston: where the piston stands and how fast it moves."""

import numpy as np

from gudgeon.calc.domain import Real, require, require_linkage


def stroke(crank_radius: Real, rod_length: Real, pin_offset: Real = 0.0) -> Real:
    """Travel of the piston between its two dead centres.

    Parameters
    ----------
    crank_radius : float or array
        Throw of the crank [m].
    rod_length : float or array
        Rod between its eyes' centres [m].
    pin_offset : float or array, optional
        Displacement of the cylinder's axis toward the side the crankpin moves to after TDC [m].

    Returns
    -------
    float or array
        Stroke [m].

    Notes
    -----
    S = sqrt((l + r)² - e²) - sqrt((l - r)² - e²).

    Range
    -----
    r > 0, l > r + abs(e).

    References
    ----------
    .. [1] Derivation: crank and rod in line at both ends of the travel; checked with SymPy 1.14.0.

    Examples
    --------
    >>> round(float(stroke(0.0317, 0.110, 0.001)), 9)
    0.063402857
    """
    require_linkage(crank_radius, rod_length, pin_offset)
    square = np.square(pin_offset)
    top = np.sqrt((rod_length + crank_radius) ** 2 - square)
    travel: Real = top - np.sqrt((rod_length - crank_radius) ** 2 - square)
    return travel


def crank_radius_for_stroke(piston_stroke: Real, rod_length: Real, pin_offset: Real = 0.0) -> Real:
    """Throw of the crank that gives a stroke.

    Parameters
    ----------
    piston_stroke : float or array
        Travel of the piston [m].
    rod_length : float or array
        Rod between its eyes' centres [m].
    pin_offset : float or array, optional
        Displacement of the cylinder's axis [m].

    Returns
    -------
    float or array
        Throw of the crank [m].

    Notes
    -----
    r = S/2·sqrt((4(l² - e²) - S²)/(4l² - S²)).

    Range
    -----
    S > 0, l > r + abs(e).

    References
    ----------
    .. [1] Derivation: the stroke's equation squared twice and solved for r; checked by the round trip.

    Examples
    --------
    >>> round(float(crank_radius_for_stroke(0.063402857, 0.110, 0.001)), 8)
    0.0317
    """
    require("stroke", piston_stroke, "m", 0.0, above=True)
    require("rod length", rod_length, "m", float(np.max(piston_stroke)) / 2, above=True)
    length, travel = np.square(rod_length), np.square(piston_stroke)
    beyond = 4.0 * (length - np.square(pin_offset)) - travel
    require("pin offset", np.where(beyond > 0.0, 0.0, np.abs(pin_offset)), "m", 0.0, 0.0)
    radius: Real = piston_stroke / 2.0 * np.sqrt(beyond / (4.0 * length - travel))
    require_linkage(radius, rod_length, pin_offset)
    return radius


def piston_depth(angle: Real, crank_radius: Real, rod_length: Real, pin_offset: Real = 0.0) -> Real:
    """How far the piston stands below its top dead centre.

    Parameters
    ----------
    angle : float or array
        Crank angle after the piston's own TDC, positive in the running direction [rad].
    crank_radius : float or array
        Throw of the crank [m].
    rod_length : float or array
        Rod between its eyes' centres [m].
    pin_offset : float or array, optional
        Displacement of the cylinder's axis toward the side the crankpin moves to after TDC [m].

    Returns
    -------
    float or array
        Depth below TDC [m].

    Notes
    -----
    x = sqrt((l + r)² - e²) - r·cos t - sqrt(l² - (r·sin t - e)²), t = angle + asin(e/(l + r)).

    Range
    -----
    r > 0, l > r + abs(e), any angle.

    References
    ----------
    .. [1] Derivation: crankpin at (r sin t, r cos t), piston pin on x = e; values checked against exact
       symbolic differentiation with SymPy 1.14.0.

    Examples
    --------
    >>> round(float(piston_depth(np.radians(30.0), 0.0317, 0.110)) * 1000, 6)
    5.394905
    """
    require_linkage(crank_radius, rod_length, pin_offset)
    require("crank angle", angle, "rad")
    turned = angle + np.arcsin(pin_offset / (rod_length + crank_radius))
    top = np.sqrt((rod_length + crank_radius) ** 2 - np.square(pin_offset))
    across = crank_radius * np.sin(turned) - pin_offset
    height = crank_radius * np.cos(turned) + np.sqrt(np.square(rod_length) - np.square(across))
    depth: Real = np.maximum(top - height, 0.0)  # rounding at TDC itself, never more
    return depth


def depth_per_angle(angle: Real, crank_radius: Real, rod_length: Real, pin_offset: Real = 0.0) -> Real:
    """Travel of the piston away from the head for a small turn of the crank.

    Parameters
    ----------
    angle : float or array
        Crank angle after the piston's own TDC [rad].
    crank_radius : float or array
        Throw of the crank [m].
    rod_length : float or array
        Rod between its eyes' centres [m].
    pin_offset : float or array, optional
        Displacement of the cylinder's axis toward the side the crankpin moves to after TDC [m].

    Returns
    -------
    float or array
        Travel per angle, the arm on which the gas force acts [m/rad].

    Notes
    -----
    dx/dt = r·sin t + (r·sin t - e)·r·cos t/sqrt(l² - (r·sin t - e)²), t = angle + asin(e/(l + r)).

    Range
    -----
    r > 0, l > r + abs(e), any angle.

    References
    ----------
    .. [1] Derivation: first derivative of the depth; checked with SymPy 1.14.0.

    Examples
    --------
    >>> round(float(depth_per_angle(np.radians(90.0), 0.0317, 0.110)), 6)
    0.0317
    """
    require_linkage(crank_radius, rod_length, pin_offset)
    require("crank angle", angle, "rad")
    turned = angle + np.arcsin(pin_offset / (rod_length + crank_radius))
    across = crank_radius * np.sin(turned) - pin_offset
    upright = np.sqrt(np.square(rod_length) - np.square(across))
    arm: Real = crank_radius * np.sin(turned) + across * crank_radius * np.cos(turned) / upright
    return arm


def piston_velocity(
    angle: Real, crank_radius: Real, rod_length: Real, angular_speed: Real, pin_offset: Real = 0.0
) -> Real:
    """Speed of the piston away from the head.

    Parameters
    ----------
    angle : float or array
        Crank angle after the piston's own TDC [rad].
    crank_radius : float or array
        Throw of the crank [m].
    rod_length : float or array
        Rod between its eyes' centres [m].
    angular_speed : float or array
        Speed of the crank [rad/s].
    pin_offset : float or array, optional
        Displacement of the cylinder's axis toward the side the crankpin moves to after TDC [m].

    Returns
    -------
    float or array
        Velocity, positive away from the head [m/s].

    Notes
    -----
    v = omega·dx/dt.

    Range
    -----
    r > 0, l > r + abs(e), constant crank speed.

    References
    ----------
    .. [1] Khurmi and Gupta, Theory of Machines, example 15.5, p. 528 (read there).

    Examples
    --------
    >>> speed = 450.0 / 60.0 * 2.0 * np.pi
    >>> round(float(piston_velocity(np.radians(60.0), 0.150, 0.600, speed)), 5)
    6.90536
    """
    require("crank speed", angular_speed, "rad/s")
    return angular_speed * depth_per_angle(angle, crank_radius, rod_length, pin_offset)


def piston_acceleration(
    angle: Real, crank_radius: Real, rod_length: Real, angular_speed: Real, pin_offset: Real = 0.0
) -> Real:
    """Acceleration of the piston away from the head at constant crank speed.

    Parameters
    ----------
    angle : float or array
        Crank angle after the piston's own TDC [rad].
    crank_radius : float or array
        Throw of the crank [m].
    rod_length : float or array
        Rod between its eyes' centres [m].
    angular_speed : float or array
        Speed of the crank [rad/s].
    pin_offset : float or array, optional
        Displacement of the cylinder's axis toward the side the crankpin moves to after TDC [m].

    Returns
    -------
    float or array
        Acceleration, positive away from the head [m/s²].

    Notes
    -----
    a = omega²·(r·cos t + (r²·cos²t - u·r·sin t)/q + (u·r·cos t)²/q³), u = r·sin t - e, q = sqrt(l² - u²).

    Range
    -----
    r > 0, l > r + abs(e), constant crank speed.

    References
    ----------
    .. [1] Khurmi and Gupta, Theory of Machines, example 15.4, p. 528 (read there).

    Examples
    --------
    >>> speed = 180.0 / 60.0 * 2.0 * np.pi
    >>> round(float(piston_acceleration(np.radians(40.0), 0.300, 1.500, speed)), 4)
    85.5989
    """
    require_linkage(crank_radius, rod_length, pin_offset)
    require("crank angle", angle, "rad")
    require("crank speed", angular_speed, "rad/s")
    turned = angle + np.arcsin(pin_offset / (rod_length + crank_radius))
    across = crank_radius * np.sin(turned) - pin_offset
    along = crank_radius * np.cos(turned)
    upright = np.sqrt(np.square(rod_length) - np.square(across))
    bent = (np.square(along) - across * crank_radius * np.sin(turned)) / upright
    acceleration: Real = np.square(angular_speed) * (along + bent + np.square(across * along) / upright**3)
    return acceleration


def peak_piston_acceleration(
    crank_radius: float, rod_length: float, angular_speed: float, pin_offset: float = 0.0
) -> float:
    """Largest acceleration of the piston in a turn, whichever way it points.

    Parameters
    ----------
    crank_radius : float
        Throw of the crank [m].
    rod_length : float
        Rod between its eyes' centres [m].
    angular_speed : float
        Speed of the crank [rad/s].
    pin_offset : float, optional
        Displacement of the cylinder's axis [m].

    Returns
    -------
    float
        Largest magnitude [m/s²].

    Notes
    -----
    a_max = max |a(t)| over a turn; without offset r·omega²·(1 + r/l).

    The turn is searched in steps of 0.1 degree, then closed in on from the best one.

    Range
    -----
    r > 0, l > r + abs(e), constant crank speed.

    References
    ----------
    .. [1] Exact limit at TDC without offset (derivation); with offset the maximum is found numerically.

    Examples
    --------
    >>> round(peak_piston_acceleration(0.0317, 0.110, 9000.0 / 60.0 * 2.0 * np.pi), 1)
    36272.6
    """
    width, best = np.pi, 0.0
    for points in (3601, 41, 41, 41):
        angles = best + np.linspace(-width, width, points)
        sizes = np.abs(piston_acceleration(angles, crank_radius, rod_length, angular_speed, pin_offset))
        best, width = float(angles[np.argmax(sizes)]), 2.0 * width / (points - 1)
    return float(np.max(sizes))


def mean_piston_speed(piston_stroke: Real, angular_speed: Real) -> Real:
    """Mean speed of the piston over a turn.

    Parameters
    ----------
    piston_stroke : float or array
        Travel of the piston [m].
    angular_speed : float or array
        Speed of the crank [rad/s].

    Returns
    -------
    float or array
        Mean piston speed [m/s].

    Notes
    -----
    c_m = 2·S·n = S·omega/pi.

    Range
    -----
    S > 0.

    References
    ----------
    .. [1] Definition; Kates, Diesel and High-Compression Gas Engines, p. 63 has it per stroke (read there).

    Examples
    --------
    >>> round(float(mean_piston_speed(0.0634, 9000.0 / 60.0 * 2.0 * np.pi)), 9)
    19.02
    """
    require("stroke", piston_stroke, "m", 0.0, above=True)
    require("crank speed", angular_speed, "rad/s", 0.0)
    return piston_stroke * angular_speed / np.pi
