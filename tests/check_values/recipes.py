"""Checks that take more than one formula, each written out. `calc` may hold altered copies."""

import math
import statistics
from typing import Any

import numpy as np

Numbers = Any


def eighty_psi_test(calc: Any, supply: float, reading: Numbers, limit: float) -> dict[str, Any]:
    allowed = calc.leakdown.leakage_fraction(supply, limit)
    return {"below": (calc.leakdown.leakage_fraction(supply, reading) > allowed + 1e-12).astype(float)}


def flow_through_restrictor(
    calc: Any,
    diameter: float,
    supply: float,
    ambient: float,
    temperature: float,
    gas_constant: float,
    reading: Numbers,
) -> dict[str, Any]:
    area = calc.leakdown.effective_area(diameter, 1.0)
    flow = calc.gas.nozzle_mass_flow(
        area, ambient + supply, ambient + reading, temperature, gas_constant=gas_constant
    )
    return {"flow": flow}


def area_by_diameter(calc: Any, first: float, second: float) -> dict[str, Any]:
    return {"ratio": calc.leakdown.effective_area(second) / calc.leakdown.effective_area(first)}


def equivalent_hole(calc: Any, restrictor: float, supply: float, reading: Numbers) -> dict[str, Any]:
    area = calc.leakdown.effective_area(restrictor, 0.8)
    leak = calc.leakdown.leak_area(area, supply, reading)
    return {"hole": calc.leakdown.hole_diameter(leak.area, 0.8)}


def gauge_for_hole(calc: Any, hole: Numbers, restrictor: float, supply: float) -> dict[str, Any]:
    leak, own = (calc.leakdown.effective_area(size, 1.0) for size in (hole, restrictor))
    return {"reading": calc.tester.cylinder_gauge_pressure(leak, own, supply)}


def restrictor_from_hole(calc: Any, hole: Numbers, supply: float, reading: Numbers) -> dict[str, Any]:
    area = calc.tester.restrictor_area_from_hole(calc.leakdown.effective_area(hole), supply, reading)
    return {"diameter": calc.leakdown.hole_diameter(area, calc.leakdown.DISCHARGE_COEFFICIENT)}


def _leak(calc: Any, fraction: float, restrictor: float, supply: float) -> tuple[Any, float]:
    own = calc.leakdown.effective_area(restrictor)
    return calc.leakdown.leak_area(own, supply, supply * (1 - fraction)).area, own


def other_testers(
    calc: Any, fraction: float, restrictor: float, supply: float, others: Numbers
) -> dict[str, Any]:
    leak, _ = _leak(calc, fraction, restrictor, supply)
    areas = calc.leakdown.effective_area(others)
    return {"fraction": calc.tester.converted_fraction(leak, areas, supply)}


def other_supplies(
    calc: Any, fraction: float, restrictor: float, supply: float, others: Numbers
) -> dict[str, Any]:
    leak, own = _leak(calc, fraction, restrictor, supply)
    return {"fraction": calc.tester.converted_fraction(leak, own, others)}


def conductance_of_hole(calc: Any, diameter: float, density: float, temperature: float) -> dict[str, Any]:
    area = math.pi * diameter**2 / 4
    return {"conductance": calc.gas.sonic_conductance(area, density, temperature, gas_constant=287.0)}


