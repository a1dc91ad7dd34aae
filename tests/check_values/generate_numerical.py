"""Makes numerical.toml again: the same quantities by numerical routes of another kind than our formulas.

Run it by hand from the root of the tree: ``python -m tests.check_values.generate_numerical``.
"""

import math
from pathlib import Path

import tomli_w
from scipy import stats
from tests.check_values.numerical_routes import (
    AMBIENT,
    DRAWS,
    ROOM,
    drawn,
    lasting,
    percent_interval,
    posterior_spread,
    readings_to_verdict,
    simulated_leak,
    steady_reading,
    throat_flow,
)

Rows = dict[str, object]

NOZZLE_RATIOS = [0.999, 0.95, 0.8, 0.6, 0.53, 0.3]
LEDGERS = {
    "nu 1, one rectangle": [(1.0, 1.0, "normal"), (1.0, 0.0, "rectangular")],
    "nu 2, normal, two rectangles": [
        (1.0, 2.0, "normal"),
        (0.5, 0.0, "normal"),
        (2.0, 0.0, "rectangular"),
        (0.7, 0.0, "rectangular"),
    ],
    "nu 4, three equal rectangles": [
        (0.2, 4.0, "normal"),
        (1.0, 0.0, "rectangular"),
        (1.0, 0.0, "rectangular"),
        (1.0, 0.0, "rectangular"),
    ],
    "nu 4 and nu 9": [(1.0, 4.0, "normal"), (1.0, 9.0, "normal"), (0.5, 0.0, "rectangular")],
    "nu 4, 4, 6 and 9": [
        (1.0, 4.0, "normal"),
        (1.0, 4.0, "normal"),
        (0.8, 6.0, "normal"),
        (0.8, 9.0, "normal"),
    ],
    "normal and a wide rectangle": [(0.3, 0.0, "normal"), (1.5, 0.0, "rectangular")],
    "three unlike rectangles alone": [
        (2.0, 0.0, "rectangular"),
        (1.0, 0.0, "rectangular"),
        (0.5, 0.0, "rectangular"),
    ],
}


def _air() -> list[Rows]:
    """Air through holes."""
    return [
        {
            "id": "nozzle by quadrature along the isentrope",
            "of": "recipes.nozzle",
            "modules": ["gas"],
            "inputs": {"ratios": [NOZZLE_RATIOS, ""], "upstream": [6e5, "Pa"], "temperature": [ROOM, "K"]},
            "expected": {"flow": [[throat_flow(6e5, ratio * 6e5, ROOM) for ratio in NOZZLE_RATIOS], "kg/s"]},
            "rtol": 1e-7,
            "source": "energy equation integrated, throat of greatest flow found by search (SciPy 1.17.1)",
        },
        {
            "id": "cylinder filled until steady",
            "of": "recipes.steady_cylinder",
            "modules": ["tester", "gas"],
            "inputs": {
                "ratio": [[0.05, 0.3, 0.636, 1.5, 4.0], ""],
                "supply": [690, "kPa"],
                "ambient": [AMBIENT, "Pa"],
            },
            "expected": {"reading": [[steady_reading(r, 690e3) for r in (0.05, 0.3, 0.636, 1.5, 4.0)], "Pa"]},
            "rtol": 1e-6,
            "source": "pressure in the cylinder stepped in time until it is steady (SciPy 1.17.1, LSODA)",
        },
        {
            "id": "air through the leak is the air through the restrictor",
            "of": "recipes.leaving",
            "modules": ["leakdown", "gas"],
            "inputs": {"restrictor": [1.0, "mm"], "supply": [690, "kPa"], "reading": [600, "kPa"]},
            "expected": {
                "flow": [math.pi * 1e-6 / 4 * throat_flow(AMBIENT + 690e3, AMBIENT + 600e3, ROOM), "kg/s"]
            },
            "rtol": 1e-7,
            "source": "energy equation integrated for the restrictor (SciPy 1.17.1); what enters leaves",
        },
    ]


def _rounding() -> list[Rows]:
    """Rounding to marks."""
    return [
        {
            "id": "share of the rounding error that scatter does not average",
            "of": "recipes.averaged_marks",
            "modules": ["repeats"],
            "inputs": {"ratios": [[0.02, 0.05, 0.1, 0.2, 0.35], ""]},
            "expected": {"shares": [[lasting(r) for r in (0.02, 0.05, 0.1, 0.2, 0.35)], ""]},
            "rtol": 1e-4,
            "atol": 1e-7,
            "source": "mean of rounded readings summed over the marks, squared and integrated (SciPy 1.17.1)",
        },
        {
            "id": "marks of four readings",
            "of": "recipes.marks_of_many",
            "modules": ["repeats"],
            "inputs": {"step": [1.0, ""], "count": 4, "spread": [0.25, ""]},
            "expected": {"effect": [math.sqrt((1 / 4 + 3 / 4 * lasting(0.1)) / 12), ""]},
            "rtol": 1e-4,
            "source": "as the share of the rounding error, at four tenths of the spread",
        },
    ]


