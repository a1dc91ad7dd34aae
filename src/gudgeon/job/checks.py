"""Whether a job hangs together: every name has a bearer, corrections do not fork, numbers are as typed."""

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from gudgeon.catalog import Characteristic, catalog, instances
from gudgeon.datasheet.checks import faults as sheet_faults
from gudgeon.job.gauge_texts import gauge_text_faults
from gudgeon.job.history import Correctable
from gudgeon.job.objects import Job
from gudgeon.job.photographs import Photograph
from gudgeon.job.readings import Reading, Typed
from gudgeon.job.tests import LeakReading, LeakTest, PathFlow
from gudgeon.job.times import time_faults
from gudgeon.quantities import KINDS, UNITS, Refused, parse

_SHA256 = re.compile(r"[0-9a-f]{64}")
_CAMERA_CLOCK = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d([+-]\d\d:\d\d)?")


def faults(job: Job) -> tuple[str, ...]:
    """Everything that does not fit together, one sentence each; empty for a sound job."""
    return (
        *_twice(job),
        *_corrections(job),
        *_approvals(job),
        *_bench(job),
        *_people(job),
        *(fault for reading in job.readings for fault in _reading(reading, job)),
        *(fault for test in job.leak_tests for fault in _leak_test(test, job)),
        *_parts(job),
        *(f"Its data sheet, {fault}" for fault in sheet_faults(job.sheet)),
        *gauge_text_faults(job),
        *time_faults(job),
        *_told(job),
        *("A check that was not possible has no name." for check in job.not_possible if not check.strip()),
        *(fault for photograph in job.photographs for fault in _photograph(photograph, job)),
    )


def _twice(job: Job) -> Iterator[str]:
    named = {
        "reading": [reading.id for reading in job.readings],
        "leak-down test": [test.id for test in job.leak_tests],
        "finding": [finding.id for finding in job.findings],
        "decision": [decision.id for decision in job.decisions],
        "photograph": [photograph.id for photograph in job.photographs],
        "part": [part.id for part in job.parts],
        "gauge": [gauge.key for gauge in job.instruments],
        "leak-down tester": [tester.key for tester in job.testers],
        "zeroing": [zeroing.key for zeroing in job.zeroings],
        "person": [person.initials for person in job.people],
    }
    for noun, keys in named.items():
        for key, times in Counter(keys).items():
            if times > 1:
                yield f"The {noun} “{key}” stands {times} times in this job; once is allowed."


def _corrections(job: Job) -> Iterator[str]:
    kinds: tuple[tuple[str, Sequence[Correctable]], ...] = (
        ("reading", job.readings),
        ("leak-down test", job.leak_tests),
        ("finding", job.findings),
        ("decision", job.decisions),
        ("photograph", job.photographs),
    )
    for noun, facts in kinds:
        yield from _chains(noun, facts)
    by_id = {reading.id: reading for reading in job.readings}
    for reading in job.readings:
        earlier = by_id.get(reading.replaces or "")
        if earlier and earlier.characteristic != reading.characteristic:
            yield f"The reading “{reading.id}” corrects one of {earlier.characteristic}, another thing."


def _chains(noun: str, facts: Sequence[Correctable]) -> Iterator[str]:
    by_id = {fact.id: fact for fact in facts}
    for target, times in Counter(fact.replaces for fact in facts if fact.replaces).items():
        if target not in by_id:
            yield f"A {noun} corrects “{target}”, which is not in this job."
        elif times > 1:
            yield f"The {noun} “{target}” is corrected {times} times; once is allowed."
    for fact in facts:
        if fact.replaces and _circles(fact, by_id):
            yield f"The {noun} “{fact.id}” corrects itself by a roundabout way."


def _approvals(job: Job) -> Iterator[str]:
    decided = {decision.id for decision in job.decisions if decision.apprentice}
    for key, times in Counter(approval.decision for approval in job.approvals).items():
        if key not in decided:
            yield f"An approval is of “{key}”, which no apprentice decided in this job."
        elif times > 1:
            yield f"The decision “{key}” is approved {times} times; once is allowed."