def end_gauge(
    calc: Any,
    standard: float,
    standard_spread: float,
    difference: float,
    difference_spreads: Numbers,
    difference_dofs: Numbers,
    expansion: float,
    offset: float,
    expansion_half_width: float,
    temperature_half_width: float,
) -> dict[str, Any]:
    """l = l_s + d - l_s·(d_alpha·theta + alpha_s·d_theta), as the example builds it up."""
    effect, measured = calc.ledger.Effect, calc.ledger.Measured
    own = calc.repeats.check_effect("standard", "", 3 * standard_spread, 3.0, 18)
    first = measured(standard, (own,))
    rows = zip(("repeats", "random", "systematic"), difference_spreads, difference_dofs, strict=True)
    second = measured(difference, tuple(effect(key, "", u, nu, "normal") for key, u, nu in rows))
    unlike = calc.repeats.half_width_effect(
        "unlike expansion", "", standard * offset * expansion_half_width, 50
    )
    warmer = calc.repeats.half_width_effect("warmer", "", standard * expansion * temperature_half_width, 2)
    heat = measured(0.0, (unlike, warmer))
    length = calc.ledger.combination([(1, first), (1, second), (-1, heat)])
    expanded = calc.ledger.expanded_uncertainty(length, 0.99)
    return {
        "length": length.value,
        "difference_spread": calc.ledger.standard_uncertainty(second),
        "spread": calc.ledger.standard_uncertainty(length),
        "dof": calc.ledger.effective_dof(length),
        "used_dof": expanded.dof,
        "factor": expanded.factor,
        "expanded": expanded.half_width,
    }


def impedance(calc: Any, voltage: Numbers, current: Numbers, angle: Numbers) -> dict[str, Any]:
    """R = V cos(phi)/I, X = V sin(phi)/I, Z = V/I to first order about the means."""
    together = {"V": list(voltage), "I": list(current), "phi": list(angle)}
    read = calc.repeats.joint_repeats("set", "", together)
    v, i, phi = (read[key].value for key in ("V", "I", "phi"))
    resistance, reactance, size = v * math.cos(phi) / i, v * math.sin(phi) / i, v / i
    slopes = {
        "R": (resistance, (math.cos(phi) / i, -resistance / i, -reactance)),
        "X": (reactance, (math.sin(phi) / i, -reactance / i, resistance)),
        "Z": (size, (1 / i, -size / i, 0.0)),
    }
    made = {}
    for key, (value, slope) in slopes.items():
        terms = list(zip(slope, read.values(), strict=True))
        made[key] = calc.ledger.combination(terms, value - sum(weight * one.value for weight, one in terms))
    pairs = (("R", "X"), ("R", "Z"), ("X", "Z"))
    return {
        "values": [one.value for one in made.values()],
        "spreads": [calc.ledger.standard_uncertainty(one) for one in made.values()],
        "correlations": [calc.ledger.correlation(made[one], made[other]) for one, other in pairs],
        "dof": calc.ledger.effective_dof(made["Z"]),
    }


def student_table(calc: Any, levels: Numbers, dofs: Numbers) -> dict[str, Any]:
    return {"factors": [[calc.distributions.student_factor(level, nu) for level in levels] for nu in dofs]}


def effective_dof_of(calc: Any, spreads: Numbers, dofs: Numbers) -> dict[str, Any]:
    rows = enumerate(zip(spreads, dofs, strict=True))
    effects = tuple(calc.ledger.Effect(str(turn), "", u, nu, "normal") for turn, (u, nu) in rows)
    return {"dof": calc.ledger.effective_dof(calc.ledger.Measured(0.0, effects))}


def _normal(calc: Any, value: float, spread: float) -> Any:
    return calc.ledger.Measured(value, (calc.ledger.Effect("one", "", spread, math.inf, "normal"),))


def rectangles_inside(calc: Any, half_width: float, count: int, reach: float) -> dict[str, Any]:
    spread = half_width / math.sqrt(3)
    rows = [calc.ledger.Effect(str(turn), "", spread, math.inf, "rectangular") for turn in range(count)]
    value = calc.ledger.Measured(0.0, tuple(rows))
    return {"probability": calc.conformity.conformity_probability(value, -reach, reach)}


def one_sided(calc: Any, distances: Numbers) -> dict[str, Any]:
    values = [_normal(calc, -distance, 1.0) for distance in distances]
    upper = [0.0] * len(values)
    return {"probabilities": calc.conformity.conformity_probabilities(values, [None] * len(values), upper)}


def two_sided(calc: Any, values: Numbers, spread: float, lower: float, upper: float) -> dict[str, Any]:
    ledgers = [_normal(calc, value, spread) for value in values]
    count = len(ledgers)
    return {
        "outside": 1 - calc.conformity.conformity_probabilities(ledgers, [lower] * count, [upper] * count)
    }


