"""Makes sums.toml: figures got by another road than the formulas take.

`python -m tests.check_values.generate_sums` from the top folder writes it again. Derivatives are taken
numerically in 40 digits, cylinders are solved from their boundary conditions, cooling is integrated, springs
are strings of small masses, cranks are turned as rigid bodies, likelihoods are climbed by a general
optimiser.
"""

from pathlib import Path
from typing import Any

import mpmath as mp
import numpy as np
import tomli_w
from scipy import stats
from scipy.integrate import solve_ivp
from scipy.optimize import brentq, least_squares, minimize

TABLE = Path(__file__).with_name("sums.toml")
Row = dict[str, Any]
mp.mp.dps = 40
R, L, E = mp.mpf("0.0317"), mp.mpf("0.110"), mp.mpf("0.0015")
CRANK = {"crank_radius": float(R), "rod_length": float(L), "pin_offset": float(E)}


def row(name: str, formula: str, given: Row, expect: Any, source: str, *, rtol: float = 1e-6) -> Row:
    """One check as the table holds it; lists become arrays by standing with an empty unit."""
    room = formula.partition(".")[0]
    made = {"modules": ["fits"]} if room == "sum_recipes" else {}
    return made | {
        "id": name,
        "of": formula,
        "inputs": {key: _paired(value) for key, value in given.items()},
        "expected": {key: _paired(one) for key, one in _named(expect).items()},
        "rtol": rtol,
        "kind": "numerical",
        "source": source,
        "evidence": "computed by the generator beside the table",
    }


def _named(expect: Any) -> Row:
    return expect if isinstance(expect, dict) else {"value": expect}


def _paired(value: Any) -> Any:
    plain = isinstance(value, list) and value and not isinstance(value[0], str | bool | dict)
    return [value, ""] if plain else value


def height(turned: Any, radius: Any = R, rod: Any = L, offset: Any = E) -> Any:
    """Pin over the crank's centre: where the rod's circle about the crankpin meets the cylinder's axis."""
    return radius * mp.cos(turned) + mp.sqrt(rod**2 - (radius * mp.sin(turned) - offset) ** 2)


def top_angle() -> Any:
    """Where the pin stands highest, found and not known."""
    return mp.findroot(lambda turned: mp.diff(height, turned), mp.mpf("0.01"))


def cranks() -> list[Row]:
    source = "40-digit numerical derivatives of the pin's height with mpmath 1.3.0, TDC found as its maximum"
    first = top_angle()
    bottom = mp.findroot(lambda turned: mp.diff(height, turned), mp.pi + mp.mpf("0.02"))
    angles = [mp.radians(mp.mpf(one)) for one in (-150, -60, -10, 5, 40, 95, 170)]
    depth = [float(height(first) - height(first + one)) for one in angles]
    slope = [float(-mp.diff(height, first + one)) for one in angles]
    bend = [float(-mp.diff(height, first + one, 2)) for one in angles]
    turn = [float(one) for one in angles]
    area = mp.pi / 4 * mp.mpf("0.095") ** 2
    moving = {"angle": turn, **CRANK}
    peak = max(abs(mp.diff(height, first + mp.mpf(one) / 500, 2)) for one in range(-600, 601))
    closing = mp.radians(62)
    trapped = 1 + area * (height(first) - height(first + closing - mp.pi)) / mp.mpf("38e-6")
    return [
        row("offset stroke", "slider_crank.stroke", CRANK, float(height(first) - height(bottom)), source),
        row("offset depth", "slider_crank.piston_depth", moving, depth, source),
        row("offset arm", "slider_crank.depth_per_angle", moving, slope, source),
        row(
            "offset velocity",
            "slider_crank.piston_velocity",
            moving | {"angular_speed": 900.0},
            [900.0 * one for one in slope],
            source,
        ),
        row(
            "offset acceleration",
            "slider_crank.piston_acceleration",
            moving | {"angular_speed": 900.0},
            [900.0**2 * one for one in bend],
            source,
        ),
        row(
            "offset peak acceleration",
            "slider_crank.peak_piston_acceleration",
            CRANK | {"angular_speed": 900.0},
            float(peak) * 900.0**2,
            source,
            rtol=1e-5,
        ),
        row(
            "offset moment",
            "turning_moment.turning_moment",
            {"cylinder_pressure": 700e3, "crankcase_pressure": 110e3, "bore": 0.095, **moving},
            [float(590000 * area * mp.mpf(one)) for one in slope],
            source,
        ),
        row(
            "offset angle before a depth",
            "dead_centre.angle_at_depth",
            {"depth": depth[1], **CRANK, "side": "before"},
            float(mp.radians(60)),
            source,
        ),
        row(
            "offset angle after a depth",
            "dead_centre.angle_at_depth",
            {"depth": depth[4], **CRANK, "side": "after"},
            float(mp.radians(40)),
            source,
        ),
        row(
            "trapped ratio with offset",
            "chamber.trapped_ratio",
            {"bore": 0.095, "clearance": 38e-6, "intake_closing": float(closing), **CRANK},
            float(trapped),
            source,
        ),
        row(
            "crank radius for the offset stroke",
            "slider_crank.crank_radius_for_stroke",
            {
                "piston_stroke": float(height(first) - height(bottom)),
                "rod_length": float(L),
                "pin_offset": float(E),
            },
            float(R),
            source,
        ),
        stop(first, source),
    ]