def _distributions() -> list[Rows]:
    """Distributions and what a spread leaves open."""
    return [
        {
            "id": "unknown spread",
            "of": "recipes.spread_moments",
            "modules": ["distributions"],
            "inputs": {"dofs": [[5, 9, 40], ""]},
            "expected": {
                "variance": [[float(stats.t(nu).var()) for nu in (5, 9, 40)], ""],
                "precision": [[1.0, 1.0, 1.0], ""],
            },
            "rtol": 1e-4,
            "source": "variance of the Student distribution, mean of chi-square over nu (SciPy 1.17.1)",
        },
        {
            "id": "normal distribution",
            "of": "distributions.normal_probability",
            "inputs": {"z": [[-6.0, -1.234, 0.003, 0.7, 2.5], ""]},
            "expected": {"value": [[float(v) for v in stats.norm.cdf([-6.0, -1.234, 0.003, 0.7, 2.5])], ""]},
            "atol": 1e-11,
            "source": "SciPy 1.17.1, stats.norm",
        },
        {
            "id": "normal density",
            "of": "distributions.normal_density",
            "inputs": {"z": [[-2.0, 0.0, 0.5], ""]},
            "expected": {"value": [[float(v) for v in stats.norm.pdf([-2.0, 0.0, 0.5])], ""]},
            "rtol": 1e-12,
            "source": "SciPy 1.17.1, stats.norm",
        },
        {
            "id": "Student distribution",
            "of": "distributions.student_probability",
            "inputs": {"t": 1.7, "dof": 3.5},
            "expected": {"value": float(stats.t.cdf(1.7, 3.5))},
            "rtol": 1e-10,
            "source": "SciPy 1.17.1, stats.t",
        },
    ]


def _leak_downs() -> list[Rows]:
    """Leak-downs as read."""
    return [
        {
            "id": "leak-down of three repeats with its intervals",
            "of": "recipes.bench_leak",
            "modules": ["leak_reading"],
            "inputs": {
                "supply": [[690, 690, 690], "kPa"],
                "cylinder": [[586.5, 586.5, 586.5], "kPa"],
                "step": [10, "kPa"],
                "match": [10, "kPa"],
            },
            "expected": {
                key: [value, ""] for key, value in simulated_leak(690e3, 586.5e3, 10e3, 10e3, 3).items()
            },
            "rtol": 0.03,
            "source": "scatter, match and marks drawn 200 000 times, flow by quadrature (SciPy 1.17.1)",
        },
        {
            "id": "percentage alone, read three times",
            "of": "recipes.percent_tester",
            "modules": ["leak_reading"],
            "inputs": {"fractions": [[0.10, 0.12, 0.11], ""], "step": 0.02},
            "expected": {"leakage": [percent_interval(0.11, 0.02, 3), ""], "spread": 0.02},
            "rtol": 0.01,
            "source": "scatter and marks drawn (NumPy 2)",
        },
        {
            "id": "area from the reading of a cylinder filled until steady",
            "of": "recipes.areas_of",
            "modules": ["leakdown", "gas"],
            "inputs": {
                "readings": [[steady_reading(ratio, 450e3, 84560.0) for ratio in (0.1, 0.8, 2.5)], "Pa"],
                "supply": [450, "kPa"],
                "ambient": [84560.0, "Pa"],
            },
            "expected": {"ratios": [[0.1, 0.8, 2.5], ""]},
            "rtol": 1e-5,
            "source": "pressure in the cylinder stepped in time until it is steady (SciPy 1.17.1, LSODA)",
        },
    ]


def _settling() -> list[Rows]:
    """What settles a close call."""
    return [
        {
            "id": "readings that settle",
            "of": "recipes.to_settle",
            "modules": ["settling"],
            "inputs": {"distance": 2.0, "scatter": 1.5, "lasting": 0.8, "taken": 2},
            "expected": {
                "kind": "more_readings",
                "further": float(readings_to_verdict(2.0, 1.5, 0.8, 2)),
                "row": "repeats",
            },
            "source": "readings added one by one until the normal probability is 95 % (SciPy 1.17.1)",
        },
        {
            "id": "no number of readings settles",
            "of": "recipes.to_settle",
            "modules": ["settling"],
            "inputs": {"distance": 1.3, "scatter": 0.7, "lasting": 0.8, "taken": 2},
            "expected": {"kind": "largest_row", "further": 0.0, "row": "check"},
            "source": "normal probability without any scatter: 94.8 % at 1.3 over 0.8 (SciPy 1.17.1)",
        },
        {
            "id": "a feeler too coarse for its limit",
            "of": "recipes.best_of",
            "modules": ["settling"],
            "inputs": {"half_width": 3e-5, "upper": 4e-5, "least": 2e-5},
            "expected": {"probability": float(stats.uniform(-1e-5, 6e-5).cdf(4e-5))},
            "atol": 1e-4,
            "source": "SciPy 1.17.1, stats.uniform",
        },
    ]