def acceptance(calc: Any, spread: float, limit: float) -> dict[str, Any]:
    guard = calc.conformity.guard_band(_normal(calc, limit, spread))
    there = _normal(calc, limit - guard, spread)
    return {
        "guard": guard,
        "accepted": limit - guard,
        "probability_there": calc.conformity.conformity_probability(there, None, limit),
    }


def same_steel(
    calc: Any, size: float, temperature: float, expansion: float, half_width: float
) -> dict[str, Any]:
    steel = calc.thermal.Warmth(temperature, expansion, half_width, 1e-6, "one thermometer", "steel")
    at_20 = calc.thermal.measured_at_20(calc.ledger.Measured(size, ()), steel, steel)
    return {"value": at_20.value, "spread": calc.ledger.standard_uncertainty(at_20)}


def one_thermometer(
    calc: Any,
    size: float,
    gauge_expansion: float,
    part_expansion: float,
    half_width: float,
    warm: float,
    expansion_half_width: float,
) -> dict[str, Any]:
    gauge = calc.thermal.Warmth(warm, gauge_expansion, half_width, 0.0, "one", "steel")
    part = calc.thermal.Warmth(warm, part_expansion, half_width, expansion_half_width, "one", "aluminium")
    at_20 = calc.thermal.measured_at_20(calc.ledger.Measured(size, ()), gauge, part)
    rows = {row.key: abs(row.effect) for row in at_20.effects}
    bare = calc.ledger.Measured(1.0, (calc.ledger.Effect("own", "", 1.0, math.inf, "normal"),))
    scaled = calc.thermal.measured_at_20(bare, gauge, part)
    own = next(row.effect for row in scaled.effects if row.key == "own")
    return {"thermometer": rows["one"], "expansions": rows["expansion of aluminium"], "scale": own}


def micrometer_classes(calc: Any, sizes: Numbers) -> dict[str, Any]:
    return {"limits": [calc.gauge_classes.micrometer_permissible_error(size) for size in sizes]}


def expansions(calc: Any, keys: list[str]) -> dict[str, Any]:
    return {"expansions": [calc.expansion.material(key).expansion for key in keys]}


def range_of_equals(calc: Any, counts: Numbers) -> dict[str, Any]:
    found = []
    for count in counts:
        rows = [calc.ledger.Effect(str(turn), "", 1.0, math.inf, "normal") for turn in range(int(count))]
        shared = calc.ledger.Effect("micrometer", "", 5.0, math.inf, "normal")
        found.append(calc.extremes.perfect_part([calc.ledger.Measured(0.0, (row, shared)) for row in rows]))
    return {"expected": [part.expected for part in found], "high": [part.high for part in found]}


def blades(calc: Any, goes: float, does_not: float) -> dict[str, Any]:
    read = [
        calc.bench_readings.bracket("gap", goes, does_not),
        calc.bench_readings.largest_blade("gap", goes, does_not - goes),
        calc.bench_readings.none_enters("gap", goes),
    ]
    return {
        "values": [one.value for one in read],
        "spreads": [calc.ledger.standard_uncertainty(one) for one in read],
    }


def pooled(calc: Any, first: Numbers, second: Numbers) -> dict[str, Any]:
    spread, dof = calc.repeats.pooled_spread(list(second), statistics.stdev(first), len(first) - 1)
    return {"spread": spread, "dof": dof}


def clearance_by_one_micrometer(calc: Any, shared: float, separate: float) -> dict[str, Any]:
    effect, measured = calc.ledger.Effect, calc.ledger.Measured
    common = effect("micrometer", "", shared, math.inf, "normal")
    bore = measured(77e-3, (common, effect("bore", "", separate, math.inf, "normal")))
    piston = measured(76.95e-3, (common, effect("piston", "", separate, math.inf, "normal")))
    blindly = math.hypot(*(calc.ledger.standard_uncertainty(one) for one in (bore, piston)))
    return {
        "spread": calc.ledger.standard_uncertainty(calc.ledger.difference(bore, piston)),
        "blindly": blindly,
    }


