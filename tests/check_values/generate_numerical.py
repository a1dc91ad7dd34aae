"""Makes numerical.toml again: the same quantities by numerical routes of another kind than our formulas.

Run it by hand from the root of the tree: ``python -m tests.check_values.generate_numerical``.
"""

import math
from pathlib import Path

import numpy as np
import tomli_w
from scipy import integrate, optimize, stats

GAMMA, GAS, ROOM, AMBIENT = 1.4, 287.05, 293.15, 101325.0
DRAWS = 4_000_000


def throat_flow(upstream: float, downstream: float, temperature: float) -> float:
    """Flow through a unit throat: the energy equation by quadrature, the throat pressure by search."""
    density = upstream / (GAS * temperature)

    def specific_volume(pressure: float) -> float:
        return (upstream / pressure) ** (1 / GAMMA) / density

    def minus_flow(pressure: float) -> float:
        work, _ = integrate.quad(specific_volume, pressure, upstream, epsabs=0, epsrel=1e-12)
        return -math.sqrt(2 * max(work, 0.0)) / specific_volume(pressure)

    options = {"xatol": 1e-7 * upstream}
    best = optimize.minimize_scalar(
        minus_flow, bounds=(downstream, upstream), method="bounded", options=options
    )
    return max(-best.fun, -minus_flow(downstream))


def steady_reading(ratio: float, supply: float, ambient: float = AMBIENT) -> float:
    """Gauge reading once a cylinder, filled through one hole and emptied through the other, is steady."""

    def filling(_: float, pressure: np.ndarray) -> list[float]:
        p = float(pressure[0])
        into = _closed(ambient + supply, p) if p < ambient + supply else 0.0
        out = ratio * _closed(p, ambient) if p > ambient else 0.0
        return [(into - out) * GAS * ROOM * 1e3]

    run = integrate.solve_ivp(filling, (0, 5), [ambient], method="LSODA", rtol=1e-10, atol=1e-6)
    return float(run.y[0, -1]) - ambient


def _closed(upstream: float, downstream: float) -> float:
    """Saint-Venant and Wantzel's form by velocity and density in the throat, only to step the filling."""
    pressure = max(downstream, 0.5282817877171742 * upstream)
    cold = ROOM * (pressure / upstream) ** (1 - 1 / GAMMA)
    speed = math.sqrt(2 * GAMMA / (GAMMA - 1) * GAS * (ROOM - cold))
    return pressure / (GAS * cold) * speed


def lasting(ratio: float) -> float:
    """Share of the rounding error that scatter leaves: the mean of rounded readings, by summing over marks."""
    marks = np.arange(-40, 41)

    def squared_bias(true: float) -> float:
        edges = (marks[:, None] + np.array([-0.5, 0.5]) - true) / ratio
        chance = np.diff(stats.norm.cdf(edges), axis=1)[:, 0]
        return float((chance @ marks - true) ** 2)

    value, _ = integrate.quad(squared_bias, 0, 0.5, epsabs=1e-13, limit=200)
    return 2 * value * 12


def drawn(rows: list[tuple[float, float, str]], distances: list[float], seed: int) -> list[float]:
    """Share of draws of a ledger's error that lie at or below each distance."""
    generator = np.random.default_rng(seed)
    error = np.zeros(DRAWS)
    for size, dof, shape in rows:
        if shape == "rectangular":
            error += size * generator.uniform(-math.sqrt(3), math.sqrt(3), DRAWS)
        else:
            error += size * (generator.standard_t(dof, DRAWS) if dof else generator.standard_normal(DRAWS))
    return [float(np.mean(error <= distance)) for distance in distances]


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


def posterior_spread(readings: list[float], prior: float, dof: float) -> tuple[float, float]:
    """Pooled spread from Bayes' rule on a grid: 1/sqrt of the posterior mean of 1/sigma²."""
    variance = np.exp(np.linspace(math.log(1e-6), math.log(1e6), 400_001))
    own = np.var(readings, ddof=1) * (len(readings) - 1)
    exponent = -(dof + len(readings) - 1) / 2 * np.log(variance) - (dof * prior**2 + own) / (2 * variance)
    weight = np.exp(exponent - exponent.max())  # flat in log(variance) steps, the mean integrated out
    weight /= weight.sum()
    mean = float(weight @ (1 / variance))
    second = float(weight @ (1 / variance**2))
    return 1 / math.sqrt(mean), 2 * mean**2 / (second - mean**2)