def _circles(fact: Correctable, by_id: dict[str, Correctable]) -> bool:
    step: Correctable | None = by_id.get(fact.replaces or "")
    for _ in range(len(by_id)):
        if step is None:
            return False
        if step.id == fact.id:
            return True
        step = by_id.get(step.replaces or "")
    return False


def _bench(job: Job) -> Iterator[str]:
    gauges, parts = {gauge.key for gauge in job.instruments}, {part.id for part in job.parts}
    for gauge in job.instruments:
        if gauge.tool not in catalog().tools:
            yield f"The gauge “{gauge.key}” is said to be a “{gauge.tool}”, which no tool is called."
        if not gauge.repeat_dof >= 1:
            yield f"The gauge “{gauge.key}” has {gauge.repeat_dof:g} degrees of freedom; allowed: 1 and more."
    for zeroing in job.zeroings:
        on_part = zeroing.against.removeprefix("part:") if zeroing.against.startswith("part:") else None
        if zeroing.instrument not in gauges:
            yield f"The zeroing “{zeroing.key}” is of “{zeroing.instrument}”, which is not in this job."
        if on_part is None and zeroing.against not in gauges:
            yield f"The zeroing “{zeroing.key}” was made on “{zeroing.against}”, which is not in this job."
        if on_part is not None and on_part not in parts:
            yield f"The zeroing “{zeroing.key}” was made on the part “{on_part}”, which is not in this job."


def _people(job: Job) -> Iterator[str]:
    known = {person.initials for person in job.people}
    named = {reading.by for reading in job.readings} | {test.by for test in job.leak_tests}
    named |= {finding.by for finding in job.findings} | {decision.by for decision in job.decisions}
    named |= {approval.by for approval in job.approvals} | {shot.by for shot in job.photographs}
    for initials in sorted(named - known):
        yield f"“{initials}” took part in this job but is not among its people."


def _parts(job: Job) -> Iterator[str]:
    known = catalog().parts
    named = [part.part for part in job.parts] + [decision.part for decision in job.decisions]
    for key in sorted({*named, *job.disturbed} - known.keys()):
        yield f"This job names a part “{key}”, which no part is called."
    for finding in job.findings:
        if finding.failure and finding.failure not in catalog().failures:
            yield f"The finding “{finding.id}” names the failure “{finding.failure}”, which none is called."


def _photograph(photograph: Photograph, job: Job) -> Iterator[str]:
    for named in (photograph.sha256, photograph.screen, photograph.thumbnail):
        if not _SHA256.fullmatch(named):
            yield f"The photograph “{photograph.id}” names a picture “{named[:40]}”, which is no SHA-256."
    for noun, key, known in (
        ("part", photograph.part, catalog().parts),
        ("step", photograph.step, catalog().operations),
        ("finding", photograph.finding, {finding.id for finding in job.findings}),
    ):
        if key is not None and key not in known:
            yield f"The photograph “{photograph.id}” is of the {noun} “{key}”, which is not known here."
    if photograph.taken and not _CAMERA_CLOCK.fullmatch(photograph.taken):
        yield f"The photograph “{photograph.id}” was taken “{photograph.taken[:40]}”, which is no moment."


def _reading(reading: Reading, job: Job) -> Iterator[str]:
    row = catalog().characteristics.get(reading.characteristic)
    if row is None:
        yield f"The reading “{reading.id}” is of “{reading.characteristic}”, which is not known here."
        return
    yield from _place(reading, row, job)
    yield from _shape(reading, row)
    yield from _names(reading, job)
    yield from _sizes(reading, row)
    yield from (fault for typed in _numbers(reading) for fault in _as_typed(typed, f"reading “{reading.id}”"))


def _place(reading: Reading, row: Characteristic, job: Job) -> Iterator[str]:
    where = instances(job.sheet.layout, row.per)
    if reading.instance not in where:
        yield _not_among(reading, "place", reading.instance, where)
    positions = row.positions or ("", "1")
    if reading.position not in positions and not (len(row.positions) == 1 and reading.position == ""):
        yield _not_among(reading, "position", reading.position, positions)


