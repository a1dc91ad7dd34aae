"""A leak-down in sentences: where the air goes, how much, against what, and the one check to do next."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from gudgeon.assess.leak_figures import Fault, LeakFigures
from gudgeon.assess.results import Interval
from gudgeon.assess.wording.figures import several
from gudgeon.assess.wording.rows import day
from gudgeon.catalog.diagnosis import LeakPath
from gudgeon.job import LeakTest, Tester
from gudgeon.quantities import show, shown_unit


@dataclass(frozen=True, slots=True)
class Trend:
    """This test against an earlier one, as shares of 1."""

    before: LeakTest
    then: float
    now: float
    rise: float
    apart: bool
    by_hole: bool = False


@dataclass(frozen=True, slots=True)
class LeakTold:
    """What a leak-down's sentences are made from."""

    test: LeakTest
    tester: Tester
    figures: LeakFigures
    heard: tuple[tuple[str, str], ...]
    silent: tuple[str, ...]
    names: Mapping[str, str]
    paths: tuple[LeakPath, ...]
    fault_heard: bool
    says: str
    band_name: str
    failed_from: float
    sound_below: float
    trend: Trend | None
    units: str
    spread_at_most: float
    cylinders: int
    unheard: tuple[str, ...]
    liquid: bool
    before: LeakTest | None = None  # what was typed first, where it was corrected
    out_of_the_ways: float | None = None  # free air measured there, where the readings do not lose so much


def headline(told: LeakTold) -> str:
    """One plain sentence: what leaks, what is in order, what cannot be judged."""
    where = f"Cylinder {told.test.cylinder}: " if told.cylinders > 1 else ""
    what = f"{_capital(_what(told), bool(where))}{_rings(told)}"
    return f"{where}{what}; the bottom end cannot be judged from this."


def _capital(text: str, inside: bool) -> str:
    return text if inside else text[0].upper() + text[1:]


def _what(told: LeakTold) -> str:
    found = told.figures
    if found.fault is not None:
        return _FAULTS[found.fault]
    if _only_the_rings(told):
        return "the cylinder is sound: what is lost goes past the rings, and a little is normal"
    if told.paths:
        lead = "perhaps a" if told.heard and told.heard[0][1] == "faint" else "a"
        return _leaking(told.paths[0], lead, found.more_than_shown)
    return _unheard_leak(told)


_FAULTS = {
    Fault.REVERSED: "the tester does not read true, so this test says nothing",
    Fault.NO_SUPPLY: "no supply pressure was given, so this test says nothing",
}


def _unheard_leak(told: LeakTold) -> str:
    found = told.figures
    if found.more_than_shown:
        return "the leak is more than this tester can show, and nobody has listened where it goes"
    if found.none_shown and not told.test.outlets:
        return "nothing is lost that the gauges can show"
    if found.like_reference is not None and found.like_reference < told.sound_below:
        return "the cylinder is sound"
    return (
        "air is lost, and where it goes was not heard"
        if not told.test.outlets
        else "no air was heard to leave"
    )


def _only_the_rings(told: LeakTold) -> bool:
    """Air past the rings alone, and no more than a sound cylinder loses."""
    like = told.figures.like_reference
    return (
        bool(told.paths) and told.paths[0].key == "breather" and like is not None and like < told.sound_below
    )


def _leaking(path: LeakPath, lead: str, much: bool) -> str:
    named = {
        "intake": "{} leaking intake valve or seat",
        "exhaust": "{} leaking exhaust valve or seat, or the decompressor holding it open",
        "breather": "{} leak past the rings or the bore",
        "coolant": "{} leak into the coolant: head gasket, a crack or a warped face",
        "between_faces": "{} leak to the outside: gasket, face, fastener or the tester's adapter",
        "both_ports": "{} leak at both ports alike: wrong stroke, cam timing, valves held open or bent",
        "silent": "{} leak that nobody hears: the tester, or air leaving by the breather",
        "neighbour": "{} leak into the neighbour: head gasket or a cracked bridge",
    }
    words = named.get(path.key, "{} leak: " + path.component).format(lead)
    return f"{words}, more than this tester can show" if much else words