def simulated_leak(
    supply: float, cylinder: float, step: float, match: float, count: int
) -> dict[str, list[float]]:
    """Half-intervals of a leak-down by drawing scatter, rounding and match, root of each ratio by search."""
    generator = np.random.default_rng(8)
    draws = 200_000
    fraction = (supply - cylinder) / supply
    error = generator.standard_normal(draws) * 0.01 / math.sqrt(count)
    error += generator.uniform(-match, match, draws) / supply
    marks = step / supply * math.hypot(1, cylinder / supply) / math.sqrt(12 * count)
    error += generator.standard_normal(draws) * marks
    low, high = np.quantile(error, [0.025, 0.975]) + fraction
    ends = [fraction, float(low), float(high)]
    sizes = [
        _closed(AMBIENT + supply, AMBIENT + supply * (1 - end))
        / _closed(AMBIENT + supply * (1 - end), AMBIENT)
        for end in ends
    ]
    area = math.pi * 1e-6 / 4 * 0.8
    flows = [area * throat_flow(AMBIENT + supply, AMBIENT + supply * (1 - end), ROOM) / 1.185 for end in ends]
    return {"fraction": ends, "hole": [1e-3 * math.sqrt(size) for size in sizes], "free_air": flows}


def percent_interval(fraction: float, step: float, count: int) -> list[float]:
    """Mean and 95 % interval of a percentage, scatter of one point and rounding drawn."""
    generator = np.random.default_rng(9)
    error = 0.01 * generator.standard_normal(DRAWS) / math.sqrt(count)
    error += generator.uniform(-step / 2, step / 2, DRAWS) * math.sqrt(
        (1 + (count - 1) * lasting(0.4 * 0.5)) / count
    )
    low, high = np.quantile(error, [0.025, 0.975])
    return [fraction, fraction + float(low), fraction + float(high)]


def readings_to_verdict(distance: float, scatter: float, lasting_part: float, taken: int) -> int:
    """Fewest further readings after which chance is 95 % that a value as far from the limit is inside."""
    for further in range(1, 50):
        spread = math.hypot(scatter * math.sqrt(taken / (taken + further)), lasting_part)
        if stats.norm.cdf(distance / spread) >= 0.95:
            return further
    raise ValueError("no number of readings up to 50 settles it")


def checks() -> list[dict[str, object]]:
    """Every row of the table."""
    ratios = [0.999, 0.95, 0.8, 0.6, 0.53, 0.3]
    rows: list[dict[str, object]] = [
        {
            "id": "nozzle by quadrature along the isentrope",
            "of": "recipes.nozzle",
            "modules": ["gas"],
            "inputs": {"ratios": [ratios, ""], "upstream": [6e5, "Pa"], "temperature": [ROOM, "K"]},
            "expected": {"flow": [[throat_flow(6e5, ratio * 6e5, ROOM) for ratio in ratios], "kg/s"]},
            "rtol": 1e-7,
            "source": "energy equation integrated, throat pressure that passes most found by search (SciPy 1.17.1)",
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
            "source": "pressure in the cylinder stepped in time until it no longer changes (SciPy 1.17.1, LSODA)",
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
            "source": "pressure in the cylinder stepped in time until it no longer changes (SciPy 1.17.1, LSODA)",
        },
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
            "source": "number of readings raised one by one until the normal probability is 95 % (SciPy 1.17.1)",
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
            "id": "worst pair of three",
            "of": "recipes.worst_of_equals",
            "modules": ["extremes", "conformity"],
            "inputs": {"values": [[0.0, 4.0, 1.0], ""], "spread": 1.0, "upper": 1.5},
            "expected": {
                "difference": 4.0,
                "probability": float(
                    stats.norm.cdf((1.5 - 4) / math.sqrt(2)) - stats.norm.cdf((-1.5 - 4) / math.sqrt(2))
                ),
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
                "probability": float(
                    stats.norm.cdf((1.5 - 5) / math.sqrt(2)) - stats.norm.cdf((-1.5 - 5) / math.sqrt(2))
                ),
                "decision": "beyond",
            },
            "rtol": 1e-8,
            "source": "SciPy 1.17.1, stats.norm; 0.7 % is less than a third of 5 %",
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
    spread, dof = posterior_spread([1.0, 2.5, 1.5], 0.9, 4.0)
    rows.append(
        {
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
            "source": "posterior of the variance on a grid of 400 001 points; dof from its mean and variance (NumPy 2)",
        }
    )
    rows += [_ledger(name, ledger, seed) for seed, (name, ledger) in enumerate(LEDGERS.items(), 1)]
    return rows


def _ledger(name: str, ledger: list[tuple[float, float, str]], seed: int) -> dict[str, object]:
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