def stop(first: Any, source: str) -> Row:
    """A stop 9 mm below TDC, met from both sides, the wheel set 7 degrees wrong."""
    down = mp.mpf("0.009")
    after = mp.findroot(lambda one: height(first) - height(first + one) - down, mp.mpf("0.8"))
    before = mp.findroot(lambda one: height(first) - height(first + one) - down, mp.mpf("-0.8"))
    wrong = mp.radians(7)
    expect = {
        "wheel_reading": float(wrong),
        "plain_midpoint": float(wrong + (after + before) / 2),
        "midpoint_error": float((after + before) / 2),
        "stop_before": float(-before),
        "stop_after": float(after),
        "stop_depth": float(down),
    }
    given = {"first_reading": float(wrong + before), "second_reading": float(wrong + after), **CRANK}
    return row("stop with offset", "dead_centre.dead_centre_from_stop", given, expect, source)


def cylinders() -> list[Row]:
    """Two rings each u = A·r + B/r + alpha·dT·r, constants from the boundary conditions by a linear solve."""
    a, b, c, tight, warm = 0.006, 0.016, 0.030, 0.000045, 60.0
    hub = {"modulus": 72e9, "poisson": 0.33, "expansion": 21.5e-6, "yield_stress": 180e6}
    shaft = {
        "modulus": 206e9,
        "poisson": 0.29,
        "expansion": 11.7e-6,
        "yield_stress": 700e6,
    }

    def stress(part: Row, radius: float) -> np.ndarray:
        stiff = part["modulus"]
        return np.array([stiff / (1.0 - part["poisson"]), -stiff / ((1.0 + part["poisson"]) * radius**2)])

    system = np.zeros((4, 4))
    system[0, :2], system[1, 2:] = stress(shaft, a), stress(hub, c)
    system[2, :2], system[2, 2:] = stress(shaft, b), -stress(hub, b)
    system[3] = [-b, -1.0 / b, b, 1.0 / b]
    gap = tight / 2.0 + (shaft["expansion"] - hub["expansion"]) * warm * b
    inner, outer = np.split(np.linalg.solve(system, [0.0, 0.0, 0.0, gap]), 2)

    def hoop(part: Row, constants: np.ndarray, radius: float) -> float:
        return float(stress(part, radius) @ (constants * [1.0, -1.0]))

    pressure = -float(stress(hub, b) @ outer)
    hub_hoop = hoop(hub, outer, b)
    tensor = np.diag([hub_hoop, -pressure, 0.0])
    deviator = tensor - np.trace(tensor) / 3.0 * np.eye(3)
    expect = {
        "interference": 2.0 * gap,
        "pressure": pressure,
        "hub_hoop": hub_hoop,
        "hub_von_mises": float(np.sqrt(1.5 * np.sum(deviator**2))),
        "shaft_hoop": hoop(shaft, inner, b),
        "shaft_bore_hoop": hoop(shaft, inner, a),
        "shaft_von_mises": abs(hoop(shaft, inner, a)),
        "hub_growth": 2.0 * float(outer @ [c, 1.0 / c]),
        "shaft_bore_shrink": -2.0 * float(inner @ [a, 1.0 / a]),
        "axial_force": 0.13 * pressure * 2.0 * np.pi * b * 0.018,
        "torque": 0.13 * pressure * 2.0 * np.pi * b * 0.018 * b,
        "hub_yields": bool(np.sqrt(1.5 * np.sum(deviator**2)) > 180e6),
        "shaft_yields": False,
        "holds": True,
    }
    given = {
        "diameter": 2 * b,
        "interference": tight,
        "length": 0.018,
        "hub_outside": 2 * c,
        "shaft_bore": 2 * a,
        **{f"hub_{key}": value for key, value in hub.items()},
        **{f"shaft_{key}": value for key, value in shaft.items()},
        "friction": 0.13,
        "temperature": 293.15 + warm,
    }
    source = "linear solve of the boundary conditions of two elastic rings in plane stress, NumPy 2.4"
    return [row("hollow steel shaft in a warm aluminium hub", "sum_recipes.press_fit", given, expect, source)]


