"""The air outside: what the barometer reads at an altitude when nobody read it."""

from gudgeon.calc.domain import Real, require

SEA_LEVEL_PRESSURE = 101325.0
SEA_LEVEL_TEMPERATURE = 288.15
LAPSE_RATE = 0.0065  # K/m
_EARTH_RADIUS = 6356766.0
_GRAVITY = 9.80665
_GAS_CONSTANT = 287.05287


def standard_temperature(altitude: Real) -> Real:
    """Temperature of the standard atmosphere.

    Parameters
    ----------
    altitude : float or array
        Height above sea level [m].

    Returns
    -------
    float or array
        Absolute temperature [K].

    Notes
    -----
    T = 288.15 - 0.0065·H, H = r·h/(r + h) the geopotential altitude, r = 6356766 m.

    Range
    -----
    -1000 to 11000 m.

    References
    ----------
    .. [1] ISO 2533:1975, from memory; checked against tables made with ambiance 1.3.1 and fluids 1.3.1.

    Examples
    --------
    >>> round(standard_temperature(1500.0), 2)
    278.4
    """
    require("altitude", altitude, "m", -1000.0, 11000.0)
    return SEA_LEVEL_TEMPERATURE - LAPSE_RATE * _EARTH_RADIUS * altitude / (_EARTH_RADIUS + altitude)


def standard_pressure(altitude: Real) -> Real:
    """Pressure of the standard atmosphere.

    Parameters
    ----------
    altitude : float or array
        Height above sea level [m].

    Returns
    -------
    float or array
        Absolute pressure [Pa].

    Notes
    -----
    p = 101325·(T/288.15)^(g/(0.0065·R)) with T of `standard_temperature`, g = 9.80665 m/s²,
    R = 287.05287 J/(kg·K).

    Range
    -----
    -1000 to 11000 m. The weather moves a real barometer by some 3 % either way.

    References
    ----------
    .. [1] ISO 2533:1975, from memory; checked against tables made with ambiance 1.3.1 and fluids 1.3.1.

    Examples
    --------
    >>> round(standard_pressure(1500.0))
    84560
    """
    ratio = standard_temperature(altitude) / SEA_LEVEL_TEMPERATURE
    return SEA_LEVEL_PRESSURE * ratio ** (_GRAVITY / (LAPSE_RATE * _GAS_CONSTANT))


def pressure_altitude(pressure: Real) -> Real:
    """Altitude at which the standard atmosphere has a pressure.

    Parameters
    ----------
    pressure : float or array
        Absolute pressure [Pa].

    Returns
    -------
    float or array
        Height above sea level [m].

    Notes
    -----
    The inverse of `standard_pressure`: H = 288.15/0.0065·(1 - (p/101325)^(0.0065·R/g)), h = r·H/(r - H).

    Range
    -----
    22700 to 113900 Pa, that is 11000 to -1000 m.

    References
    ----------
    .. [1] ISO 2533:1975, from memory; checked by the same tables read backwards.

    Examples
    --------
    >>> round(pressure_altitude(84559.67))
    1500
    """
    require("pressure", pressure, "Pa", 22690.0, 113940.0)
    ratio = (pressure / SEA_LEVEL_PRESSURE) ** (LAPSE_RATE * _GAS_CONSTANT / _GRAVITY)
    height = SEA_LEVEL_TEMPERATURE / LAPSE_RATE * (1 - ratio)
    return _EARTH_RADIUS * height / (_EARTH_RADIUS - height)
