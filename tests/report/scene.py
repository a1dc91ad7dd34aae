"""An invented job on an invented engine, large enough to fill a record: about 250 readings, two leak-downs.

The readings are put where the data sheet's limits call for them: most inside, every ninth place of a
condemning limit beyond it, every eleventh on it. It is a scene for paper, not a check of the judging.
"""

from functools import cache
from pathlib import Path

from gudgeon.assess import assess
from gudgeon.assess.results import Assessment
from gudgeon.catalog import Characteristic, applies, catalog, instances
from gudgeon.datasheet import DataSheet, Limit, read_file
from gudgeon.job import (
    Check,
    Decision,
    Engine,
    Finding,
    Instrument,
    Job,
    LeakReading,
    LeakTest,
    Part,
    Person,
    Reading,
    Snapshot,
    Tester,
    Typed,
    Visit,
)
from gudgeon.quantities import parse, show

SHEETS = Path(__file__).resolve().parents[2] / "examples" / "sheets"
ISSUED = "2026-05-09T16:20:00Z"


def typed(text: str, kind: str) -> Typed:
    """A quantity as typed."""
    quantity = parse(text, kind, signed=True)
    return Typed(quantity.text, quantity.unit, quantity.si)


def _limit_value(limit: Limit, number: int) -> float | None:
    """A value for a place: inside its limits, or on or beyond them for some."""
    low, high = limit.band_low, limit.band_high
    if limit.upper is not None:
        inside = low if low is not None else high if high is not None else 0.6 * limit.upper
        return limit.upper * 1.02 if number % 9 == 4 else limit.upper if number % 11 == 5 else inside
    if limit.lower is not None:
        return limit.lower * 0.98 if number % 9 == 4 else high or limit.lower * 1.05
    if low is not None and high is not None:
        return (low + high) / 2
    return None


def _readings(sheet: DataSheet) -> tuple[Reading, ...]:
    made: list[Reading] = []
    for row in catalog().characteristics.values():
        if row.derived or not applies(row.applies_if, sheet.layout):
            continue
        for instance in instances(sheet.layout, row.per):
            for position in row.positions or ("",):
                made += _at(sheet, row, instance, position, len(made))
    return tuple(made[:260])


def _at(sheet: DataSheet, row: Characteristic, instance: str, position: str, number: int) -> list[Reading]:
    place = {"characteristic": row.key, "instance": instance, "position": position}
    taken = {"by": "MK" if number % 3 else "JD", "at": f"2026-05-{3 + number % 5:02}T09:{number % 60:02}:00Z"}
    if row.kind != "number":
        words = row.in_order or row.words
        word = row.words[-1] if number % 13 == 6 else words[0]
        return [Reading(id=f"r{number}", how=row.kind, word=word, **place, **taken)]
    limit = sheet.limit(row.key, instance, position)
    value = None if limit is None else _limit_value(limit, number)
    if value is None or row.reads[0] not in ("value", "bracket"):
        return []
    shown = show(value, row.unit, row.step)
    return [
        Reading(
            id=f"r{number}", how="value", value=typed(shown, row.quantity), instrument="mic", **place, **taken
        )
    ]


def _leak(
    number: str, occasion: str, at: str, cylinder: tuple[str, ...], outlets: dict[str, str]
) -> LeakTest:
    readings = tuple(
        LeakReading(supply=typed("690 kPa", "pressure"), cylinder=typed(f"{p} kPa", "pressure"))
        for p in cylinder
    )
    return LeakTest(
        id=number,
        occasion=occasion,  # type: ignore[arg-type]  # a plain word from this file
        warm=occasion == "as_found",
        tester="tester",
        readings=readings,
        outlets=outlets,  # type: ignore[arg-type]  # plain words from this file
        ambient_pressure=typed("1009 hPa", "pressure"),
        ambient_temperature=typed("14 °C", "temperature"),
        by="MK",
        at=at,
    )


def _decision(number: int, part: str, choice: str, proposal: str, reason: str) -> Decision:
    snapshot = Snapshot(
        proposal=proposal,
        sentences=(
            "Ring end gap, top ring: 0.71 mm is beyond the service limit, at most 0.55 mm (page 38).",
        ),
        sheet_hash="0" * 64,
        program="0.1.0",
    )
    return Decision(
        id=f"d{number}",
        part=part,
        instance="1",
        choice=choice,  # type: ignore[arg-type]  # plain words from this file
        reason=reason,
        by="MK",
        at="2026-05-08T10:00:00Z",
        snapshot=snapshot,
    )


CHECK = Check(
    date="2026-01-12", correction="0.001 mm", expanded_uncertainty="0.002 mm", due="2027-01-12", by="own ring"
)
INSTRUMENTS = (
    Instrument(key="mic", name="Outside micrometer", tool="micrometer", step="0.001 mm", checks=(CHECK,)),
    Instrument(key="feeler", name="Feeler blades", tool="feeler", step="0.01 mm"),
)
TESTER = Tester(
    key="tester", name="Bench tester", restrictor="1.0 mm", gauge_step="5 kPa", gauge_match="5 kPa"
)
BEFORE = {"intake": "clear", "exhaust": "none", "case": "strong", "outside": "none"}
AFTER = {"intake": "none", "exhaust": "none", "case": "faint", "coolant": "none", "outside": "none"}
WHY_PISTON = "Skirt scored, the customer races on Sunday and wants no doubt."


@cache
def job() -> Job:
    """The job, whole."""
    sheet = read_file(SHEETS / "whinmoor-349.toml")
    engine = Engine(
        key="whinmoor-1",
        name="Whinmoor 349",
        number="WM349-00217",
        use="race",
        visits=(Visit(date="2026-05-02", meter=typed("86.4 h", "time")),),
    )
    return Job(
        number="2026-014",
        title="Top end, valves and a look at the bottom",
        customer="Aldous Pennefather",
        words="Hard to start hot, smokes on the overrun, lost its pull above half throttle.",
        arrival="runs_badly",
        opened="2026-05-02",
        closed="2026-05-09",
        stage="hand_over",
        engine=engine,
        sheet=sheet,
        people=(Person("MK", "Mairi Kinnear"), Person("JD", "Jory Dunstan")),
        instruments=INSTRUMENTS,
        testers=(TESTER,),
        parts=(
            Part(id="p1", part="piston", instance="1", removed_hours=86.4, note="scored skirt, kept"),
            Part(id="p2", part="piston", instance="1", origin="new", fitted_hours=86.4),
        ),
        leak_tests=(
            _leak("l1", "as_found", "2026-05-02T11:00:00Z", ("480", "485", "470"), BEFORE),
            _leak("l2", "assembled", "2026-05-09T15:00:00Z", ("645", "650", "640"), AFTER),
        ),
        readings=_readings(sheet),
        findings=(Finding(id="f1", text="dust past the air filter", by="JD", at="2026-05-02T12:00:00Z"),),
        decisions=(
            _decision(1, "piston_rings", "replace", "replace", ""),
            _decision(2, "piston", "replace", "reuse", WHY_PISTON),
            _decision(3, "cylinder", "reuse", "reuse", ""),
        ),
    )


@cache
def assessment() -> Assessment:
    """What the job's readings come to."""
    return assess(job())