def cooling() -> list[Row]:
    """Both temperatures integrated until the gap is gone."""
    d, tight, ah, ash, hub, part, ch, cs, h = 0.062, 9e-5, 23e-6, 11.5e-6, 393.15, 278.15, 450.0, 70.0, 5.0

    def change(_time: float, state: np.ndarray) -> list[float]:
        passed = h * (state[0] - state[1])
        return [-passed / ch, passed / cs]

    def gap(_time: float, state: np.ndarray) -> float:
        return d * (ah * (state[0] - 293.15) - ash * (state[1] - 293.15)) - tight

    gap.terminal = True  # type: ignore[attr-defined]
    found = solve_ivp(change, (0.0, 500.0), [hub, part], events=gap, rtol=1e-11, atol=1e-11)
    given = {
        "interference": tight,
        "diameter": d,
        "hub_expansion": ah,
        "shaft_expansion": ash,
        "hub_temperature": hub,
        "shaft_temperature": part,
        "hub_capacity": ch,
        "shaft_capacity": cs,
        "conductance": h,
    }
    source = "both temperatures integrated with SciPy's solve_ivp until the gap is gone"
    return [
        row("open time of a heated case", "shrink_fits.open_time", given, float(found.t_events[0][0]), source)
    ]


def springs() -> list[Row]:
    """A spring as 400 masses between fixed ends: its lowest eigenvalue."""
    d, mean, coils, shear, density, count = 0.004, 0.024, 5.0, 79.3e9, 7850.0, 400
    polar = np.pi * d**4 / 32.0
    rate = shear * polar / (np.pi * mean * coils * (mean / 2.0) ** 2)  # wire twisted through its whole length
    mass = density * np.pi / 4.0 * d**2 * np.pi * mean * coils
    chain = 2.0 * np.eye(count - 1) - np.eye(count - 1, k=1) - np.eye(count - 1, k=-1)
    lowest = np.linalg.eigvalsh(chain * rate * count / (mass / count))[0]
    given = {"wire": d, "mean_diameter": mean, "active_coils": coils, "shear_modulus": shear}
    source = (
        "torsion of the whole wire, and the lowest eigenvalue of 400 masses between fixed ends, NumPy 2.4"
    )
    return [
        row("rate from the twist of the wire", "springs.spring_rate", given, rate, source),
        row(
            "first surge of a chain of masses",
            "springs.surge_frequency",
            given | {"density": density},
            float(np.sqrt(lowest)) / (2.0 * np.pi),
            source,
            rtol=1e-5,
        ),
    ]


