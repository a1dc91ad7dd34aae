"""From verdicts and jobs to the drawing room: SI turned into the unit shown, names into words."""

from fractions import Fraction

from gudgeon.assess.results import Assessment, Interval, LeakVerdict, Verdict
from gudgeon.catalog import Characteristic, catalog, count
from gudgeon.job.objects import Job
from gudgeon.job.tests import LeakReading
from gudgeon.quantities import decimals, figure, unit_named
from gudgeon.report.draw import (
    BoreHeight,
    BoreShape,
    EngineSection,
    Ink,
    LeakPoint,
    RuleReading,
    Stage,
    WayOut,
    bore_map,
    count_rule,
    leak_rule,
    leak_section,
    progress_rule,
    repeat_strip,
    rule_verdict,
    status_words,
)
from gudgeon.report.draw.marks import MARKS
from gudgeon.report.draw.scale import decimals_of
from gudgeon.report.draw.strips import StageState
from gudgeon.report.phrases import OCCASIONS

_HEIGHTS = (("top", 0.0), ("middle", 0.5), ("bottom", 1.0))
_AXES = (("thrust", "across the pin"), ("pin", "along the pin"))


def shown_number(si: float, unit: str) -> float:
    """An SI value as a number in a unit."""
    described = unit_named(unit)
    return float((Fraction(si) - described.offset) / described.factor)


def shown_span(si: float, unit: str) -> float:
    """A difference in SI as a number in a unit."""
    return float(Fraction(si) / unit_named(unit).factor)


def verdict_picture(verdict: Verdict, ink: Ink, width: float = 360) -> str:
    """A verdict on a steel rule; empty where there is no number and no limit to draw."""
    if not verdict.unit or (verdict.measured is None and verdict.bounds is None):
        return ""
    return rule_verdict(
        rule_reading(verdict), title=verdict.title, message=verdict.sentence, ink=ink, width=width
    )


def rule_reading(verdict: Verdict) -> RuleReading:
    """A verdict's numbers in its own unit."""
    unit, bounds = verdict.unit, verdict.bounds
    row = catalog().characteristics.get(verdict.place.characteristic)
    value = None if verdict.measured is None else shown_number(verdict.measured.value, unit)
    half = 0.0 if verdict.expanded is None else shown_span(verdict.expanded, unit)
    ends = (bounds.lower, bounds.upper) if bounds else (None, None)
    step = _shown_step(row, unit)
    turned = row is not None and row.unit != unit  # a limit turned into another unit has no last digit
    finest = decimals_of(step) + 1 if turned else 15
    low, high = (None if end is None else round(shown_number(end, unit), finest) for end in ends)
    service = bounds is not None and bounds.kind == "service"
    return RuleReading(
        status=verdict.status,
        shown=verdict.shown,
        unit=unit_named(unit).shown,
        value=value,
        low=None if value is None else value - half,
        high=None if value is None else value + half,
        lower=low if service else None,
        upper=high if service else None,
        band_low=None if service else low,
        band_high=None if service else high,
        step=step,
    )


def _shown_step(row: Characteristic | None, unit: str) -> float:
    """The gauge's step in the unit shown; in another unit than the row's, the decimal place that shows it."""
    if row is None or row.step is None:
        return 0.01
    if row.unit == unit:
        return row.reads_to or 0.01
    return float(10 ** -decimals(unit, row.step))


def engine_section(job: Job) -> EngineSection:
    """The engine's own numbers, as far as its data sheet has them."""
    sheet, layout = job.sheet, job.sheet.layout
    bore, stroke = sheet.size("bore"), sheet.size("stroke")
    return EngineSection(
        bore=bore or 0.080,
        stroke=stroke or 0.068,
        usual=bore is None or stroke is None,
        cooling="air" if layout.fields.get("cooling") == "air" else "liquid",
        rockers=layout.fields.get("valve_train") == "rocker_screw",
        cylinders=int(count(layout, "cylinders")),
        intake_valves=int(count(layout, "intake_valves")),
        exhaust_valves=int(count(layout, "exhaust_valves")),
        intake_size=sheet.size("intake_valve_head"),
        exhaust_size=sheet.size("exhaust_valve_head"),
        rod_length=sheet.size("rod_length"),
    )


def leak_picture(job: Job, leak: LeakVerdict, ink: Ink, width: float = 390) -> str:
    """The engine in section with the ways out as they were heard in this test."""
    ways = [WayOut(outlet, strength) for outlet, strength in leak.outlets if outlet != "plug"]
    title = f"Where the air went, {cylinder_words(job, leak.cylinder)}"
    return leak_section(engine_section(job), ways, title=title, message=leak.headline, ink=ink, width=width)


def cylinder_words(job: Job, cylinder: str) -> str:
    """ "cylinder 2", or "the cylinder" where there is one."""
    return f"cylinder {cylinder}" if int(count(job.sheet.layout, "cylinders")) > 1 else "the cylinder"


def percent_words(percent: Interval | None) -> str:
    """A leak-down percentage as a page shows it."""
    if percent is None:
        return "not known"
    return share_words(percent.value) if percent.value < 1 else f"at least {share_words(percent.low)}"


def share_words(share: float) -> str:
    """A share as a percentage: whole from ten up, to a tenth below."""
    return f"{figure(share, '%', 0.01 if share >= 0.0995 else 0.001)} %"


