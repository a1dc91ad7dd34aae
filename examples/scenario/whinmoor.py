"""The complete job: a trail single that lost a quarter of its air; opened, decided, built, proved."""

import json
from pathlib import Path
from uuid import uuid5

from examples.scenario import shop, whinmoor_built, whinmoor_found
from examples.scenario.notebook import NAMESPACE, Notebook

from gudgeon.datasheet import content_hash, read_file
from gudgeon.job.instruments import Zeroing
from gudgeon.job.objects import Choice, Decision, Engine, Job, Part, Snapshot, Visit
from gudgeon.job.readings import Occasion, Typed
from gudgeon.job.tests import LeakReading, LeakTest, Outlet, Strength
from gudgeon.quantities import parse

NUMBER = "26-014"
PROGRAM = "0.1.0"
HERE = Path(__file__).parent
SHEET = read_file(HERE.parent / "sheets" / "whinmoor-349.toml")
SEEN = HERE / "whinmoor_seen.json"

SCOPE = ("top_end", "head", "valve_setting", "cam_drive")
DISTURBED = (
    "base_gasket",
    "head_gasket",
    "cyl_orings",
    "cam_cover_gasket",
    "tensioner_gasket",
    "pin_circlips",
    "piston_rings",
    "valve_seal",
    "exhaust_gasket",
    "stator_cover_gasket",
    "oil_orings",
    "oil_filter",
    "engine_oil",
    "coolant",
)

#: Where the builder did not do as proposed, and why.
OVERRULED: dict[tuple[str, str], tuple[Choice, str]] = {
    ("valve_in", "1.in.2"): (
        "replace",
        "Both intake valves are changed together; this one has lost half its gap.",
    ),
    ("valve_seat", "1.in.1"): (
        "rework",
        "Cut again at this bench: the insert is sound and high enough.",
    ),
    ("seat_service", "1.in.1"): ("rework", "Done at this bench, not sent out."),
    ("intake_seal", "1"): ("reuse", "Whole and tight: the sand came in by the airbox lid."),
    ("valve_guide", "1.ex.2"): (
        "watch",
        "Measured again by the second pair of hands with the same result; good to the next strip.",
    ),
}


def _part_id(name: str) -> str:
    return str(uuid5(NAMESPACE, f"{NUMBER} part {name}"))


OLD_PISTON, NEW_PISTON = _part_id("piston old"), _part_id("piston new")
OLD_RINGS, NEW_RINGS = _part_id("rings old"), _part_id("rings new")
OLD_CHAIN, NEW_CHAIN = _part_id("chain old"), _part_id("chain new")
VALVES = {valve: _part_id(f"valve {valve}") for valve in whinmoor_found.VALVES}
NEW_VALVES = {valve: _part_id(f"valve {valve} new") for valve in whinmoor_built.INTAKE}


def typed(text: str, kind: str) -> Typed:
    """A quantity with its unit, as typed."""
    read = parse(text, kind, signed=True)
    return Typed(read.text, read.unit, read.si)


def notebook() -> Notebook:
    """The readings, day by day."""
    book = Notebook(NUMBER, SHEET)
    whinmoor_found.on_the_bike(book)
    book.day("2026-02-10 07:40:00", by="TA")
    whinmoor_found.stone_cold(book)
    book.day("2026-02-10 10:05:00", by="MH")
    whinmoor_found.strip(book, OLD_CHAIN)
    book.day("2026-02-11 08:15:00", room=8)
    whinmoor_found.barrel(book, OLD_PISTON)
    book.day("2026-02-11 09:40:00", by="TA")
    whinmoor_found.rings(book, OLD_RINGS)
    whinmoor_found.faces(book)
    book.day("2026-02-12 09:00:00", by="MH", room=19)
    whinmoor_found.valves(book, VALVES)
    whinmoor_found.seats(book)
    whinmoor_found.springs_and_cams(book)
    whinmoor_found.below(book)
    book.day("2026-02-24 09:20:00", occasion="after_work")
    whinmoor_built.seats_cut(book)
    book.day("2026-02-25 09:00:00", occasion="new_part")
    whinmoor_built.new_parts(book, NEW_PISTON, NEW_RINGS, NEW_CHAIN, NEW_VALVES)
    book.day("2026-02-26 09:00:00", occasion="assembled", by="TA")
    whinmoor_built.built(book)
    book.day("2026-03-05 08:30:00", occasion="proved", by="MH")
    whinmoor_built.proved(book)
    return book


def leak_tests(book: Notebook) -> tuple[LeakTest, ...]:
    """Before, after the build, and after the first hours; three repeats each."""
    return (
        _leak(
            book, "as_found", "2026-02-09T09:55:00Z", ("525", "520", "530"), warm=True,
            heard={"intake": "strong", "case": "clear", "exhaust": "none", "coolant": "none"},
            note="crank held; throttle wide open",
        ),
        _leak(
            book, "assembled", "2026-02-26T15:10:00Z", ("605", "605", "610"), warm=False,
            heard={"intake": "none", "exhaust": "none", "case": "clear", "coolant": "none"},
            note="cold, new rings not yet run in",
        ),
        _leak(
            book, "proved", "2026-03-05T10:20:00Z", ("640", "645", "645"), warm=True,
            heard={"intake": "none", "exhaust": "none", "case": "faint", "coolant": "none"},
        ),
    )  # fmt: skip