def dials() -> list[Row]:
    """Readings round a shaft fitted by a general optimiser, errors from its Jacobian."""
    random = np.random.default_rng(7)
    places = np.radians([0.0, 25.0, 60.0, 95.0, 130.0, 170.0, 215.0, 250.0, 300.0, 340.0])
    read = 3e-6 + 14e-6 * np.cos(places - 0.7) + 4e-6 * np.cos(2.0 * places - 1.9)
    read = np.round(read + 1e-6 * random.standard_normal(len(places)), 7)

    def residual(x: np.ndarray) -> np.ndarray:
        wave = x[0] + x[1] * np.cos(places - x[2]) + x[3] * np.cos(2.0 * places - x[4])
        return (wave - read * 1e6) / 1.0

    fit = least_squares(residual, [0.0, 10.0, 0.5, 3.0, 1.5], xtol=1e-15, ftol=1e-15, gtol=1e-15)
    freedom = len(places) - 5
    variance = 2.0 * fit.cost / freedom * np.linalg.inv(fit.jac.T @ fit.jac)
    errors = np.sqrt(np.diag(variance))
    expect = {
        "amplitude": fit.x[1] * 1e-6,
        "high_angle": float(fit.x[2]),
        "indicator_reading": 2.0 * fit.x[1] * 1e-6,
        "ovality": 4.0 * fit.x[3] * 1e-6,
        "amplitude_error": errors[1] * 1e-6,
        "high_angle_error": float(errors[2]),
        "ovality_error": 4.0 * errors[3] * 1e-6,
        "residual_deviation": float(np.sqrt(2.0 * fit.cost / freedom)) * 1e-6,
        "degrees_of_freedom": freedom,
    }
    given = {"angles": places.tolist(), "readings": read.tolist(), "ovality": True}
    source = "SciPy's least_squares in amplitudes and angles, errors from its Jacobian"
    return [row("runout and ovality", "runout.runout", given, expect, source, rtol=1e-5), turned_crank()]


def turned_crank() -> Row:
    """A crank of two straight halves turned on two supports as a rigid body, dials read at every degree."""
    displacement, tilt = np.array([4e-6, -11e-6]), np.array([9e-5, 6e-5])
    left, right, first, last = -0.085, 0.09, -0.05, 0.055
    pin, throw = 0.4, 0.032

    def axis(z: float) -> np.ndarray:
        return np.zeros(2) if z < 0.0 else displacement + tilt * z

    def vector(z: float) -> list[float]:
        share = (z - first) / (last - first)
        centre = (1.0 - share) * axis(first) + share * axis(last)
        turns = np.radians(np.arange(360.0))
        reading = []
        for turn in turns:  # the body turned so that the place at shaft angle `turn` is under the dial
            back = np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])
            reading.append((back @ (axis(z) - centre))[0])
        wave = np.fft.rfft(reading)[1] / 180.0
        return [float(wave.real), float(-wave.imag)]

    along = np.array([np.cos(pin), np.sin(pin)])
    across = np.array([-np.sin(pin), np.cos(pin)])
    expect = {
        "twist": -float(displacement @ across) / throw,
        "spread": float(tilt @ along),
        "skew": float(tilt @ across),
        "throw_difference": float(displacement @ along),
        "cross_offset": float(displacement @ across),
    }
    given = {
        "left_vector": vector(left),
        "right_vector": vector(right),
        "left_dial": left,
        "right_dial": right,
        "left_support": first,
        "right_support": last,
        "throw": throw,
        "pin_angle": pin,
    }
    source = "rigid body turned on two supports degree by degree, dials read and Fourier analysed"
    return row("pressed crank on two supports", "crank_truing.crank_error", given, expect, source)


def lives() -> list[Row]:
    """A censored Weibull sample climbed by SciPy's own fit."""
    times = np.array(
        [31.0, 44.0, 52.0, 60.0, 61.0, 75.0, 80.0, 92.0, 101.0, 104.0, 120.0, 120.0, 140.0, 140.0]
    )
    failed = np.array([1, 1, 1, 0, 1, 1, 1, 1, 0, 1, 1, 0, 1, 0], dtype=bool)
    sample = stats.CensoredData.right_censored(times, ~failed)
    shape, _, scale = stats.weibull_min.fit(sample, floc=0, optimizer=_climb)

    def loss(x: np.ndarray) -> float:
        return -float(
            stats.weibull_min.logpdf(times[failed], x[0], scale=x[1]).sum()
            + stats.weibull_min.logsf(times[~failed], x[0], scale=x[1]).sum()
        )

    spread = np.sqrt(np.diag(np.linalg.inv(_bend(loss, np.array([shape, scale])))))
    expect = {
        "shape": float(shape),
        "scale": float(scale),
        "shape_error": float(spread[0]),
        "scale_error": float(spread[1]),
        "log_likelihood": -loss(np.array([shape, scale])),
        "tenth_life": float(stats.weibull_min.ppf(0.1, shape, scale=scale)),
        "failures": int(failed.sum()),
    }
    given = {"times": times.tolist(), "failed": failed.tolist()}
    source = "SciPy 1.17 weibull_min.fit on censored data; errors from a numerical Hessian"
    return [row("censored Weibull life", "repairs.weibull_life", given, expect, source, rtol=1e-4)]