def _rings(told: LeakTold) -> str:
    """The rings are cleared only when the breather was listened at and little came out."""
    heard = dict(told.heard)
    quiet = "case" in told.silent or heard.get("case") == "faint"
    elsewhere = bool(told.paths) and told.paths[0].key in (
        "intake",
        "exhaust",
        "coolant",
        "between_faces",
        "neighbour",
    )
    return "; the rings are in order" if quiet and elsewhere and told.figures.fault is None else ""


def sentences(told: LeakTold) -> tuple[str, ...]:
    """Path first, number second, trend third; then what to mind."""
    lines = [
        _heard(told),
        _number(told),
        _against_band(told),
        _trend(told),
        _too_much_out(told),
        _spread(told),
        _cold(told),
        _unheard(told),
    ]
    return tuple(line for line in lines if line)


def _heard(told: LeakTold) -> str:
    if not told.test.outlets:
        return "Nobody listened where the air goes: the path tells more than the number."
    if not told.heard:
        return "No air was heard or felt where it was listened for."
    words = several([f"{strength} at the {told.names[outlet]}" for outlet, strength in told.heard])
    fault = " Air at a port or in the coolant is a fault at any figure." if told.fault_heard else ""
    return f"Air is heard: {words}.{fault}"


def _number(told: LeakTold) -> str:
    found = told.figures
    if found.fault is Fault.REVERSED:
        return (
            "The cylinder gauge reads above the supply by more than the two gauges can differ: "
            "zero the tester with the hose shut and test again."
        )
    if found.percent is None:
        return "A leak-down needs a supply pressure above nought."
    supply = _pressure(found.supply, told.units)
    if found.more_than_shown:
        lost = f"At {supply} {_at_least(found.percent)} is lost"
        return f"{lost}, more than this tester can show.{_least_hole(told)}"
    about = "about " if told.tester.restrictor is None or told.tester.percent_only else ""
    if found.none_shown:
        most = percent(found.percent.high)
        return f"Nothing is lost within what the gauges can show: at most {most} at {supply}."
    lost = f"{about}{percent(found.percent.value)} is lost at {supply} ({_between(found.percent)})."
    return lost[0].upper() + lost[1:] + _hole(told)


def _least_hole(told: LeakTold) -> str:
    least = told.figures.hole_from
    return "" if least is None else f" The hole is at least {_size(least, told.units)}."


def _size(hole: float, units: str) -> str:
    unit = shown_unit("mm", units)
    return show(hole, unit, 1e-5 if unit == "mm" else 2.54e-5)


def _hole(told: LeakTold) -> str:
    found = told.figures
    if found.hole is None or found.free_air is None:
        return " The tester's restrictor is not known: this compares only with the same tester."
    hole = _size(found.hole.value, told.units)
    air = show(found.free_air.value, shown_unit("L/min", told.units), 1e-3 / 60)
    return f" It is as large as a hole of {hole} and lets {air} of free air go."


def _against_band(told: LeakTold) -> str:
    found = told.figures
    if not told.says or found.like_reference is None:
        return ""
    says = f"For {told.band_name}: {told.says}."
    if found.comparable:
        return says
    return (
        "The trade's figures are for a restrictor of about 1.0 mm and 550 to 700 kPa, so the hole was "
        f"compared: it would read {percent(found.like_reference)} there. {says}"
    )


def _too_much_out(told: LeakTold) -> str:
    if told.out_of_the_ways is None or told.figures.free_air is None:
        return ""
    out, lost = (
        show(flow, shown_unit("L/min", told.units), 1e-3 / 60)
        for flow in (told.out_of_the_ways, told.figures.free_air.value)
    )
    return (
        f"At its ways out {out} was measured, and the pressures lose only {lost}: one of the two is wrong, "
        "and the shares mean nothing until it is put right."
    )


def _trend(told: LeakTold) -> str:
    trend = told.trend
    if trend is None:
        return ""
    points = 100 * (trend.now - trend.then)
    by = ", compared by the hole" if trend.by_hole else ""
    since = f"{percent(trend.then)} on {day(trend.before.at)}{by}"
    if trend.before.warm != told.test.warm:
        return f"It read {since}, but one test was warm and one cold: the two do not compare."
    if trend.now - trend.then >= trend.rise:
        return f"It read {since}: up {points:.0f} points, which is a finding in itself."
    if not trend.apart:
        return f"It read {since}: no change that these tests can show."
    return f"It read {since}: {'up' if points > 0 else 'down'} {abs(points):.0f} points."