def _leak(
    book: Notebook,
    occasion: Occasion,
    at: str,
    cylinder: tuple[str, ...],
    *,
    warm: bool,
    heard: dict[Outlet, Strength],
    note: str = "",
) -> LeakTest:
    readings = tuple(
        LeakReading(supply=typed("690 kPa", "pressure"), cylinder=typed(f"{text} kPa", "pressure"))
        for text in cylinder
    )
    return LeakTest(
        id=book.new_id("leak"),
        occasion=occasion,
        warm=warm,
        tester="two-gauge",
        readings=readings,
        outlets=heard,
        ambient_pressure=typed("98.6 kPa", "pressure"),
        ambient_temperature=typed("11 °C", "temperature"),
        by="MH",
        at=at,
        device="bench phone",
        note=note,
    )


def decisions(book: Notebook) -> tuple[Decision, ...]:
    """Part by part on the fourth evening, as the proposals stood then (``whinmoor_seen.json``)."""
    book.day("2026-02-12 17:30:00")
    sheet_hash = content_hash(SHEET)
    return tuple(_decision(book, row, sheet_hash) for row in json.loads(SEEN.read_text("utf-8")))


def _decision(book: Notebook, row: dict[str, list[str] | str], sheet_hash: str) -> Decision:
    part, instance, proposal = str(row["part"]), str(row["instance"]), str(row["proposal"])
    plain: dict[str, Choice] = {"reuse": "reuse", "watch": "watch", "measure_again": "measure_again"}
    choice, reason = OVERRULED.get((part, instance), (plain.get(proposal, "replace"), ""))
    return Decision(
        id=book.new_id("decision"),
        part=part,
        instance=instance,
        choice=choice,
        reason=reason,
        by="MH",
        at=book.at(),
        snapshot=Snapshot(
            proposal=proposal, sentences=tuple(row["sentences"]), sheet_hash=sheet_hash, program=PROGRAM
        ),
    )


def parts() -> tuple[Part, ...]:
    """What was in it, what went in."""
    new = {"origin": "new", "fitted_hours": 112.6}
    found = [
        Part(id=OLD_PISTON, part="piston", instance="1", fitted_hours=48.2, removed_hours=112.6),
        Part(id=OLD_RINGS, part="piston_rings", instance="1", fitted_hours=48.2, removed_hours=112.6),
    ]
    found.append(Part(id=OLD_CHAIN, part="cam_chain", instance="1", removed_hours=112.6))
    for valve, name in VALVES.items():
        kind = "valve_in" if ".in." in valve else "valve_ex"
        removed = 112.6 if valve in NEW_VALVES else None
        found.append(Part(id=name, part=kind, instance=valve, removed_hours=removed))
    fitted = [
        Part(id=NEW_PISTON, part="piston", instance="1", note="size mark B", **new),
        Part(id=NEW_RINGS, part="piston_rings", instance="1", **new),
        Part(id=NEW_CHAIN, part="cam_chain", instance="1", **new),
        *(Part(id=name, part="valve_in", instance=valve, **new) for valve, name in NEW_VALVES.items()),
    ]
    return (*found, *fitted)


def zeroings() -> tuple[Zeroing, ...]:
    """What the bore gauge was set on."""
    return (
        Zeroing(
            key="on-mic", instrument="bore-gauge", against="mic-75-100", at="2026-02-11T08:10:00Z",
            size="81.700 mm", half_width="0.001 mm",
        ),
        Zeroing(
            key="on-piston", instrument="bore-gauge", against=f"part:{OLD_PISTON}", at="2026-02-11T08:35:00Z",
            half_width="0.001 mm",
        ),
        Zeroing(
            key="on-new-piston", instrument="bore-gauge", against=f"part:{NEW_PISTON}",
            at="2026-02-25T08:55:00Z", half_width="0.001 mm",
        ),
    )  # fmt: skip


def before_deciding() -> Job:
    """The job as it stood when the decisions were taken."""
    whole = notebook()
    readings = tuple(reading for reading in whole.readings if reading.occasion == "as_found")
    found = tuple(part for part in parts() if part.origin == "found")
    still_in = tuple(
        Part(id=p.id, part=p.part, instance=p.instance, fitted_hours=p.fitted_hours) for p in found
    )
    return _job(
        whole,
        engine=_engine(2),
        readings=readings,
        parts=still_in,
        leak_tests=leak_tests(whole)[:1],
        zeroings=zeroings()[:2],
    )


def job() -> Job:
    """The whole job, closed."""
    book = notebook()
    tests = leak_tests(book)
    return _job(
        book,
        closed="2026-03-06",
        stage="hand_over",
        readings=tuple(book.readings),
        parts=parts(),
        leak_tests=tests,
        zeroings=zeroings(),
        decisions=decisions(book),
    )


def _engine(visits: int) -> Engine:
    meters = (("2025-05-17", "48.2 h"), ("2026-02-09", "112.6 h"), ("2026-03-05", "116.9 h"))
    return Engine(
        key="whinmoor-tolliver",
        name="Whinmoor 349",
        number="WM349-00217",
        use="trail",
        visits=tuple(Visit(date=date, meter=typed(text, "time")) for date, text in meters[:visits]),
    )


def _job(book: Notebook, **more: object) -> Job:
    settled: dict[str, object] = {
        "number": NUMBER,
        "title": "Whinmoor 349, trail: hard to start, down on power",
        "customer": "Wren Tolliver (invented)",
        "words": "Starts on the tenth kick when cold, no pull on hills since the dusty rides last summer.",
        "arrival": "runs_badly",
        "opened": "2026-02-09",
        "stage": "measure",
        "facts": {"runs": "yes", "turns": "yes", "debris": "no"},
        "scope": SCOPE,
        "disturbed": DISTURBED,
        "altitude": typed("235 m", "length"),
        "engine": _engine(3),
        "sheet": SHEET,
        "people": shop.PEOPLE,
        "instruments": shop.INSTRUMENTS,
        "testers": shop.TESTERS[:1],
        "findings": tuple(book.findings),
    }
    return Job(**{**settled, **more})  # type: ignore[arg-type]  # fields by name, each of its own type
