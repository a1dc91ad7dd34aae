"""Air through a hole: the nozzle forms every leak and every restrictor is worked out with."""

from dataclasses import dataclass

import numpy as np

from gudgeon.calc.domain import Real, require

AIR_GAMMA = 1.4
AIR_GAS_CONSTANT = 287.05  # J/(kg K), dry air
ROOM_TEMPERATURE = 293.15  # K


@dataclass(frozen=True, slots=True)
class Throat:
    """The state where a nozzle runs at the speed of sound: SI."""

    pressure: Real
    temperature: Real
    density: Real
    velocity: Real


def critical_pressure_ratio(gamma: Real = AIR_GAMMA) -> Real:
    """Downstream over upstream pressure at and below which a nozzle is choked.

    Parameters
    ----------
    gamma : float or array
        Ratio of specific heats [-].

    Returns
    -------
    float or array
        Ratio of absolute pressures [-].

    Notes
    -----
    r_c = (2/(gamma + 1))^(gamma/(gamma - 1)).

    Range
    -----
    gamma above 1; ideal gas, no friction.

    References
    ----------
    .. [1] Y. A. Cengel and M. A. Boles, Thermodynamics: An Engineering Approach, chapter on
       compressible flow; written from memory, checked against the fluids library 1.3.1.

    Examples
    --------
    >>> round(float(critical_pressure_ratio(1.4)), 5)
    0.52828
    """
    require("ratio of specific heats", gamma, "", 1.0, above=True)
    return (2 / (gamma + 1)) ** (gamma / (gamma - 1))


def nozzle_mass_flow(
    effective_area: Real,
    upstream: Real,
    downstream: Real,
    temperature: Real = ROOM_TEMPERATURE,
    *,
    gamma: Real = AIR_GAMMA,
    gas_constant: Real = AIR_GAS_CONSTANT,
) -> Real:
    """Mass flow through a hole, choked or not.

    Parameters
    ----------
    effective_area : float or array
        Discharge coefficient times area [m²].
    upstream : float or array
        Absolute pressure before the hole [Pa].
    downstream : float or array
        Absolute pressure after the hole [Pa].
    temperature : float or array
        Absolute temperature before the hole [K].
    gamma : float or array
        Ratio of specific heats [-].
    gas_constant : float or array
        Specific gas constant [J/(kg·K)].

    Returns
    -------
    float or array
        Mass flow [kg/s].

    Notes
    -----
    m = CdA·pu·sqrt(2g/((g - 1)·R·T)·(r^(2/g) - r^((g + 1)/g))) with r = downstream/upstream, never taken
    below r_c = (2/(g + 1))^(g/(g - 1)): there the form is the choked one.

    Range
    -----
    Downstream from 0 to upstream; ideal gas at rest before the hole.

    References
    ----------
    .. [1] Y. A. Cengel and M. A. Boles, Thermodynamics: An Engineering Approach, example 17-7 (the
       figures were read); the form from memory, checked by quadrature along the isentrope.

    Examples
    --------
    >>> round(float(nozzle_mass_flow(8.107e-7, 652906.0, 101325.0) * 1000), 3)
    1.249
    """
    require("effective area", effective_area, "m²", 0.0)
    require("upstream pressure", upstream, "Pa", 0.0, above=True)
    require("downstream over upstream pressure", np.divide(downstream, upstream), "", 0.0, 1.0)
    require("temperature", temperature, "K", 0.0, above=True)
    root = flow_per_pressure(np.divide(downstream, upstream), gamma)
    return effective_area * upstream * root / np.sqrt(gas_constant * temperature)


def flow_per_pressure(ratio: Real, gamma: Real = AIR_GAMMA) -> Real:
    """Nozzle function: mass flow over effective area and upstream pressure, times sqrt(R·T).

    Parameters
    ----------
    ratio : float or array
        Downstream over upstream absolute pressure [-].
    gamma : float or array
        Ratio of specific heats [-].

    Returns
    -------
    float or array
        Nozzle function [-].

    Notes
    -----
    psi = sqrt(2g/(g - 1)·(r^(2/g) - r^((g + 1)/g))), r = max(ratio, r_c). The difference of powers is
    written with expm1, because close to r = 1 it loses its digits.

    Range
    -----
    ratio 0 to 1, gamma above 1.

    References
    ----------
    .. [1] As `nozzle_mass_flow`; the same checks.

    Examples
    --------
    >>> round(float(flow_per_pressure(0.3)), 5)
    0.68473
    """
    logarithm = np.log(np.maximum(ratio, critical_pressure_ratio(gamma)))
    powers = np.exp(2 / gamma * logarithm) * -np.expm1((gamma - 1) / gamma * logarithm)
    root: Real = np.sqrt(2 * gamma / (gamma - 1) * powers)
    return root


def choked_flow_constant(gamma: Real = AIR_GAMMA, gas_constant: Real = AIR_GAS_CONSTANT) -> Real:
    """Choked mass flow times sqrt(T), over effective area and upstream pressure.

    Parameters
    ----------
    gamma : float or array
        Ratio of specific heats [-].
    gas_constant : float or array
        Specific gas constant [J/(kg·K)].

    Returns
    -------
    float or array
        K in m = K·CdA·pu/sqrt(T) [s·sqrt(K)/m].

    Notes
    -----
    K = sqrt(g/R)·(2/(g + 1))^((g + 1)/(2(g - 1))).

    Range
    -----
    gamma above 1, gas constant above 0.

    References
    ----------
    .. [1] Textbook value 0.0404 for air (Cengel and Boles, chapter on compressible flow; from memory).

    Examples
    --------
    >>> round(float(choked_flow_constant(1.4, 287.0)), 6)
    0.040418
    """
    require("gas constant", gas_constant, "J/(kg·K)", 0.0, above=True)
    require("ratio of specific heats", gamma, "", 1.0, above=True)
    exponent = (gamma + 1) / (2 * (gamma - 1))
    constant: Real = np.sqrt(gamma / gas_constant) * (2 / (gamma + 1)) ** exponent
    return constant


