"""Press fits: pressure, stress, growth and what they carry."""

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from gudgeon.calc.domain import Real, require

REFERENCE_TEMPERATURE = 293.15  # K, ISO 1
Flag: TypeAlias = bool | NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Material:
    """Modulus [Pa], Poisson's ratio [-], expansion [1/K], yield stress [Pa]."""

    modulus: float
    poisson: float
    expansion: float
    yield_stress: float = np.inf


@dataclass(frozen=True, slots=True)
class PressFit:
    """A fit at one temperature: lengths [m], stresses [Pa], force [N], torque [N·m]."""

    interference: Real
    pressure: Real
    hub_hoop: Real
    hub_von_mises: Real
    shaft_hoop: Real
    shaft_bore_hoop: Real
    shaft_von_mises: Real
    hub_growth: Real
    shaft_bore_shrink: Real
    axial_force: Real
    torque: Real
    holds: Flag
    hub_yields: Flag
    shaft_yields: Flag


def interference_at(
    interference: Real,
    diameter: Real,
    hub_expansion: Real,
    shaft_expansion: Real,
    *,
    hub_temperature: Real,
    shaft_temperature: Real,
) -> Real:
    """Interference of a fit at other temperatures than it was measured at.

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
    hub_temperature : float or array
        Temperature of the hub [K].
    shaft_temperature : float or array
        Temperature of the shaft [K].

    Returns
    -------
    float or array
        Interference, negative when there is a gap [m].

    Notes
    -----
    i = i20 + D·(a_shaft·(T_shaft - T20) - a_hub·(T_hub - T20)).

    Range
    -----
    First order, from 70 K to 700 K, expansions from 0 to 1e-4 1/K.

    References
    ----------
    .. [1] Linear expansion; reference temperature ISO 1:2022 (from memory).

    Examples
    --------
    >>> case = {"hub_temperature": 373.15, "shaft_temperature": 255.15}
    >>> round(interference_at(0.00005, 0.062, 23e-6, 11.5e-6, **case) * 1e6, 3)
    -91.174
    """
    require("interference", interference, "m")
    require("diameter", diameter, "m", 0.0, above=True)
    for name, expansion in (("hub's expansion", hub_expansion), ("shaft's expansion", shaft_expansion)):
        require(name, expansion, "1/K", 0.0, 1e-4)
    for name, temperature in (
        ("hub's temperature", hub_temperature),
        ("shaft's temperature", shaft_temperature),
    ):
        require(name, temperature, "K", 70.0, 700.0)
    shaft = shaft_expansion * (shaft_temperature - REFERENCE_TEMPERATURE)
    hub = hub_expansion * (hub_temperature - REFERENCE_TEMPERATURE)
    return interference + diameter * (shaft - hub)


