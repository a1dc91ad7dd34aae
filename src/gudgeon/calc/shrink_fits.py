"""Heat and cold for fitting: when a part drops in, when a fit lets go, and how long a hot case stays open."""

import numpy as np

from gudgeon.calc.domain import OutOfRangeError, Real, require
from gudgeon.calc.fits import REFERENCE_TEMPERATURE, interference_at

COLDEST, HOTTEST = 70.0, 700.0  # K: the linear form is asked for nothing outside
BEARING_CEILING = 393.15  # K: trade guideline for rolling bearings, quoted; hotter and the steel may soften


def hub_temperature_to_fit(
    interference: Real,
    clearance: Real,
    diameter: Real,
    hub_expansion: Real,
    shaft_expansion: Real,
    *,
    shaft_temperature: Real = REFERENCE_TEMPERATURE,
) -> Real:
    """Temperature of the hub at which the shaft, at its own temperature, goes in with a clearance.

    Parameters
    ----------
    interference : float or array
        Shaft less bore at 20 °C, on the diameter [m].
    clearance : float or array
        Gap wanted while fitting, on the diameter [m].
    diameter : float or array
        Diameter of the joint [m].
    hub_expansion : float or array
        Expansion of the hub [1/K].
    shaft_expansion : float or array
        Expansion of the shaft [1/K].
    shaft_temperature : float or array, optional
        Temperature of the shaft: the room's, or a freezer's [K].

    Returns
    -------
    float or array
        Temperature of the hub [K].

    Notes
    -----
    T = T20 + ((i + c)/D + a_shaft·(T_shaft - T20))/a_hub.

    Range
    -----
    A result from 70 K to 700 K. What the part may bear is another matter: 120 °C for a rolling bearing
    (trade guideline, quoted).

    References
    ----------
    .. [1] Linear expansion; the formula for a heated hub was read in a general guide (edition not stated).

    Examples
    --------
    >>> round(hub_temperature_to_fit(3e-5, 1e-5, 0.025, 1.2e-5, 1.2e-5) - 273.15, 3)
    153.333
    """
    _require_joint(interference, clearance, diameter)
    require("hub's expansion", hub_expansion, "1/K", 0.0, 1e-4, above=True)
    require("shaft's expansion", shaft_expansion, "1/K", 0.0, 1e-4)
    require("shaft's temperature", shaft_temperature, "K", COLDEST, HOTTEST)
    shaft = shaft_expansion * (shaft_temperature - REFERENCE_TEMPERATURE)
    hub = REFERENCE_TEMPERATURE + ((interference + clearance) / diameter + shaft) / hub_expansion
    require("hub's temperature", hub, "K", COLDEST, HOTTEST)
    return hub


def shaft_temperature_to_fit(
    interference: Real,
    clearance: Real,
    diameter: Real,
    hub_expansion: Real,
    shaft_expansion: Real,
    *,
    hub_temperature: Real = REFERENCE_TEMPERATURE,
) -> Real:
    """Temperature of the shaft at which it goes into the hub, at its own temperature, with a clearance.

    Parameters
    ----------
    interference : float or array
        Shaft less bore at 20 °C, on the diameter [m].
    clearance : float or array
        Gap wanted while fitting, on the diameter [m].
    diameter : float or array
        Diameter of the joint [m].
    hub_expansion : float or array
        Expansion of the hub [1/K].
    shaft_expansion : float or array
        Expansion of the shaft [1/K].
    hub_temperature : float or array, optional
        Temperature of the hub: the room's, or an oven's [K].

    Returns
    -------
    float or array
        Temperature of the shaft [K].

    Notes
    -----
    T = T20 + (a_hub·(T_hub - T20) - (i + c)/D)/a_shaft.

    Range
    -----
    A result from 70 K to 700 K.

    References
    ----------
    .. [1] Linear expansion, as `hub_temperature_to_fit`; checked by the round trip between the two.

    Examples
    --------
    >>> round(shaft_temperature_to_fit(1e-5, 5e-6, 0.025, 1.2e-5, 1.2e-5) - 273.15, 3)
    -30.0
    """
    _require_joint(interference, clearance, diameter)
    require("hub's expansion", hub_expansion, "1/K", 0.0, 1e-4)
    require("shaft's expansion", shaft_expansion, "1/K", 0.0, 1e-4, above=True)
    require("hub's temperature", hub_temperature, "K", COLDEST, HOTTEST)
    hub = hub_expansion * (hub_temperature - REFERENCE_TEMPERATURE)
    shaft = REFERENCE_TEMPERATURE + (hub - (interference + clearance) / diameter) / shaft_expansion
    require("shaft's temperature", shaft, "K", COLDEST, HOTTEST)
    return shaft