def _extremes() -> list[Rows]:
    """The worst of several."""
    return [
        {
            "id": "worst pair of three",
            "of": "recipes.worst_of_equals",
            "modules": ["extremes", "conformity"],
            "inputs": {"values": [[0.0, 4.0, 1.0], ""], "spread": 1.0, "upper": 1.5},
            "expected": {
                "difference": 4.0,
                "probability": float(stats.norm.cdf((1.5 - 4) / math.sqrt(2))),
                "compared": 3.0,
                "decision": "close",
            },
            "rtol": 1e-8,
            "source": "SciPy 1.17.1, stats.norm; 3.9 % is more than a third of 5 %",
        },
        {
            "id": "worst pair of three, clearly",
            "of": "recipes.worst_of_equals",
            "modules": ["extremes", "conformity"],
            "inputs": {"values": [[0.0, 5.0, 1.0], ""], "spread": 1.0, "upper": 1.5},
            "expected": {
                "difference": 5.0,
                "probability": float(stats.norm.cdf((1.5 - 5) / math.sqrt(2))),
                "decision": "beyond",
            },
            "rtol": 1e-8,
            "source": "SciPy 1.17.1, stats.norm; 0.7 % is less than a third of 5 %",
        },
    ]


def _verdicts() -> list[Rows]:
    """Verdicts by rule."""
    return [
        {
            "id": "verdicts by probability",
            "of": "recipes.decisions",
            "modules": ["conformity"],
            "inputs": {"probabilities": [[0.0, 0.05, 0.051, 0.5, 0.949, 0.95, 1.0], ""]},
            "expected": {"signs": [[-1, -1, 0, 0, 0, 1, 1], ""]},
            "kind": "definition",
            "source": "ISO 14253-1:2017, default rule with 95 %, as quoted: ends included",
        },
        {
            "id": "verdicts when the thickest blade still goes",
            "of": "recipes.blade_decisions",
            "modules": ["conformity"],
            "inputs": {"low": 0.5, "uppers": [[0.4, 0.5, 0.6], ""], "lowers": [[0.4, 0.5, 0.6], ""]},
            "expected": {"upper": [[-1, 0, 0], ""], "lower": [[1, 1, 0], ""]},
            "kind": "definition",
            "source": "logic: the value is at least 0.5 and nothing else is known",
        },
    ]


def _history() -> Rows:
    """History and readings together, by Bayes' rule."""
    spread, dof = posterior_spread([1.0, 2.5, 1.5], 0.9, 4.0)
    return {
        "id": "history and readings by Bayes' rule on a grid",
        "of": "recipes.read_by_marks",
        "modules": ["bench_readings", "repeats"],
        "inputs": {"readings": [[1.0, 2.5, 1.5], ""], "step": 0.1, "prior": 0.9, "zeroing": 0.3},
        "expected": {
            "value": 5 / 3,
            "repeats": spread / math.sqrt(3),
            "dof": dof,
            "zeroing": float(stats.uniform(-0.3, 0.6).std()),
        },
        "rtol": 1e-4,
        "source": "posterior of the variance on a grid, dof from its mean and variance (NumPy 2)",
    }


def checks() -> list[Rows]:
    """Every row of the table."""
    groups = (_air, _rounding, _distributions, _leak_downs, _settling, _extremes, _verdicts)
    rows = [row for group in groups for row in group()]
    return [
        *rows,
        _history(),
        *(_ledger(name, rows, seed) for seed, (name, rows) in enumerate(LEDGERS.items(), 1)),
    ]


def _ledger(name: str, ledger: list[tuple[float, float, str]], seed: int) -> Rows:
    size = math.hypot(*(row[0] for row in ledger))
    distances = [round(size * step, 6) for step in (-2.0, -1.0, -0.4, 0.3, 0.8, 1.645, 2.5)]
    return {
        "id": f"probability of conformity, {name}",
        "of": "recipes.probabilities_of",
        "modules": ["conformity", "distributions"],
        "inputs": {"distances": [distances, ""], "rows": [list(row) for row in ledger]},
        "expected": {"probabilities": [drawn(ledger, distances, seed), ""]},
        "atol": 0.003,
        "source": f"{DRAWS} draws of the same ledger",
    }


def main() -> None:
    """Write the table."""
    defaults = {"kind": "numerical", "evidence": "computed by the generator beside this table"}
    text = "# Made by generate_numerical.py; do not edit.\n\n"
    text += tomli_w.dumps({"check": [{**defaults, **row} for row in checks()]})
    (Path(__file__).parent / "numerical.toml").write_text(text, "utf-8")


if __name__ == "__main__":
    main()