def _not_among(reading: Reading, noun: str, given: str, allowed: Iterable[str]) -> str:
    words = ", ".join(one for one in allowed if one)
    return (
        f"The reading “{reading.id}” ({reading.characteristic}) has the {noun} “{given}”; allowed: {words}."
    )


def _shape(reading: Reading, row: Characteristic) -> Iterator[str]:
    given = {
        "value": reading.value is not None,
        "bracket": reading.goes is not None or reading.does_not is not None,
        "word": reading.word is not None,
    }
    needed = {"bracket": "bracket", "grade": "word", "observation": "word"}.get(reading.how, "value")
    if not given[needed] or sum(given.values()) != 1:
        yield f"The reading “{reading.id}”, read by {reading.how}, must give a {needed} and nothing else."
    if (row.kind == "number") == (needed == "word"):
        yield f"The reading “{reading.id}” gives a {needed}; {row.name.lower()} is read as a {row.kind}."
    if reading.word is not None and row.words and reading.word not in row.words:
        yield f"The reading “{reading.id}” says “{reading.word}”; allowed: {', '.join(row.words)}."
    if reading.goes and reading.does_not and reading.goes.si >= reading.does_not.si:
        yield f"The reading “{reading.id}” has a blade that goes as thick as the one that does not."


BENCH_TEMPERATURES = (243.15, 333.15)  # -30 to 60 °C: outside it no size is measured


def _sizes(reading: Reading, row: Characteristic) -> Iterator[str]:
    """Units of the row's own kind, a sign only where the row has one, a bench that people can work at."""
    values = [typed for typed in (reading.value, reading.goes, reading.does_not) if typed is not None]
    for typed in values:
        given, wanted = UNITS.get(typed.unit), UNITS.get(row.unit)
        if given and wanted and given.kind != wanted.kind:
            yield (
                f"The reading “{reading.id}” is {KINDS[given.kind]} ({typed.words}); "
                f"{row.name.lower()} is {KINDS[wanted.kind]}."
            )
        elif typed.si < 0 and not row.signed and wanted and wanted.kind != "temperature":
            yield f"The reading “{reading.id}” is below nought ({typed.words}); it cannot be."
    low, high = BENCH_TEMPERATURES
    for heat in (reading.part_temperature, reading.gauge_temperature):
        if row.temperature == "to_20" and heat is not None and not low <= heat.si <= high:
            yield (
                f"The reading “{reading.id}” was taken at {heat.words}; "
                "a size is measured between -30 and 60 °C."
            )


def _names(reading: Reading, job: Job) -> Iterator[str]:
    for noun, key, known in (
        ("gauge", reading.instrument, {gauge.key for gauge in job.instruments}),
        ("zeroing", reading.zeroing, {zeroing.key for zeroing in job.zeroings}),
        ("part", reading.part, {part.id for part in job.parts}),
    ):
        if key is not None and key not in known:
            yield f"The reading “{reading.id}” names the {noun} “{key}”, which is not in this job."


def _leak_test(test: LeakTest, job: Job) -> Iterator[str]:
    if test.tester not in {tester.key for tester in job.testers}:
        yield f"The leak-down test “{test.id}” names the tester “{test.tester}”, which is not in this job."
    if test.cylinder not in instances(job.sheet.layout, "cylinder"):
        yield f"The leak-down test “{test.id}” is of cylinder “{test.cylinder}”, which this engine has not."
    if test.taken_back and not test.replaces:
        yield f"The leak-down test “{test.id}” holds no reading; at least one is needed."
    elif test.taken_back and not test.note.strip():
        yield f"The leak-down test “{test.replaces}” is taken back without a reason."
    for reading in test.readings:
        if (reading.cylinder is None) == (reading.percent is None):
            yield f"The leak-down test “{test.id}” needs a cylinder pressure or a percentage, one of the two."
        yield from pressure_faults(reading)
        for typed in (reading.supply, reading.cylinder, reading.percent):
            if typed is not None:
                yield from _as_typed(typed, f"leak-down test “{test.id}”")
    for flow in test.flows:
        yield from flow_faults(flow)
        for typed in (flow.volume, flow.time, flow.doubt):
            if typed is not None:
                yield from _as_typed(typed, f"leak-down test “{test.id}”")


