"""Makes libraries.toml again: the same quantities from general reference libraries.

Run it by hand from the root of the tree: ``python -m tests.check_values.generate_libraries``.
"""

import importlib.metadata
from pathlib import Path
from typing import Any

import tomli_w


def checks() -> list[dict[str, Any]]:
    """Every row of the table."""
    return [_common_source(), *_atmosphere(), _real_air(), _orifice()]


def _by(library: str) -> dict[str, str]:
    version = importlib.metadata.version(library)
    return {
        "kind": "library",
        "source": f"{library} {version}",
        "evidence": f"computed with {library} {version}",
    }


def _common_source() -> dict[str, Any]:
    """Two values with one error in common, by automatic differentiation."""
    from uncertainties import correlation_matrix, ufloat

    shared, first, second = ufloat(0, 0.4), ufloat(3, 0.3), ufloat(5, 0.5)
    one, two = first + shared, second + shared
    mean, weighted = (one + two) / 2, 1 + 2 * one - 3 * two
    return {
        "id": "sums with a source in common",
        "of": "recipes.combined_library",
        "modules": ["ledger"],
        "inputs": {"shared": 0.4, "first": 0.3, "second": 0.5},
        "expected": {
            "mean": [[float(mean.n), float(mean.s)], ""],
            "weighted": [[float(weighted.n), float(weighted.s)], ""],
            "correlation": float(correlation_matrix([one, two])[0, 1]),
        },
        "rtol": 1e-10,
        **_by("uncertainties"),
    }


def _atmosphere() -> list[dict[str, Any]]:
    from fluids.atmosphere import ATMOSPHERE_1976

    heights = [-500.0, 250.0, 4000.0, 8000.0]
    states = [ATMOSPHERE_1976(height) for height in heights]
    expected = {"pressure": ([s.P for s in states], "Pa"), "temperature": ([s.T for s in states], "K")}
    return [
        {
            "id": f"standard atmosphere, {name}",
            "of": f"atmosphere.standard_{name}",
            "inputs": {"altitude": [heights, "m"]},
            "expected": {"value": [values, unit]},
            "rtol": 2e-6,
            **_by("fluids"),
        }
        for name, (values, unit) in expected.items()
    ]


def _real_air() -> dict[str, Any]:
    """Choked flow of real air: entropy held, the throat where mass flux is greatest."""
    from CoolProp.CoolProp import PropsSI
    from scipy.optimize import minimize_scalar

    pressure, temperature = 791325.0, 293.15
    enthalpy = PropsSI("H", "T", temperature, "P", pressure, "Air")
    entropy = PropsSI("S", "T", temperature, "P", pressure, "Air")

    def minus_flux(throat: float) -> float:
        density = PropsSI("D", "S", entropy, "P", throat, "Air")
        drop = enthalpy - PropsSI("H", "S", entropy, "P", throat, "Air")
        return float(-density * (2 * drop) ** 0.5)

    best = minimize_scalar(minus_flux, bounds=(0.4 * pressure, 0.7 * pressure), method="bounded")
    return {
        "id": "choked flow of real air",
        "of": "gas.nozzle_mass_flow",
        "inputs": {
            "effective_area": 1.0,
            "upstream": pressure,
            "downstream": 101325.0,
            "temperature": temperature,
        },
        "expected": {"value": float(-best.fun)},
        "rtol": 6e-3,
        "note": "the ideal gas of constant heats lies 0.4 % below real air at 7 bar",
        **_by("CoolProp"),
    }


def _orifice() -> dict[str, Any]:
    from fluids.flow_meter import C_Reader_Harris_Gallagher

    holes = [0.012, 0.03]
    found = [C_Reader_Harris_Gallagher(0.06, hole, 1.2, 1.8e-5, 0.008, taps="corner") for hole in holes]
    return {
        "id": "sharp edge, two holes in a pipe of 60 mm",
        "of": "orifice.sharp_edge_discharge_coefficient",
        "inputs": {"hole": [holes, "m"], "pipe": 0.06, "mass_flow": 0.008, "viscosity": 1.8e-5},
        "expected": {"value": [[float(value) for value in found], ""]},
        "rtol": 1e-6,
        **_by("fluids"),
    }


def main() -> None:
    """Write the table."""
    text = "# Made by generate_libraries.py; do not edit.\n\n" + tomli_w.dumps({"check": checks()})
    (Path(__file__).parent / "libraries.toml").write_text(text, "utf-8")


if __name__ == "__main__":
    main()
