"""Holding the crank under air: how hard, which way it turns, and whether a held nut tightens."""

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from gudgeon.assess.wording import simulated as words
from gudgeon.calc.slider_crank import crank_radius_for_stroke
from gudgeon.calc.turning_moment import force_at_bar, held_nut_effect, turning_direction, turning_moment
from gudgeon.catalog import catalog
from gudgeon.catalog.diagnosis import quantity
from gudgeon.job import Job, in_force

DEGREES = (1.0, 5.0, 10.0, 30.0)
USUAL_ROD = 1.75
BAR = 0.3  # m
AMBIENT = 101325.0

Side = Literal["left", "right"]
Thread = Literal["right-hand", "left-hand"]
Rolls = Literal["forwards", "backwards"]


@dataclass(frozen=True, slots=True)
class Hold:
    """At so many degrees off top dead centre: the moment [N·m] and the force at the bar [N]."""

    degrees: float
    moment: float
    force: float
    low_moment: float  # at the low supply of the one-man way
    sentence: str


@dataclass(frozen=True, slots=True)
class Holding:
    """What the air does to a crank that is held; the caution stands beside it wherever it is shown."""

    supply: float
    on_piston: float  # N
    rows: tuple[Hold, ...]
    before: str
    past: str
    nut_before: str
    nut_past: str
    sentences: tuple[str, ...]
    missing: str
    caution: str


def holding(
    job: Job,
    supply: float | None = None,
    *,
    bar: float = BAR,
    side: Side = "left",
    thread: Thread = "right-hand",
    crank_rolls: Rolls = "forwards",
    units: str = "metric",
) -> Holding:
    """This engine under air at its test's supply (or another, Pa gauge)."""
    bore, stroke = job.sheet.size("bore"), job.sheet.size("stroke")
    used = supply if supply is not None else _supply(job)
    if bore is None or stroke is None:
        lacking = words.missing(bore is None, stroke is None)
        return Holding(used, 0.0, (), "", "", "", "", (), lacking, catalog().holding)
    rod = job.sheet.size("rod_length") or USUAL_ROD * stroke
    low, high = (quantity(text) for text in catalog().diagnosis.leak_down.procedure.low_supply)
    moments = [_moment(used, bore, stroke, rod, degrees) for degrees in DEGREES]
    quiet = [_moment(high, bore, stroke, rod, degrees) for degrees in DEGREES]
    rows = tuple(
        Hold(one, moment, float(force_at_bar(moment, bar)), less, _held(one, moment, bar, units))
        for one, moment, less in zip(DEGREES, moments, quiet, strict=True)
    )
    before, past = turning_direction(-moments[0]), turning_direction(moments[0])
    nuts = [held_nut_effect(sign * moments[0], side, thread, crank_rolls) for sign in (-1, 1)]
    said = (
        words.turns(before, past),
        words.nut(nuts[0], nuts[1], side, thread),
        words.low_supply(low, high, units),
    )
    on_piston = used * math.pi / 4 * bore**2
    return Holding(used, on_piston, rows, before, past, nuts[0], nuts[1], said, "", catalog().holding)


def _held(degrees: float, moment: float, bar: float, units: str) -> str:
    return words.held(degrees, moment, float(force_at_bar(moment, bar)), bar, units)


def _supply(job: Job) -> float:
    tests = sorted(in_force(job.leak_tests), key=lambda test: (test.at, test.id))
    if tests:
        return tests[-1].readings[-1].supply.si
    return quantity(catalog().diagnosis.leak_down.procedure.supply)


@lru_cache(maxsize=256)
def _moment(supply: float, bore: float, stroke: float, rod: float, degrees: float) -> float:
    radius = float(crank_radius_for_stroke(stroke, rod, 0.0))
    at = math.radians(degrees)
    return float(turning_moment(AMBIENT + supply, AMBIENT, bore, at, crank_radius=radius, rod_length=rod))