MOST_SUPPLY = 1.4e6  # Pa gauge: no workshop line gives more (common practice, no source)
SAFE_SUPPLY = 20e3  # Pa gauge: above it a shut breather or radiator bursts within a second


def pressure_faults(reading: LeakReading) -> Iterator[str]:
    """What no leak-down tester shows: no supply, ten times the usual one, more lost than there is."""
    if not 0 < reading.supply.si <= MOST_SUPPLY:
        yield (
            f"A supply of {reading.supply.words} was given; more than nought and at most 1400 kPa "
            "(14 bar, 203 psi) is allowed, and about 690 kPa is usual."
        )
    if reading.percent is not None and not 0 <= reading.percent.si <= 1:
        yield f"{reading.percent.words} lost was given; 0 % to 100 % is allowed."


def flow_faults(flow: PathFlow) -> Iterator[str]:
    """What is wrong with a reading of one way out; nothing is ever shut above 20 kPa."""
    if flow.how == "flow":
        yield from _flow_typed(flow)
    elif flow.reading is None:
        yield f"The {flow.how} reading at the {flow.outlet} needs the tester's pressures or a percentage."
    elif flow.how == "shut" and flow.reading.supply.si > SAFE_SUPPLY * (1 + 1e-9):
        yield (
            f"The {flow.outlet} was shut at {flow.reading.supply.words} of supply; "
            "nothing is shut above 20 kPa, because shut-in air bursts seals and gaskets within a second."
        )
    if flow.how == "oiled" and flow.outlet != "case":
        yield f"Oil lessens only the way past the rings (case), not the {flow.outlet}."


def _flow_typed(flow: PathFlow) -> Iterator[str]:
    if flow.volume is None or flow.time is None:
        yield f"The flow at the {flow.outlet} needs a volume and the time it took."
    elif flow.volume.si < 0 or flow.time.si <= 0:
        yield (
            f"The flow at the {flow.outlet} is {flow.volume.words} in {flow.time.words}; "
            "a volume of nothing or more in a time above nothing is allowed."
        )


def _numbers(reading: Reading) -> list[Typed]:
    all_of_them = (
        reading.value,
        reading.goes,
        reading.does_not,
        reading.part_temperature,
        reading.gauge_temperature,
    )
    return [typed for typed in all_of_them if typed is not None]


def _told(job: Job) -> Iterator[str]:
    """The hour meter and the height above the sea: a time, and a length."""
    told = [(visit.meter, "time", f"hour meter of {visit.date}") for visit in job.engine.visits]
    told += [(job.altitude, "length", "height above the sea")] if job.altitude is not None else []
    for typed, kind, of in told:
        wrong = tuple(_as_typed(typed, of))
        yield from wrong
        if not wrong and UNITS[typed.unit].kind != kind:
            yield f"The {of} is {KINDS[UNITS[typed.unit].kind]} ({typed.words}); {KINDS[kind]} is wanted."


def _as_typed(typed: Typed, of: str) -> Iterator[str]:
    """A number is converted once; a file in which text and value part company was altered by hand."""
    unit = UNITS.get(typed.unit)
    if unit is None:
        yield f"The {of} is in “{typed.unit}”, which is no unit this program knows."
        return
    try:
        meant = parse(typed.text, unit.kind, unit=typed.unit, signed=True).si
    except Refused as refused:
        yield f"The {of} cannot be read: {refused}"
        return
    if abs(meant - typed.si) > 1e-9 * max(abs(meant), 1e-9):
        yield f"The {of} was typed “{typed.words}” but another value stands beside it."