def press_fit(
    diameter: Real,
    interference: Real,
    length: Real,
    *,
    hub_outside: Real,
    shaft_bore: Real = 0.0,
    hub: Material,
    shaft: Material,
    friction: Real,
    temperature: Real = REFERENCE_TEMPERATURE,
) -> PressFit:
    """Pressure, stresses, growth and what the joint carries.

    Parameters
    ----------
    diameter : float or array
        Diameter of the joint [m].
    interference : float or array
        Shaft less bore at 20 °C, on the diameter, negative for a gap [m].
    length : float or array
        Length of the joint [m].
    hub_outside : float or array
        Outside diameter of the hub [m].
    shaft_bore : float or array, optional
        Bore of a hollow shaft, 0 when solid [m].
    hub : Material
        Hub's modulus and yield [Pa], Poisson's ratio [-], expansion [1/K].
    shaft : Material
        Shaft's modulus and yield [Pa], Poisson's ratio [-], expansion [1/K].
    friction : float or array
        Coefficient of friction in the joint [-].
    temperature : float or array, optional
        Temperature of both [K].

    Returns
    -------
    PressFit
        Interference, growth and shrink [m], pressure and stresses [Pa], force [N], torque [N·m], whether it
        holds, whether hub or shaft yields. When a part yields the elastic figures are still given. A gap has
        no pressure, and says that it does not hold.

    Notes
    -----
    p = i/(d·((D² + d²)/(D² - d²) + nu_hub)/E_hub + d·((d² + b²)/(d² - b²) - nu_shaft)/E_shaft);
    hub at its bore: hoop p·(D² + d²)/(D² - d²), radial -p; F = mu·p·pi·d·L; T = F·d/2;
    hub growth 4·p·d²·D/(2·E_hub·(D² - d²)); shaft bore shrink 4·p·d²·b/(2·E_shaft·(d² - b²)).

    Range
    -----
    b < d < D, elastic, plane stress, far from the ends; smooth cylinders.

    References
    ----------
    .. [1] Ugural and Fenster, Advanced Strength and Applied Elasticity, example 8.3, p. 243 (read there).

    Examples
    --------
    >>> steel = Material(210e9, 0.3, 11.5e-6)
    >>> fit = press_fit(0.05, 4e-5, 0.04, hub_outside=0.08, hub=steel, shaft=steel, friction=0.12)
    >>> round(float(fit.pressure) / 1e6, 3), round(float(fit.torque), 2)
    (51.188, 964.86)
    """
    _require_joint(diameter, length, hub_outside, shaft_bore, friction)
    _require_material("hub's", hub)
    _require_material("shaft's", shaft)
    tight = interference_at(
        interference,
        diameter,
        hub.expansion,
        shaft.expansion,
        hub_temperature=temperature,
        shaft_temperature=temperature,
    )
    outer = (hub_outside**2 + diameter**2) / (hub_outside**2 - diameter**2)
    inner = (diameter**2 + shaft_bore**2) / (diameter**2 - shaft_bore**2)
    compliance = (outer + hub.poisson) / hub.modulus + (inner - shaft.poisson) / shaft.modulus
    holds = np.asarray(tight) > 0.0
    pressure = np.where(holds, tight, 0.0)[()] / (diameter * compliance)
    return _stressed(
        tight,
        pressure,
        diameter=diameter,
        length=length,
        hub_outside=hub_outside,
        shaft_bore=shaft_bore,
        hub=hub,
        shaft=shaft,
        friction=friction,
    )


def _stressed(
    tight: Real,
    pressure: Real,
    *,
    diameter: Real,
    length: Real,
    hub_outside: Real,
    shaft_bore: Real,
    hub: Material,
    shaft: Material,
    friction: Real,
) -> PressFit:
    ring, tube = hub_outside**2 - diameter**2, diameter**2 - shaft_bore**2
    hub_hoop = pressure * (hub_outside**2 + diameter**2) / ring
    hub_mises = np.sqrt(hub_hoop**2 + hub_hoop * pressure + np.square(pressure))
    shaft_hoop = -pressure * (diameter**2 + shaft_bore**2) / tube
    hollow = np.asarray(shaft_bore) > 0.0
    bore_hoop = np.where(hollow, -2.0 * pressure * np.square(diameter) / tube, -pressure)[()]
    shaft_mises = np.abs(bore_hoop)  # no radial stress at a bore; equal stresses all through a solid shaft
    axial = friction * pressure * np.pi * diameter * length
    return PressFit(
        interference=tight,
        pressure=pressure,
        hub_hoop=hub_hoop,
        hub_von_mises=hub_mises,
        shaft_hoop=shaft_hoop,
        shaft_bore_hoop=bore_hoop,
        shaft_von_mises=shaft_mises,
        hub_growth=2.0 * pressure * np.square(diameter) * hub_outside / (hub.modulus * ring),
        shaft_bore_shrink=2.0 * pressure * np.square(diameter) * shaft_bore / (shaft.modulus * tube),
        axial_force=axial,
        torque=axial * diameter / 2.0,
        holds=np.asarray(tight)[()] > 0.0,
        hub_yields=hub_mises > hub.yield_stress,
        shaft_yields=shaft_mises > shaft.yield_stress,
    )


def _require_joint(diameter: Real, length: Real, hub_outside: Real, shaft_bore: Real, friction: Real) -> None:
    require("diameter", diameter, "m", 0.0, above=True)
    require("length", length, "m", 0.0, above=True)
    require("hub outside over joint diameter", np.divide(hub_outside, diameter), "", 1.0, above=True)
    require("shaft bore over joint diameter", np.divide(shaft_bore, diameter), "", 0.0, 1.0, below=True)
    require("friction", friction, "", 0.0, 1.0)


def _require_material(whose: str, material: Material) -> None:
    require(f"{whose} modulus", material.modulus, "Pa", 0.0, above=True)
    require(f"{whose} Poisson's ratio", material.poisson, "", -1.0, 0.5, above=True)
    if material.yield_stress != np.inf:
        require(f"{whose} yield stress", material.yield_stress, "Pa", 0.0, above=True)