def choked_throat(
    upstream: Real,
    temperature: Real,
    gamma: Real = AIR_GAMMA,
    gas_constant: Real = AIR_GAS_CONSTANT,
) -> Throat:
    """State of the gas in a choked throat.

    Parameters
    ----------
    upstream : float or array
        Absolute pressure before the hole [Pa].
    temperature : float or array
        Absolute temperature before the hole [K].
    gamma : float or array
        Ratio of specific heats [-].
    gas_constant : float or array
        Specific gas constant [J/(kg·K)].

    Returns
    -------
    Throat
        Pressure [Pa], temperature [K], density [kg/m³] and velocity [m/s].

    Notes
    -----
    T* = 2T/(g + 1); p* = r_c·p; rho* = p*/(R·T*); w* = sqrt(g·R·T*).

    Range
    -----
    As `nozzle_mass_flow`.

    References
    ----------
    .. [1] Y. A. Cengel and M. A. Boles, Thermodynamics: An Engineering Approach, example 17-7 (read).

    Examples
    --------
    >>> round(float(choked_throat(1e6, 800.0).velocity), 1)
    517.6
    """
    cold = 2 * temperature / (gamma + 1)
    pressure = critical_pressure_ratio(gamma) * upstream
    density = pressure / (gas_constant * cold)
    return Throat(pressure, cold, density, np.sqrt(gamma * gas_constant * cold))


def sonic_conductance(
    effective_area: Real,
    reference_density: Real,
    temperature: Real = ROOM_TEMPERATURE,
    gamma: Real = AIR_GAMMA,
    gas_constant: Real = AIR_GAS_CONSTANT,
) -> Real:
    """Sonic conductance of a hole, as pneumatic parts are catalogued.

    Parameters
    ----------
    effective_area : float or array
        Discharge coefficient times area [m²].
    reference_density : float or array
        Density of air at the reference conditions [kg/m³].
    temperature : float or array
        Absolute temperature before the hole [K].
    gamma : float or array
        Ratio of specific heats [-].
    gas_constant : float or array
        Specific gas constant [J/(kg·K)].

    Returns
    -------
    float or array
        C [m³/(s·Pa)].

    Notes
    -----
    C = m_choked/(rho0·pu) = K·CdA/(rho0·sqrt(T)).

    Range
    -----
    All arguments above 0.

    References
    ----------
    .. [1] ISO 6358-1:2013, definition of sonic conductance; from memory of a secondary source.

    Examples
    --------
    >>> round(float(sonic_conductance(8.107e-7, 1.185) * 1e9), 3)
    1.615
    """
    require("effective area", effective_area, "m²", 0.0)
    require("reference density", reference_density, "kg/m³", 0.0, above=True)
    constant = choked_flow_constant(gamma, gas_constant)
    conductance: Real = constant * effective_area / (reference_density * np.sqrt(temperature))
    return conductance


def conductance_mass_flow(
    conductance: Real,
    critical_ratio: Real,
    upstream: Real,
    downstream: Real,
    temperature: Real,
    *,
    reference_density: Real = 1.185,
    reference_temperature: Real = ROOM_TEMPERATURE,
) -> Real:
    """Mass flow of a pneumatic part from its sonic conductance and critical ratio.

    Parameters
    ----------
    conductance : float or array
        Sonic conductance C [m³/(s·Pa)].
    critical_ratio : float or array
        Critical pressure ratio b of the part [-].
    upstream : float or array
        Absolute pressure before the part [Pa].
    downstream : float or array
        Absolute pressure after the part [Pa].
    temperature : float or array
        Absolute temperature before the part [K].
    reference_density : float or array
        Density of air at the reference conditions [kg/m³].
    reference_temperature : float or array
        Temperature of the reference conditions [K].

    Returns
    -------
    float or array
        Mass flow [kg/s].

    Notes
    -----
    m = C·rho0·p1·sqrt(T0/T1), below choking times sqrt(1 - ((p2/p1 - b)/(1 - b))²).

    Range
    -----
    b from 0 to below 1; downstream from 0 to upstream.

    References
    ----------
    .. [1] ISO 6358-1:2013, the equation as read in a secondary source; the standard was not opened.

    Examples
    --------
    >>> round(float(conductance_mass_flow(1e-8, 0.3, 7e5, 1e5, 293.15) * 1000), 3)
    8.295
    """
    require("critical ratio", critical_ratio, "", 0.0, 1.0, below=True)
    require("downstream over upstream pressure", np.divide(downstream, upstream), "", 0.0, 1.0)
    above = np.maximum(np.divide(downstream, upstream) - critical_ratio, 0.0) / (1 - critical_ratio)
    choked = conductance * reference_density * upstream * np.sqrt(reference_temperature / temperature)
    flow: Real = choked * np.sqrt(1 - above**2)
    return flow