def _spread(told: LeakTold) -> str:
    spread = told.figures.spread
    if spread is None:
        return (
            "One reading only: three, with two full turns between, are needed before it is believed."
            if (len(told.test.readings) == 1 and told.figures.fault is None)
            else ""
        )
    if spread > told.spread_at_most + 1e-9:
        return (
            f"The readings spread over {100 * spread:.0f} points, more than {100 * told.spread_at_most:.0f}: "
            "the crank moved, a valve is not seating or the ring gaps lined up; test again."
        )
    return ""


def _cold(told: LeakTold) -> str:
    return "" if told.test.warm else "Taken cold: it compares only with other cold tests."


def _unheard(told: LeakTold) -> str:
    if not told.test.outlets or not told.unheard:
        return ""
    return f"Not listened at: {several(list(told.unheard))}."


def next_check(told: LeakTold) -> str:
    """The one check worth doing next."""
    found = told.figures
    if found.fault is not None:
        return "Shut the hose: both gauges must agree. Open it: the cylinder gauge must fall to nothing."
    if not told.test.outlets:
        return "Listen at each open outlet in turn, everything open, nothing blanked, crank held."
    if told.paths and not _only_the_rings(told):
        check = told.paths[0].check_first
        return f"{check[0].upper()}{check[1:]}."
    if found.spread is not None and found.spread > told.spread_at_most:
        return "Let the pressure down, turn the engine two full turns and test again."
    return "What air cannot see: lift the piston with the crank held at TDC and feel for a click."


def why(told: LeakTold) -> tuple[str, ...]:
    """The readings, the sum in words, the doubts, the sources."""
    found, tester = told.figures, told.tester
    lines = [f"Readings: {readings(told.test)}, with {tester.name}, {day(told.test.at)}."]
    if told.before is not None:
        lines.append(f"Corrected by {told.test.by}; typed before: {readings(told.before)}.")
    if found.more_than_shown:
        lines.append("Share lost: all that the gauges can show, less what they may differ by.")
    elif found.percent is not None:
        lines.append("Share lost: supply less cylinder pressure, over supply; the mean of the readings.")
        lines.append(f"Uncertainty: {_between(found.percent)} (95 %). Where it comes from, largest first:")
        rows = sorted(found.rows, key=lambda row: -abs(row.effect))
        lines += [f"{100 * abs(row.effect):.1f} points {row.words}" for row in rows]
    if found.hole is not None and tester.restrictor is not None:
        lines.append(
            f"Hole: the same air passes the restrictor ({tester.restrictor}, discharge {tester.discharge:g}) "
            "and the leak, one after the other; air at one temperature either side."
        )
        lines.append("Free air: at 100 kPa and 20 °C (ISO 8778, from memory).")
    if told.says:
        lines.append("What the figure means: common practice, no source.")
    return tuple(lines)


def readings(test: LeakTest) -> str:
    """Every reading of a test as it was typed."""
    return ", ".join(_reading(one) for one in test.readings)


def _reading(reading: object) -> str:
    supply, cylinder, share = (getattr(reading, name) for name in ("supply", "cylinder", "percent"))
    if share is not None:
        return f"{_typed(share)} at {_typed(supply)}"
    return f"{_typed(supply)} to {_typed(cylinder)}"


def _typed(typed: object) -> str:
    text, unit = str(getattr(typed, "text", "")), str(getattr(typed, "unit", ""))
    return text if unit and unit in text else f"{text} {unit}".strip()


def percent(share: float) -> str:
    """ "7 %", with one decimal under 10."""
    points = 100 * share
    return f"{points:.1f} %" if points < 9.95 else f"{points:.0f} %"


def _at_least(interval: Interval) -> str:
    """The lower end, never rounded up."""
    low = interval.low
    return f"at least {percent(math.floor(100 * low) / 100 if low >= 0.0995 else low)}"


def _between(interval: Interval) -> str:
    if interval.high >= 1:
        return _at_least(interval)
    return f"between {percent(interval.low)} and {percent(interval.high)}"


def _pressure(si: float, units: str) -> str:
    unit = shown_unit("kPa", units)
    return show(si, unit, 1e3 if unit == "kPa" else 6894.76)