def _climb(func: Any, x0: Any, args: Any = (), disp: Any = 0) -> Any:
    del disp
    return minimize(
        func, x0, args=args, method="Nelder-Mead", options={"xatol": 1e-10, "fatol": 1e-12, "maxiter": 9999}
    ).x


def _bend(loss: Any, at: np.ndarray) -> np.ndarray:
    steps = 1e-3 * at
    found = np.zeros((2, 2))
    for i in range(2):
        for j in range(2):
            for a, b, sign in ((1, 1, 1), (1, -1, -1), (-1, 1, -1), (-1, -1, 1)):
                shifted = at.copy()
                shifted[i] += a * steps[i] / 2.0
                shifted[j] += b * steps[j] / 2.0
                found[i, j] += sign * loss(shifted) / (steps[i] * steps[j])
    return found


def _area(areas: np.ndarray, index: int) -> float:
    return float(areas[index])


def _share(areas: np.ndarray, index: int) -> float:
    return float(areas[index] / areas.sum())


def leaks() -> list[Row]:
    """Ends of a share's interval as a constrained optimum, by a general optimiser from many starts."""
    names = ["intake", "exhaust", "crankcase"]
    read, spread = np.array([52.0, 21.0, 3.0]), np.array([1.5, 1.5, 1.0])  # 1e-8 m²
    parts = np.array([[1.0, 1.0, 1.0], [0.0, 1.0, 0.0], [1.0, 0.0, 0.0]])

    def worse(areas: np.ndarray) -> float:
        return float(np.sum(((parts @ areas - read) / spread) ** 2))

    bar = 3.841458820694124
    best = np.array([3.0, 21.0, 28.0])
    limit = {"type": "ineq", "fun": lambda areas: bar - worse(areas)}
    ends = {}
    for index, name in enumerate(names):
        for kind, goal in (("area", _area), ("share", _share)):
            for sign, end in ((1.0, "low"), (-1.0, "high")):
                found = minimize(
                    lambda areas, sign, goal, index: sign * goal(areas, index),
                    best,
                    args=(sign, goal, index),
                    bounds=[(0.0, None)] * 3,
                    constraints=limit,
                    method="SLSQP",
                    options={"ftol": 1e-12, "maxiter": 500},
                )
                ends[name, f"{kind}_{end}"] = goal(found.x, index)
    given = {
        "paths": names,
        "areas": (read * 1e-8).tolist(),
        "uncertainties": (spread * 1e-8).tolist(),
        "parts": parts.tolist(),
    }
    expect = {"total": 52e-8} | {
        f"{name} area": float(one) * 1e-8 for name, one in zip(names, best, strict=True)
    }
    expect |= {f"{name} share": float(one) / 52.0 for name, one in zip(names, best, strict=True)}
    for (name, key), value in ends.items():
        expect[f"{name} {key}"] = value * (1e-8 if key.startswith("area") else 1.0)
    source = "SciPy's SLSQP: the farthest share and area with chi-square within 3.84 of the least"
    made = row("leak budget of three paths", "sum_recipes.leak_budget", given, expect, source, rtol=2e-4)
    return [made | {"modules": ["leak_budget", "leak_paths"]}]


def forecast() -> list[Row]:
    """Where the likelihood, climbed with the line held to the limit at a time, falls by the bar for 90 %."""
    times = np.array([9.0, 31.0, 52.0, 80.0])
    values, spread, shared, limit = np.array([21.5, 25.0, 30.5, 34.0]), 1.2, 2.0, 52.0
    weights = np.linalg.inv(spread**2 * np.eye(4) + shared**2)

    def worse(line: np.ndarray) -> float:
        miss = values - line[0] - line[1] * times
        return float(miss @ weights @ miss)

    def held(slope: np.ndarray, at: float) -> float:
        return worse(np.array([limit - slope[0] * at, slope[0]]))

    tight = {"xatol": 1e-12, "fatol": 1e-14, "maxiter": 9999}
    least = minimize(worse, [20.0, 0.2], method="Nelder-Mead", options=tight)
    bar = least.fun + stats.chi2.ppf(0.90, 1)

    def over(at: float) -> float:
        return float(minimize(held, [0.2], args=(at,), method="Nelder-Mead", options=tight).fun) - bar

    best = float((limit - least.x[0]) / least.x[1])
    expect = {"at_limit": best, "earliest": brentq(over, 80.0, best), "latest": brentq(over, best, 1000.0)}
    given = {
        "times": (times * 3600.0).tolist(),
        "values": (values * 1e-6).tolist(),
        "spread": spread * 1e-6,
        "shared": shared * 1e-6,
        "limit": limit * 1e-6,
        "rising": True,
    }
    seconds = {key: value * 3600.0 for key, value in expect.items()}
    source = "SciPy: likelihood climbed with the line held to the limit, and where it falls by 2.71"
    made = row(
        "forecast by profile likelihood", "sum_recipes.wear_forecast", given, seconds, source, rtol=1e-5
    )
    return [made | {"modules": ["wear"]}]