def type_b(calc: Any, expanded: float, coverage: float, half_width: float, step: float) -> dict[str, Any]:
    return {
        "check": calc.repeats.check_effect("a", "", expanded, coverage).effect,
        "limits": calc.repeats.half_width_effect("b", "", half_width).effect,
        "marks": calc.repeats.resolution_effect("c", "", step).effect,
    }


def averaged_marks(calc: Any, ratios: Numbers) -> dict[str, Any]:
    return {"shares": np.array([calc.repeats.lasting_share(float(ratio)) for ratio in ratios])}


def spread_moments(calc: Any, dofs: Numbers) -> dict[str, Any]:
    rules = [calc.distributions.spread_quadrature(float(dof)) for dof in dofs]
    return {
        "variance": [float(weight @ ratio**2) for ratio, weight in rules],
        "precision": [float(weight @ ratio**-2) for ratio, weight in rules],
    }


def probabilities_of(calc: Any, distances: Numbers, rows: list[list[Any]]) -> dict[str, Any]:
    effects = tuple(
        calc.ledger.Effect(str(turn), "", size, dof or math.inf, shape)
        for turn, (size, dof, shape) in enumerate(rows)
    )
    values = [calc.ledger.Measured(-distance, effects) for distance in distances]
    count = len(values)
    chances = calc.conformity.conformity_probabilities(values, [None] * count, [0.0] * count)
    return {"probabilities": chances}


def steady_cylinder(calc: Any, ratio: Numbers, supply: float, ambient: float) -> dict[str, Any]:
    return {"reading": calc.tester.cylinder_gauge_pressure(ratio, 1.0, supply, ambient)}


def nozzle(calc: Any, ratios: Numbers, upstream: float, temperature: float) -> dict[str, Any]:
    return {"flow": calc.gas.nozzle_mass_flow(1.0, upstream, ratios * upstream, temperature)}


def leaving(calc: Any, restrictor: float, supply: float, reading: float) -> dict[str, Any]:
    own = calc.leakdown.effective_area(restrictor, 1.0)
    leak = calc.leakdown.leak_area(own, supply, reading)
    return {"flow": calc.leakdown.leak_mass_flow(leak.area, reading)}


def combined_library(calc: Any, shared: float, first: float, second: float) -> dict[str, Any]:
    effect, measured = calc.ledger.Effect, calc.ledger.Measured
    one = measured(
        3.0, (effect("s", "", shared, math.inf, "normal"), effect("a", "", first, math.inf, "normal"))
    )
    two = measured(
        5.0, (effect("s", "", shared, math.inf, "normal"), effect("b", "", second, math.inf, "normal"))
    )
    mean = calc.ledger.mean([one, two])
    weighted = calc.ledger.combination([(2.0, one), (-3.0, two)], 1.0)
    return {
        "mean": [mean.value, calc.ledger.standard_uncertainty(mean)],
        "weighted": [weighted.value, calc.ledger.standard_uncertainty(weighted)],
        "correlation": calc.ledger.correlation(one, two),
    }


def bench_leak(calc: Any, supply: Numbers, cylinder: Numbers, step: float, match: float) -> dict[str, Any]:
    gauges = calc.leak_reading.Gauges(step, match, 0.01)
    restrictor = calc.leak_reading.Restrictor(1e-3)
    read = calc.leak_reading.leak_reading(
        list(supply), list(cylinder), gauges, restrictor, prior_spread=0.01, prior_dof=1e6
    )
    return {
        "fraction": [read.leakage.value, read.leakage.low, read.leakage.high],
        "hole": [read.drilled_hole.value, read.drilled_hole.low, read.drilled_hole.high],
        "free_air": [read.free_air.value, read.free_air.low, read.free_air.high],
    }


def to_settle(calc: Any, distance: float, scatter: float, lasting: float, taken: int) -> dict[str, Any]:
    effect = calc.ledger.Effect
    rows = (
        effect("repeats", "", scatter, math.inf, "normal"),
        effect("check", "", lasting, math.inf, "normal"),
    )
    asked = calc.settling.settlement(calc.ledger.Measured(0.0, rows), {"repeats"}, taken, upper=distance)
    return {"kind": asked.kind, "further": float(asked.further), "row": asked.row.key}


