"""Numerical routes of another kind than our formulas: quadrature, search, stepping in time, draws."""

import math

import numpy as np
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
    """Share of the rounding error that scatter leaves: mean of rounded readings, summed over the marks."""
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
