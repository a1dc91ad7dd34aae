"""What a compression reading says: against the pressure this engine could make at all, cranked as it is.

The sum leaves out crevices and the gauge's own hose, so real gauges show less, often two thirds of it
(common practice, no source). The lines are therefore wide, and between them nothing follows: a decompressor
that acts, a slow kick and a leak look alike. The lines and the doubts below are our own reading, no source.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from gudgeon.assess.diagnosis.scene import GAUGE
from gudgeon.assess.diagnosis.simulated import (
    KICK,
    STARTER,
    USUAL_ROD,
    cranking_speed,
    decompressor_area,
    peak_on_gauge,
)
from gudgeon.assess.wording import simulated as words
from gudgeon.calc.cranking import Cylinder
from gudgeon.catalog.reasoning import GaugeSays
from gudgeon.datasheet import DataSheet
from gudgeon.job import Job, in_force

LOW = 0.45  # of the least a sound cylinder makes: two thirds of what a gauge would show of it
FULL, FULL_ACTING = 0.6, 0.75  # of the least with its valves free; of the most with its decompressor acting
RATIOS, RATIO_DOUBT = (9.0, 14.0), 0.03  # where the sheet is silent; of the sheet's figure
CLOSINGS, CLOSING_DOUBT = (math.radians(35), math.radians(70)), math.radians(5)
SPEED_DOUBT = 0.25  # of the usual speed, where none was measured


@dataclass(frozen=True, slots=True)
class Range:
    """The least and the most [Pa] a gauge shows on a sound cylinder."""

    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Expected:
    """What a sound cylinder shows with its valves free, and with its decompressor acting, if it has one."""

    free: Range
    acting: Range | None


def expected(job: Job) -> Expected | None:
    """What a gauge would show if the cylinder were sound; none where the sheet has no bore or stroke."""
    bore, stroke = job.sheet.size("bore"), job.sheet.size("stroke")
    if bore is None or stroke is None:
        return None
    altitude = job.altitude.si if job.altitude is not None else 0.0
    vent = decompressor_area(job.sheet, bore)
    made = _weakest_and_strongest(job.sheet, bore, stroke)
    closings, speeds = _closings(job.sheet), _speeds(job)
    return Expected(
        _range(made, closings, speeds, altitude, 0.0),
        _range(made, closings, speeds, altitude, vent) if vent else None,
    )


def gauge_says(reading: float, sound: Expected) -> GaugeSays | None:
    """``low``: less than a sound cylinder makes in any case; ``full``: as one with its valves free."""
    acting = sound.acting
    if reading < LOW * min(one.low for one in (sound.free, acting) if one is not None):
        return "low"
    full = reading >= FULL * sound.free.low and (acting is None or reading >= FULL_ACTING * acting.high)
    return "full" if full else None


def too_high(reading: float, sound: Expected) -> bool:
    """More than this engine could make by its sheet."""
    return reading > sound.free.high


@dataclass(frozen=True, slots=True)
class GaugeReading:
    """A compression reading [Pa] and what follows from it, in a sentence."""

    value: float
    sentence: str


def gauge_reading(job: Job, cylinder: str, units: str = "metric") -> GaugeReading | None:
    """The compression last read on a cylinder; none where none was, or the sheet has no bore or stroke."""
    read = [one for one in in_force(job.readings) if (one.characteristic, one.instance) == (GAUGE, cylinder)]
    sound = expected(job) if read else None
    if sound is None or read[-1].value is None:
        return None
    value = read[-1].value.si
    says: words.Says = "above" if too_high(value, sound) else gauge_says(value, sound) or "between"
    return GaugeReading(value, words.reading_says(value, says, units, fitted=sound.acting is not None))


def _weakest_and_strongest(sheet: DataSheet, bore: float, stroke: float) -> tuple[Cylinder, Cylinder]:
    rod, ratio = sheet.size("rod_length") or USUAL_ROD * stroke, sheet.size("compression_ratio")
    low, high = RATIOS if ratio is None else (ratio * (1 - RATIO_DOUBT), ratio * (1 + RATIO_DOUBT))
    return Cylinder(bore, stroke, rod, low), Cylinder(bore, stroke, rod, high)


def _closings(sheet: DataSheet) -> tuple[float, float]:
    """The latest closing of the intake, then the earliest."""
    closing = sheet.size("intake_closes")
    low, high = CLOSINGS if closing is None else (closing - CLOSING_DOUBT, closing + CLOSING_DOUBT)
    return high, low


def _speeds(job: Job) -> tuple[float, float]:
    read = cranking_speed(job)
    start = job.sheet.layout.fields.get("start", "both")
    usual = [KICK] * (start in ("kick", "both")) + [STARTER] * (start in ("electric", "both"))
    if read is not None:
        usual = [*usual[:1], read] if start == "both" else [read]
        return min(usual), max(usual)
    return min(usual) * (1 - SPEED_DOUBT), max(usual) * (1 + SPEED_DOUBT)


def _range(
    made: tuple[Cylinder, Cylinder],
    closings: Iterable[float],
    speeds: Iterable[float],
    altitude: float,
    vent: float,
) -> Range:
    ends = zip(made, closings, speeds, strict=True)
    low, high = (peak_on_gauge(cylinder, altitude, closing, speed, vent) for cylinder, closing, speed in ends)
    return Range(low, high)