def valves() -> list[Row]:
    """A lobe known as a formula: points every 5 degrees, the least gap from the formula itself."""
    tilt, shut = 0.21, 0.0041

    def lift(angle: Any) -> Any:
        return mp.mpf("0.0085") * mp.cos(mp.pi * (angle - mp.radians(105)) / mp.radians(250)) ** 2

    def gap(angle: Any) -> Any:
        centred = height(angle, R, L, mp.mpf(0))
        return shut + (R + L - centred) * mp.cos(tilt) - lift(angle)

    nearest = mp.findroot(lambda angle: mp.diff(gap, angle), mp.mpf("0.2"))
    turns = np.radians(np.arange(-20.0, 65.0, 5.0))
    given = {
        "angles": turns.tolist(),
        "lifts": [float(lift(mp.mpf(float(one)))) for one in turns],
        "closed_gap": shut,
        "valve_angle": tilt,
        "crank_radius": float(R),
        "rod_length": float(L),
    }
    source = "mpmath 1.3.0: the turning point of the gap under a lobe given as a formula"
    made = row(
        "valve to piston under a known lobe",
        "valve_to_piston.closest_approach",
        given,
        {"gap": float(gap(nearest))},
        source,
    )
    lone = {
        "angle": 0.3,
        "lift": float(lift(mp.mpf("0.3"))),
        "closed_gap": shut,
        "valve_angle": tilt,
        "crank_radius": float(R),
        "rod_length": float(L),
    }
    shut_gap = {
        "face_height": 1e-3,
        "gasket_thickness": 6e-4,
        "deck": 2e-4,
        "pocket_depth": 3e-3,
        "valve_angle": float(mp.pi / 3 - mp.mpf("0.1")),
    }
    return [
        made | {"atol": 5e-6},
        row("valve gap at one angle", "valve_to_piston.valve_gap", lone, float(gap(mp.mpf("0.3"))), source),
        row(
            "shut valve's gap",
            "valve_to_piston.closed_valve_gap",
            shut_gap,
            float(mp.mpf("0.0018") * mp.cos(mp.pi / 3 - mp.mpf("0.1")) + mp.mpf("0.003")),
            "mpmath 1.3.0",
        ),
    ]


def rings() -> list[Row]:
    """Hot gap from both circumferences grown, nothing left out."""
    bore, cold = 0.0913, 0.0004
    grown = np.pi * bore * (1.0 + 21.5e-6 * 100.0) - (np.pi * bore - cold) * (1.0 + 11.4e-6 * 150.0)
    given = {
        "cold_gap": cold,
        "bore": bore,
        "ring_expansion": 11.4e-6,
        "ring_rise": 150.0,
        "barrel_expansion": 21.5e-6,
        "barrel_rise": 100.0,
    }
    made = row(
        "hot gap from grown circumferences",
        "ring_gap.hot_gap",
        given,
        grown,
        "both circumferences grown exactly",
    )
    return [made | {"atol": 1e-6}]


def rows() -> list[Row]:
    """Every check of the table."""
    return [
        *cranks(),
        *cylinders(),
        *cooling(),
        *springs(),
        *dials(),
        *lives(),
        *leaks(),
        *forecast(),
        *valves(),
        *rings(),
    ]


def main() -> None:
    TABLE.write_text(
        "# Made by generate_sums.py beside it; SI.\n" + tomli_w.dumps({"check": rows()}), encoding="utf-8"
    )


if __name__ == "__main__":
    main()
