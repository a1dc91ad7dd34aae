"""Checks of the sums that take objects or give nested results. `calc` may hold altered copies."""

import math
from typing import Any

import numpy as np


def press_fit(calc: Any, **given: Any) -> Any:
    for part in ("hub", "shaft"):
        own = [
            key for key in given if key.startswith(f"{part}_") and key not in ("hub_outside", "shaft_bore")
        ]
        given[part] = calc.fits.Material(**{key.partition("_")[2]: given.pop(key) for key in own})
    return calc.fits.press_fit(**given)


def fit_limits(calc: Any, size: float, hole_class: str, shaft_class: str) -> dict[str, Any]:
    found = calc.iso286.fit_limits(size, hole_class, shaft_class)
    return {
        "least_clearance": found.least_clearance,
        "largest_clearance": found.largest_clearance,
        "kind": found.kind,
        "hole_lower": found.hole.lower,
        "hole_upper": found.hole.upper,
        "shaft_lower": found.shaft.lower,
        "shaft_upper": found.shaft.upper,
    }


def leak_budget(calc: Any, paths: list[str], areas: Any, uncertainties: Any, parts: Any) -> dict[str, Any]:
    room = calc.leak_budget
    tests = []
    for area, spread, part in zip(areas, uncertainties, parts, strict=True):
        if np.sum(part) == 1.0:
            tests.append(room.flow_at_outlet(paths[int(np.argmax(part))], area, spread, paths))
        else:
            tests.append(room.LeakTest(area, spread, dict(zip(paths, part, strict=True))))
    found = room.leak_budget(paths, tests)
    ends = {
        f"{name} {key}": getattr(path, key)
        for name, path in found.paths.items()
        for key in ("area", "area_low", "area_high", "share", "share_low", "share_high")
    }
    return ends | {"total": found.total}


def cranking(calc: Any, **case: Any) -> Any:
    room = calc.cranking
    size = ("bore", "stroke", "rod_length", "compression_ratio", "extra_volume")
    air = [f"{place}_{what}" for place in ("ambient", "start") for what in ("pressure", "temperature")]
    return room.cranking(
        room.Cylinder(**{key: case[key] for key in size}),
        room.CrankingAir(**{key: case[key] for key in (*air, "wall_temperature")}),
        intake_closing=math.radians(case["intake_closing_degrees"]),
        angular_speed=case["speed_rpm"] / 60.0 * 2.0 * math.pi,
        leak_area=case["leak_area"],
        decompressor_area=case["decompressor_area"],
        decompressor_closing=math.radians(case["decompressor_closing_degrees"]),
        heat=room.HeatTransfer(case["heat"], case["heat_factor"]),
        gamma=case.get("gamma"),
    )


def repairs(calc: Any, ends: Any, engines: Any, times: Any, at: Any) -> dict[str, Any]:
    """Histories as two columns: engine and time of each repair."""
    room = calc.repairs
    histories = [
        room.History(tuple(float(t) for e, t in zip(engines, times, strict=True) if e == index), float(end))
        for index, end in enumerate(ends)
    ]
    found = room.cumulative_repairs(histories)
    places = [int(np.flatnonzero(found.times == one)[0]) for one in at]
    return {"repairs": found.repairs[places], "errors": found.errors[places]}


def _points(calc: Any, times: Any, values: Any, spread: float, shared: float = 0.0) -> list[Any]:
    effect = calc.ledger.Effect
    common = (effect("shared", "", shared, math.inf, "normal"),) if shared else ()
    return [
        calc.wear.WearPoint(
            float(time),
            calc.ledger.Measured(
                float(value), (effect(f"own {index}", "", spread, math.inf, "normal"), *common)
            ),
        )
        for index, (time, value) in enumerate(zip(times, values, strict=True))
    ]


def wear_line(calc: Any, times: Any, values: Any, spread: float) -> dict[str, Any]:
    line = calc.wear.wear_line(_points(calc, times, values, spread))
    start = line.level.value - line.slope.value * line.centre
    covariance = line.covariance
    return {
        "start": start,
        "slope": line.slope.value,
        "slope_error": math.sqrt(covariance[1, 1]),
        "start_error": math.sqrt(
            covariance[0, 0] - 2.0 * line.centre * covariance[0, 1] + line.centre**2 * covariance[1, 1]
        ),
    }


def wear_forecast(
    calc: Any, times: Any, values: Any, spread: float, shared: float, limit: float, rising: bool
) -> dict[str, Any]:
    found = calc.wear.wear_forecast(_points(calc, times, values, spread, shared), limit, rising=rising)
    return {"at_limit": found.at_limit, "earliest": found.earliest, "latest": found.latest}
