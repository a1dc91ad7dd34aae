"""Cranking pressure and holding the crank, in sentences."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, Protocol

from gudgeon.assess.wording.figures import several
from gudgeon.quantities import show, shown_unit


class Case(Protocol):
    """One way of cranking."""

    @property
    def by(self) -> str: ...
    @property
    def speed(self) -> float: ...
    @property
    def decompressor(self) -> bool: ...
    @property
    def sound(self) -> float: ...
    @property
    def now(self) -> float | None: ...
    @property
    def lost(self) -> float | None: ...


@dataclass(frozen=True, slots=True)
class Told:
    """What the sentences are made from."""

    cases: Sequence[Case]
    altitude: float
    leak_known: bool
    units: str
    tested: bool


WHY = (
    "Air shut in when the intake closes is squeezed; heat goes to the walls, air out of the leak and, while "
    "it acts, of the decompressor.",
    "The gauge shows the peak less the pressure outside, which falls with altitude (ISO 2533, from memory).",
    "Heat to the walls by Hohenberg (SAE 790825, 1979; from memory).",
    "Left out: crevices, pressure in the case, a gauge pumped up over several strokes and its hose, speed "
    "that changes in the stroke. So it compares, and it is no limit: real gauges show less, often two thirds "
    "(common practice, no source).",
)
PSI = 6894.757293168  # Pa
Says = Literal["low", "full", "above", "between"]
AS_BEFORE, HARDER = 0.15, 0.40  # of the pressure lost; our own reading


def missing(bore: bool, stroke: bool) -> str:
    """What the sheet must have first."""
    lacking = [name for name, lacks in (("bore", bore), ("stroke", stroke)) if lacks]
    return f"The data sheet has no {several(lacking)}: without it no cranking pressure can be worked out."


def usual(rod: bool, ratio: bool, of_stroke: float, usual_ratio: float) -> tuple[str, ...]:
    """What was taken where the sheet is silent."""
    lines = [f"Rod not on the sheet: {of_stroke:g} times the stroke is taken."] if rod else []
    if ratio:
        lines.append(f"Compression ratio not on the sheet: {usual_ratio:g} is taken.")
    return tuple(lines)


def assumptions(closing: bool, decompressor: bool) -> tuple[str, ...]:
    """What nobody writes on a sheet."""
    lines = (
        ["Intake closing not on the sheet: 50 degrees after bottom dead centre is taken."] if closing else []
    )
    if decompressor:
        lines.append(
            "Decompressor: taken to lift the exhaust valve by 0.5 mm until 70 degrees before top dead centre "
            "(common practice, no source)."
        )
    lines.append("Kick 400, starter 300 turns a minute where no speed was measured (from memory).")
    return tuple(lines)


def pressure(si: float, units: str) -> str:
    """A worked out pressure, to 10 kPa or 5 psi: the sum knows no more."""
    unit, step = shown_unit("kPa", units), 1e4 if units == "metric" else 5 * PSI
    return show(round(si / step) * step, unit, step)


def _speed(case: Case) -> str:
    return f"{case.by}, {case.speed * 60:.0f} turns a minute"


def compression(told: Told) -> tuple[str, ...]:
    """Why the gauge misleads on this engine."""
    fitted = any(case.decompressor for case in told.cases)
    lines = [_case(case, told.units, fitted) for case in told.cases]
    pairs = {case.decompressor: case for case in told.cases if case.by == told.cases[0].by}
    if True in pairs and False in pairs:
        share = 1 - pairs[True].sound / pairs[False].sound
        lines.append(
            f"The decompressor alone takes {100 * share:.0f} % of a sound engine's reading, so a "
            "low figure with it "
            "acting says nothing about rings or valves."
        )
    if told.altitude > 300:
        lines.append(f"At {told.altitude:.0f} m above the sea every figure is lower than at the sea.")
    if not told.leak_known and told.tested:
        lines.append("The tester's restrictor is not known, so this engine's own leak cannot be put in.")
    return tuple(lines)


def _case(case: Case, units: str, fitted: bool) -> str:
    how = f", with the decompressor {'acting' if case.decompressor else 'held off'}" if fitted else ""
    lead = f"By the {_speed(case)}{how}: sound about {pressure(case.sound, units)}"
    return f"{lead}, with its leak about {pressure(case.now, units)}." if case.now is not None else f"{lead}."


def on_gauge(reading: str, sound: str) -> str:
    """A compression reading beside what a sound cylinder could show."""
    return f"{reading} on the gauge, where by its numbers {sound}"


def alone(reading: str) -> str:
    """A compression reading with no leak-down beside it."""
    return (
        f"{reading}. By itself that says nothing of rings or valves: a leak hides behind it, a decompressor "
        "that acts spoils it. Leak-down."
    )


def sound_on_gauge(
    free: tuple[float, float], acting: tuple[float, float] | None, units: str = "metric"
) -> str:
    """What a sound cylinder of this engine could show, from the least to the most."""
    said = f"a sound cylinder makes at most {_between(free, units)}"
    return f"{said}, with its decompressor acting {_between(acting, units)}" if acting else said


def _between(ends: tuple[float, float], units: str) -> str:
    unit, step = shown_unit("kPa", units), 1e5 if units == "metric" else 10 * PSI
    low, high = (show(round(one / step) * step, unit, step) for one in ends)
    return f"{low.split()[0]} to {high}"


def above_any(reading: str, sound: str) -> str:
    """More than this engine could make."""
    return f"{on_gauge(reading, sound)}: the gauge, or the numbers of the sheet, cannot be right."


def full_but_leaks(reading: str, cylinder: str) -> str:
    """A gauge that shows it all, and a leak-down that says failed."""
    where = f"cylinder {cylinder} " if cylinder else "it "
    return (
        f"{reading}: as a sound cylinder, and by its leak-down {where}has failed. Both cannot be so: zero "
        "the tester, find the top again, and test once more."
    )


_SAYS: dict[Says, str] = {
    "low": "Less than a sound cylinder of this engine shows in any case: a leak-down says why.",
    "full": "As much as a sound cylinder with its valves free; a small leak hides behind it all the same.",
    "above": "More than this engine can make by its numbers: the gauge or the data sheet is wrong.",
    "between": "Nothing follows from it: here {} look alike.",
}


def reading_says(si: float, says: Says, units: str, *, fitted: bool) -> str:
    """What follows from a compression reading. ``fitted``: the engine has a decompressor."""
    alike = f"{'a decompressor that acts, ' if fitted else ''}a slow kick and a leak"
    return f"Read: {pressure(si, units)}. {_SAYS[says].format(alike)}"


def starting(told: Told) -> str:
    """What the leak costs when starting, in one sentence."""
    free = [case for case in told.cases if not case.decompressor and case.lost is not None]
    if not free:
        return (
            "What the leak costs when starting can be said once a leak-down with a known tester is "
            "written down."
        )
    worst = max(free, key=lambda case: case.lost or 0.0)
    lost = worst.lost or 0.0
    share = f"the leak takes {100 * lost:.0f} % of the pressure at the {worst.by}"
    if lost < AS_BEFORE:
        return f"For starting {share}: that alone does not keep it from starting (our own reading)."
    if lost < HARDER:
        return f"For starting {share}: harder, most of all cold (our own reading)."
    return f"For starting {share}: do not expect it to start like this (our own reading)."


def held(degrees: float, moment: float, force: float, bar: float, units: str) -> str:
    """How hard the crank must be held."""
    torque, pull = shown_unit("N·m", units), shown_unit("N", units)
    metric = units == "metric"
    length = show(bar, shown_unit("mm", units), 1e-3 if metric else 0.0254)
    turn = show(abs(moment), torque, 0.1 if metric else 0.1 * 1.3558179483314004)
    push = show(abs(force), pull, 1.0 if metric else 4.4482216152605)
    name = "degree" if degrees == 1 else "degrees"
    return f"{degrees:g} {name} off: {turn}, or {push} at a bar of {length}."


def turns(before: str, past: str) -> str:
    """Which way the air turns the crank."""
    return f"Before top dead centre the air pushes the crank {before}, past it {past}."


def nut(before: str, past: str, side: str, thread: str) -> str:
    """What a held nut does."""
    return f"A {thread} nut held on the {side} end {before} before top dead centre and {past} past it."


def low_supply(low: float, high: float, units: str) -> str:
    """The one-man way."""
    unit = shown_unit("kPa", units)
    ends = f"{show(low, unit, 1e3)} to {show(high, unit, 1e3)}"
    return (
        f"Alone at the bench: {ends} of supply holds the same test at a fraction of the force (common "
        "practice)."
    )
