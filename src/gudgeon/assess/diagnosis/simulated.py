"""What a compression gauge would show on this engine, and what its leak costs: as built and as it is now.

The cranking of ``calc.cranking`` with this engine's own numbers; where its sheet has none, a usual one is
taken and said. Equal inputs are worked out once.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from gudgeon.assess.leak_figures import figures
from gudgeon.assess.wording import simulated as words
from gudgeon.calc.atmosphere import standard_pressure
from gudgeon.calc.cranking import Cranking, CrankingAir, Cylinder, cranking
from gudgeon.calc.leakdown import effective_area
from gudgeon.datasheet import DataSheet
from gudgeon.job import Job, LeakTest, in_force

ROOM = 293.15  # K
KICK, STARTER = 400 / 60, 300 / 60  # turns a second; from memory, no source
USUAL_ROD = 1.75  # of the stroke
USUAL_RATIO = 12.0
USUAL_CLOSING = math.radians(50)  # after bottom dead centre
USUAL_VALVE = 0.31  # exhaust valve head, of the bore
LIFTED, PASSES = 0.5e-3, 0.6  # m a decompressor lifts the valve, share of that gap it passes; no source
SHUT_AGAIN = math.radians(70)  # before top dead centre; no source
SHOWN_POINTS = 90


@dataclass(frozen=True, slots=True)
class CompressionCase:
    """One way of cranking: peak on the gauge of a sound cylinder and of this one [Pa]."""

    speed: float  # turns a second
    by: str  # "kick" or "starter"
    decompressor: bool
    sound: float
    now: float | None

    @property
    def lost(self) -> float | None:
        """The share that the leak takes."""
        return None if self.now is None else 1 - self.now / self.sound


@dataclass(frozen=True, slots=True)
class PressureTrace:
    """Gauge pressure [Pa] over crank angle after top dead centre [rad]."""

    words: str
    angles: tuple[float, ...]
    pressures: tuple[float, ...]
    peak: float


@dataclass(frozen=True, slots=True)
class CompressionShows:
    """Why a compression gauge misleads on this engine, and what its leak costs at cranking speed."""

    cases: tuple[CompressionCase, ...]
    traces: tuple[PressureTrace, ...]
    sentences: tuple[str, ...]
    starting: str
    assumed: tuple[str, ...]
    missing: str  # what the sheet must have before anything can be worked out; else empty
    why: tuple[str, ...]


def what_compression_shows(job: Job, cylinder: str = "1", units: str = "metric") -> CompressionShows:
    """This engine cranked by the kick and by the starter, with its decompressor acting and without."""
    sheet = job.sheet
    bore, stroke = sheet.size("bore"), sheet.size("stroke")
    if bore is None or stroke is None:
        return CompressionShows((), (), (), "", (), words.missing(bore is None, stroke is None), ())
    cylinder_made, assumed = _built(sheet, bore, stroke)
    closing = sheet.size("intake_closes")
    altitude = job.altitude.si if job.altitude is not None else 0.0
    leak = leak_area_now(job, cylinder)
    vent = decompressor_area(sheet, bore)
    ways = _ways(job, closing if closing is not None else USUAL_CLOSING)
    found = [
        _Way(by, speed, acting, _pair(cylinder_made, altitude, at, speed, leak, vent if acting else 0.0))
        for by, speed, at in ways
        for acting in ((True, False) if vent else (False,))
    ]
    ambient = float(standard_pressure(altitude))
    cases = tuple(_case(one, ambient) for one in found)
    told = words.Told(cases, altitude, leak is not None, units, _newest(job, cylinder) is not None)
    said = (*assumed, *words.assumptions(closing is None, bool(vent)))
    return CompressionShows(
        cases=cases,
        traces=_traces(found, ambient),
        sentences=words.compression(told),
        starting=words.starting(told),
        assumed=said,
        missing="",
        why=words.WHY,
    )


def leak_area_now(job: Job, cylinder: str) -> float | None:
    """Effective leak area of the newest test of a cylinder [m²]; None where its tester is not known."""
    test = _newest(job, cylinder)
    if test is None:
        return None
    tester = next(one for one in job.testers if one.key == test.tester)
    hole = figures(test, tester, job.altitude).hole
    return None if hole is None else float(effective_area(hole.value, 1.0))


def _newest(job: Job, cylinder: str) -> LeakTest | None:
    tests = [test for test in in_force(job.leak_tests) if test.cylinder == cylinder]
    return max(tests, key=lambda test: (test.at, test.id), default=None)


def _built(sheet: DataSheet, bore: float, stroke: float) -> tuple[Cylinder, tuple[str, ...]]:
    rod, ratio = sheet.size("rod_length"), sheet.size("compression_ratio")
    offsets = [sheet.size(name) or 0.0 for name in ("pin_offset", "cylinder_offset")]
    assumed = words.usual(rod is None, ratio is None, USUAL_ROD, USUAL_RATIO)
    # The sheet's offset is toward the thrust side; the sum's is toward the side the crankpin moves to.
    made = Cylinder(bore, stroke, rod or USUAL_ROD * stroke, ratio or USUAL_RATIO, -sum(offsets))
    return made, assumed


def decompressor_area(sheet: DataSheet, bore: float) -> float:
    """Effective area a working decompressor leaves open [m²]; nothing where there is none."""
    if sheet.layout.fields.get("decompressor", "none") == "none":
        return 0.0
    return PASSES * math.pi * (sheet.size("exhaust_valve_head") or USUAL_VALVE * bore) * LIFTED


def _ways(job: Job, closing: float) -> list[tuple[str, float, float]]:
    """How this engine is cranked: by what, how fast, and where its intake closes."""
    start = job.sheet.layout.fields.get("start", "both")
    ways = [("kick", KICK, closing)] if start in ("kick", "both") else []
    if start in ("electric", "both"):
        ways.append(("starter", cranking_speed(job) or STARTER, closing))
    return ways


def cranking_speed(job: Job) -> float | None:
    """The cranking speed last measured [turns a second]."""
    read = [
        one.value.si for one in in_force(job.readings) if one.characteristic == "cranking_speed" and one.value
    ]
    return read[-1] if read else None


def peak_on_gauge(made: Cylinder, altitude: float, closing: float, speed: float, vent: float) -> float:
    """What a gauge shows of a sound cylinder [Pa]; ``vent``: area a decompressor leaves open [m²]."""
    turned = _turned(made, altitude, closing, speed, 0.0, vent)
    return float(turned.peak_pressure) - float(standard_pressure(altitude))


@dataclass(frozen=True, slots=True)
class _Way:
    """One way of cranking, turned: without the leak, and with it where it is known."""

    by: str
    speed: float
    decompressor: bool
    turned: tuple[Cranking, ...]


def _pair(
    made: Cylinder, altitude: float, closing: float, speed: float, leak: float | None, vent: float
) -> tuple[Cranking, ...]:
    leaks = (0.0,) if leak is None else (0.0, leak)
    return tuple(_turned(made, altitude, closing, speed, one, vent) for one in leaks)


# One leak at a time: a whole sweep in one call takes nine times as long as a single turn.
@lru_cache(maxsize=256)
def _turned(
    made: Cylinder, altitude: float, closing: float, speed: float, leak: float, vent: float
) -> Cranking:
    ambient = float(standard_pressure(altitude))
    return cranking(
        made,
        CrankingAir(ambient, ROOM, ambient, ROOM, ROOM),
        intake_closing=closing,
        angular_speed=2 * math.pi * speed,
        leak_area=leak,
        decompressor_area=vent,
        decompressor_closing=SHUT_AGAIN,
    )


def _case(way: _Way, ambient: float) -> CompressionCase:
    peaks = [float(one.peak_pressure) - ambient for one in way.turned]
    return CompressionCase(
        way.speed, way.by, way.decompressor, peaks[0], peaks[1] if len(peaks) > 1 else None
    )


def _traces(found: Sequence[_Way], ambient: float) -> tuple[PressureTrace, ...]:
    """The first way of cranking: sound, as it is now, and with the decompressor acting."""
    mine = {one.decompressor: one.turned for one in found if one.by == found[0].by}
    names = ("sound", "as it is now")
    traces = [_trace(name, one, ambient) for name, one in zip(names, mine[False], strict=False)]
    if True in mine:
        traces.append(_trace("sound, decompressor acting", mine[True][0], ambient))
    return tuple(traces)


def _trace(name: str, found: Cranking, ambient: float) -> PressureTrace:
    step = max(len(found.angles) // SHOWN_POINTS, 1)
    pressures = tuple(float(one) - ambient for one in found.pressure[::step])
    peak = float(found.peak_pressure) - ambient
    return PressureTrace(name, tuple(float(one) for one in found.angles[::step]), pressures, peak)