def leaks_picture(job: Job, leaks: tuple[LeakVerdict, ...], ink: Ink, width: float = 360) -> str:
    """Leak-downs of a job on one rule, in the order given; empty where none has a percentage."""
    tests = {test.id: test for test in job.leak_tests}
    points = [
        LeakPoint(
            OCCASIONS[tests[leak.test_id].occasion],
            percent_words(leak.percent),
            *(shown_number(end, "%") for end in (leak.percent.value, leak.percent.low, leak.percent.high)),
        )
        for leak in leaks
        if leak.percent is not None and leak.test_id in tests
    ]
    if not points:
        return ""
    band = catalog().diagnosis.band_for(job.engine.use)
    message = "; ".join(f"{point.words}: {point.shown}" for point in points)
    return leak_rule(
        points,
        sound_below=band.sound_below,
        failed_from=band.failed_from,
        title="Leak-down, before and after",
        message=f"{sentence_end(message)}",
        ink=ink,
        width=width,
    )


def sentence_end(text: str) -> str:
    """The text as a sentence with its full stop."""
    return text if text.endswith(".") else f"{text[:1].upper()}{text[1:]}."


def repeats_picture(job: Job, leak: LeakVerdict, ink: Ink, width: float = 360) -> str:
    """The repeats of a leak-down in percent; empty where only one was taken."""
    test = next((test for test in job.leak_tests if test.id == leak.test_id), None)
    values = repeat_percents(job, leak)
    if test is None or len(values) < 2 or leak.percent is None:
        return ""
    mean, low, high = (
        shown_number(end, "%") for end in (leak.percent.value, leak.percent.low, leak.percent.high)
    )
    message = f"{len(values)} repeats from {min(values):.1f} % to {max(values):.1f} %."
    return repeat_strip(
        values,
        mean=mean,
        low=low,
        high=high,
        title="Repeats",
        message=message,
        ink=ink,
        unit="%",
        step=0.5,
        width=width,
    )


def repeat_percents(job: Job, leak: LeakVerdict) -> tuple[float, ...]:
    """Each repeat as a percentage, from its two pressures or as the tester showed it."""
    test = next((test for test in job.leak_tests if test.id == leak.test_id), None)
    if test is None:
        return ()
    return tuple(100 * share for reading in test.readings if (share := _lost(reading)) is not None)


def _lost(reading: LeakReading) -> float | None:
    if reading.percent is not None:
        return reading.percent.si
    if reading.cylinder is None:
        return None
    return (reading.supply.si - reading.cylinder.si) / reading.supply.si


def bore_picture(job: Job, assessment: Assessment, cylinder: str, ink: Ink, width: float = 360) -> str:
    """The bore of one cylinder as measured; empty where it was not."""
    row = catalog().characteristics["bore_diameter"]
    read = {
        verdict.place.position: verdict
        for verdict in assessment.verdicts
        if (verdict.place.characteristic, verdict.place.instance) == ("bore_diameter", cylinder)
        and verdict.measured is not None
        and verdict.status != "slip"
    }
    if not read:
        return ""
    limit = job.sheet.limit("bore_diameter", cylinder)
    nominal = (limit and limit.band_low) or job.sheet.size("bore")
    shape = BoreShape(
        axes=_AXES,
        heights=tuple(
            BoreHeight(words, depth, _diameters(read, words, row.unit)) for words, depth in _HEIGHTS
        ),
        unit=unit_named(row.unit).shown,
        decimals=decimals(row.unit, row.step or 1e-6),
        nominal=None if nominal is None else shown_number(nominal, row.unit),
        limit=None if limit is None or limit.upper is None else shown_number(limit.upper, row.unit),
    )
    worst = max(read.values(), key=lambda verdict: verdict.measured.value if verdict.measured else 0.0)
    title = f"The bore as measured, {cylinder_words(job, cylinder)}"
    return bore_map(shape, title=title, message=f"Largest: {worst.sentence}", ink=ink, width=width)


def _diameters(read: dict[str, Verdict], height: str, unit: str) -> dict[str, float | None]:
    return {
        axis: shown_number(verdict.measured.value, unit)
        if (verdict := read.get(f"{height}/{axis}")) and verdict.measured
        else None
        for axis, _ in _AXES
    }


def count_picture(assessment: Assessment, ink: Ink, width: float = 360) -> str:
    """How the verdicts fell out, status by status, those that there are."""
    counts = [(status, sum(v.status == status for v in assessment.verdicts)) for status in MARKS]
    kept = [(status, number) for status, number in counts if number]
    message = sentence_end(
        ", ".join(f"{number} {status_words(status)}" for status, number in kept) or "none yet"
    )
    return count_rule(kept, title="Verdicts", message=message, ink=ink, width=width)


def stage_picture(job: Job, ink: Ink, width: float = 360) -> str:
    """How far the job has come."""
    phases = catalog().job_phases
    keys = list(phases)
    at = keys.index(job.stage) if job.stage in keys else 0
    stages = [
        Stage(phases[key].name, _state(job, key, i, len(keys) if job.closed else at))
        for i, key in enumerate(keys)
    ]
    now = f"Now: {phases[keys[at]].name}, {at + 1} of {len(keys)}."
    message = "All stages are done." if job.closed else now
    return progress_rule(stages, title="The job", message=message, ink=ink, width=width)


def _state(job: Job, key: str, index: int, at: int) -> StageState:
    if key in job.not_possible:
        return "not_possible"
    return "done" if index < at else "now" if index == at else "to_come"