def worst_of_equals(calc: Any, values: Numbers, spread: float, upper: float) -> dict[str, Any]:
    places = [_named(calc, turn, value, spread) for turn, value in enumerate(values)]
    found = calc.extremes.worst_pair(places, upper)
    return {
        "difference": found.measured.value,
        "probability": found.probability,
        "compared": float(found.compared),
        "decision": found.decision,
    }


def _named(calc: Any, turn: int, value: float, spread: float) -> Any:
    return calc.ledger.Measured(value, (calc.ledger.Effect(str(turn), "", spread, math.inf, "normal"),))


def best_of(calc: Any, half_width: float, upper: float, least: float) -> dict[str, Any]:
    rows = (calc.ledger.Effect("blades", "", half_width / math.sqrt(3), math.inf, "rectangular"),)
    found = calc.settling.best_probability(calc.ledger.Measured(0.0, rows), upper=upper, least=least)
    return {"probability": found}


def decisions(calc: Any, probabilities: Numbers) -> dict[str, Any]:
    order = {"beyond": -1.0, "close": 0.0, "within": 1.0}
    return {"signs": [order[calc.conformity.decision(float(chance))] for chance in probabilities]}


def blade_decisions(calc: Any, low: float, uppers: Numbers, lowers: Numbers) -> dict[str, Any]:
    order = {"beyond": -1.0, "close": 0.0, "within": 1.0}
    judge = calc.conformity.decision_at_least
    return {
        "upper": [order[judge(low, upper=float(limit))] for limit in uppers],
        "lower": [order[judge(low, lower=float(limit))] for limit in lowers],
    }


def thinnest_decisions(calc: Any, high: float, uppers: Numbers, lowers: Numbers) -> dict[str, Any]:
    order = {"beyond": -1.0, "close": 0.0, "within": 1.0}
    judge = calc.conformity.decision_below
    return {
        "upper": [order[judge(high, upper=float(limit))] for limit in uppers],
        "lower": [order[judge(high, lower=float(limit))] for limit in lowers],
        "both": [order[judge(high, float(low), 1.0)] for low in lowers],
    }


def marks_of_many(calc: Any, step: float, count: int, spread: float) -> dict[str, Any]:
    return {"effect": calc.repeats.resolution_effect("marks", "", step, count, spread).effect}


def read_by_marks(calc: Any, readings: Numbers, step: float, prior: float, zeroing: float) -> dict[str, Any]:
    row = calc.repeats.half_width_effect("zeroing", "", zeroing)
    plain = calc.bench_readings.nearest_mark("a", list(readings), step, prior, 4)
    direct = calc.bench_readings.direct_clearance("a", list(readings), step, row, prior, prior_dof=4)
    spread = calc.ledger.standard_uncertainty
    added = math.sqrt(spread(direct) ** 2 - spread(plain) ** 2)
    return {
        "value": plain.value,
        "repeats": plain.effects[0].effect,
        "dof": plain.effects[0].dof,
        "zeroing": added,
    }


def percent_tester(calc: Any, fractions: Numbers, step: float) -> dict[str, Any]:
    read = calc.leak_reading.percent_reading(list(fractions), step, prior_spread=0.01, prior_dof=1e6)
    return {"leakage": [read.leakage.value, read.leakage.low, read.leakage.high], "spread": read.spread}


def percent_with_hole(calc: Any, fraction: float, supply: float, restrictor: float) -> dict[str, Any]:
    reading = calc.leak_reading
    shown = reading.percent_reading([fraction], 0.01)
    return {
        "hole": reading.reading_with_holes(shown, supply, reading.Restrictor(restrictor)).drilled_hole.value
    }


def areas_of(calc: Any, readings: Numbers, supply: float, ambient: float) -> dict[str, Any]:
    return {"ratios": calc.leakdown.area_ratio(supply, readings, ambient)}
