"""Sharp-edged orifices: why a thin plate with a hole passes about 0.6 of what the hole would."""

import numpy as np

from gudgeon.calc.domain import Real, require

_SMALL_PIPE = 0.07112  # m, below which the discharge coefficient has a term of its own
_INCH = 0.0254


def orifice_expansibility(
    diameter_ratio: Real, upstream: Real, downstream: Real, isentropic_exponent: Real = 1.4
) -> Real:
    """Expansibility factor of gas through an orifice plate.

    Parameters
    ----------
    diameter_ratio : float or array
        Hole over pipe diameter [-].
    upstream : float or array
        Absolute pressure before the plate [Pa].
    downstream : float or array
        Absolute pressure after the plate [Pa].
    isentropic_exponent : float or array
        Isentropic exponent of the gas [-].

    Returns
    -------
    float or array
        Expansibility [-].

    Notes
    -----
    eps = 1 - (0.351 + 0.256·b⁴ + 0.93·b⁸)·(1 - (p2/p1)^(1/k)).

    Range
    -----
    p2/p1 at least 0.75; diameter ratio 0.1 to 0.75.

    References
    ----------
    .. [1] ISO 5167-2:2003, 5.3.2.2, from memory; checked against the fluids library 1.3.1.

    Examples
    --------
    >>> round(float(orifice_expansibility(0.3004, 100e3, 99e3)), 5)
    0.99747
    """
    require("downstream over upstream pressure", np.divide(downstream, upstream), "", 0.75, 1.0)
    require("diameter ratio", diameter_ratio, "", 0.1, 0.75)
    shape = 0.351 + 0.256 * diameter_ratio**4 + 0.93 * diameter_ratio**8
    factor: Real = 1 - shape * (1 - np.divide(downstream, upstream) ** (1 / isentropic_exponent))
    return factor


def orifice_mass_flow(
    hole: Real,
    pipe: Real,
    pressure_drop: Real,
    density: Real,
    discharge_coefficient: Real,
    *,
    expansibility: Real = 1.0,
) -> Real:
    """Mass flow through an orifice plate from its pressure drop.

    Parameters
    ----------
    hole : float or array
        Diameter of the hole [m].
    pipe : float or array
        Inside diameter of the pipe [m].
    pressure_drop : float or array
        Pressure before less pressure after the plate [Pa].
    density : float or array
        Density before the plate [kg/m³].
    discharge_coefficient : float or array
        Discharge coefficient [-].
    expansibility : float or array
        Expansibility factor, 1 for a liquid [-].

    Returns
    -------
    float or array
        Mass flow [kg/s].

    Notes
    -----
    m = C·eps/sqrt(1 - b⁴)·pi·d²/4·sqrt(2·dp·rho), b = d/D.

    Range
    -----
    Hole smaller than the pipe; drop from 0.

    References
    ----------
    .. [1] ISO 5167-1:2003, 5.1, from memory; checked against the fluids library 1.3.1.

    Examples
    --------
    >>> round(float(orifice_mass_flow(22.2e-3, 73.9e-3, 1e3, 1.1646, 0.5988, expansibility=0.9975)) * 1e3, 2)
    11.2
    """
    require("hole over pipe diameter", np.divide(hole, pipe), "", 0.0, 1.0, below=True)
    require("pressure drop", pressure_drop, "Pa", 0.0)
    ratio = np.divide(hole, pipe)
    approach = discharge_coefficient * expansibility / np.sqrt(1 - ratio**4)
    flow: Real = approach * np.pi * hole**2 / 4 * np.sqrt(2 * pressure_drop * density)
    return flow


def sharp_edge_discharge_coefficient(
    hole: Real, pipe: Real, mass_flow: Real, viscosity: Real = 1.82e-5
) -> Real:
    """Discharge coefficient of a sharp-edged orifice plate with corner tappings.

    Parameters
    ----------
    hole : float or array
        Diameter of the hole [m].
    pipe : float or array
        Inside diameter of the pipe [m].
    mass_flow : float or array
        Mass flow [kg/s].
    viscosity : float or array
        Dynamic viscosity, 1.82e-5 for air at 20 °C [Pa·s].

    Returns
    -------
    float or array
        Discharge coefficient [-].

    Notes
    -----
    C = 0.5961 + 0.0261·b² - 0.216·b⁸ + 0.000521·(1e6·b/Re)^0.7 + (0.0188 + 0.0063·A)·b^3.5·(1e6/Re)^0.3,
    A = (19000·b/Re)^0.8, Re = 4m/(pi·D·mu), plus 0.011·(0.75 - b)·(2.8 - D/25.4 mm) for D below 71.12 mm.

    Range
    -----
    Standard: D 50 to 1000 mm, hole from 12.5 mm, b 0.1 to 0.75. A tester's jet is far smaller: this only
    shows the order of 0.6 for a sharp edge; calibrate with a known hole.

    References
    ----------
    .. [1] ISO 5167-2:2003, 5.3.2.1 (Reader-Harris/Gallagher), from memory; checked against fluids 1.3.1.

    Examples
    --------
    >>> round(float(sharp_edge_discharge_coefficient(0.02, 0.05, 0.01, 1.8e-5)), 4)
    0.612
    """
    require("hole over pipe diameter", np.divide(hole, pipe), "", 0.1, 0.75)
    require("mass flow", mass_flow, "kg/s", 0.0, above=True)
    ratio, reynolds = np.divide(hole, pipe), 4 * mass_flow / (np.pi * pipe * viscosity)
    throat = (19000 * ratio / reynolds) ** 0.8
    coefficient = 0.5961 + 0.0261 * ratio**2 - 0.216 * ratio**8 + 0.000521 * (1e6 * ratio / reynolds) ** 0.7
    coefficient = coefficient + (0.0188 + 0.0063 * throat) * ratio**3.5 * (1e6 / reynolds) ** 0.3
    small = 0.011 * (0.75 - ratio) * (2.8 - np.divide(pipe, _INCH))
    total: Real = coefficient + np.where(np.less(pipe, _SMALL_PIPE), small, 0.0)
    return total