def let_go_temperature(
    interference: Real, diameter: Real, hub_expansion: Real, shaft_expansion: Real
) -> Real:
    """Common temperature at which a fit of unlike materials has no interference left.

    Parameters
    ----------
    interference : float or array
        Shaft less bore at 20 °C, on the diameter [m].
    diameter : float or array
        Diameter of the joint [m].
    hub_expansion : float or array
        Expansion of the hub [1/K].
    shaft_expansion : float or array
        Expansion of the shaft [1/K].

    Returns
    -------
    float or array
        Temperature: above 20 °C when the hub grows more, below when the shaft does [K].

    Notes
    -----
    T = T20 + i/(D·(a_hub - a_shaft)).

    Range
    -----
    Interference above 0, expansions that differ, a result above 0 K. Speed and load take from it.

    References
    ----------
    .. [1] Derivation: the linear form of `interference_at` set to nothing.

    Examples
    --------
    >>> round(float(let_go_temperature(5e-5, 0.062, 23e-6, 11.5e-6)) - 273.15, 2)
    90.13
    """
    require("interference", interference, "m", 0.0, above=True)
    require("diameter", diameter, "m", 0.0, above=True)
    require("hub's expansion", hub_expansion, "1/K", 0.0, 1e-4)
    require("shaft's expansion", shaft_expansion, "1/K", 0.0, 1e-4)
    slip = np.subtract(hub_expansion, shaft_expansion)
    if np.any(slip == 0.0):
        raise OutOfRangeError("hub and shaft expand alike; a fit of like materials does not let go by heat")
    temperature: Real = REFERENCE_TEMPERATURE + interference / (diameter * slip)
    require("temperature where it lets go", temperature, "K", 0.0, above=True)
    return temperature


def open_time(
    interference: float,
    diameter: float,
    hub_expansion: float,
    shaft_expansion: float,
    *,
    hub_temperature: float,
    shaft_temperature: float,
    hub_capacity: float,
    conductance: float,
    shaft_capacity: float = np.inf,
) -> float:
    """How long a heated hub stays open once the part touches it.

    Parameters
    ----------
    interference : float
        Shaft less bore at 20 °C, on the diameter [m].
    diameter : float
        Diameter of the joint [m].
    hub_expansion : float
        Expansion of the hub [1/K].
    shaft_expansion : float
        Expansion of the shaft [1/K].
    hub_temperature : float
        Temperature of the hub when the part touches [K].
    shaft_temperature : float
        Temperature of the part when it touches [K].
    hub_capacity : float
        Heat capacity of the hub's metal round the seat, mass times specific heat [J/K].
    conductance : float
        Heat that passes the touching surfaces for each kelvin between them [W/K].
    shaft_capacity : float, optional
        Heat capacity of the part; without it the part is taken to stay at its temperature [J/K].

    Returns
    -------
    float
        Time until the gap is gone; infinite when it never closes at the temperature both end at [s].

    Notes
    -----
    Difference of temperature falls as exp(-t/tau), 1/tau = h·(1/C_hub + 1/C_shaft); the gap is linear in both
    temperatures. Assumed: each part has one temperature throughout, nothing is lost to the air, and the
    surfaces conduct from the first touch. So it is a short guess: be quicker.

    Range
    -----
    A gap at the touch, capacities and conductance above 0, hub hotter than part.

    References
    ----------
    .. [1] Lumped cooling: Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, from memory;
       checked by integrating both temperatures numerically.

    Examples
    --------
    >>> hot = {"hub_temperature": 393.15, "shaft_temperature": 293.15}
    >>> heat = {"hub_capacity": 450.0, "shaft_capacity": 70.0, "conductance": 5.0}
    >>> round(open_time(9e-5, 0.062, 23e-6, 11.5e-6, **hot, **heat), 2)
    12.73
    """
    require("hub's temperature over the part's", hub_temperature - shaft_temperature, "K", 0.0, above=True)
    require("hub's capacity", hub_capacity, "J/K", 0.0, above=True)
    require("conductance", conductance, "W/K", 0.0, above=True)
    if shaft_capacity != np.inf:
        require("part's capacity", shaft_capacity, "J/K", 0.0, above=True)
    share = 1.0 / (1.0 + hub_capacity / shaft_capacity)  # of the difference, what the hub loses in the end
    even = hub_temperature - share * (hub_temperature - shaft_temperature)
    joint = (interference, diameter, hub_expansion, shaft_expansion)
    first = -float(
        interference_at(*joint, hub_temperature=hub_temperature, shaft_temperature=shaft_temperature)
    )
    last = -float(interference_at(*joint, hub_temperature=even, shaft_temperature=even))
    require("gap when the part touches", first, "m", 0.0, above=True)
    if last >= 0.0:
        return float(np.inf)
    rate = conductance * (1.0 / hub_capacity + 1.0 / shaft_capacity)
    return float(np.log((first - last) / -last) / rate)


def _require_joint(interference: Real, clearance: Real, diameter: Real) -> None:
    require("interference", interference, "m")
    require("clearance while fitting", clearance, "m", 0.0)
    require("diameter", diameter, "m", 0.0, above=True)
