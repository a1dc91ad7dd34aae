"""Written cases brought to the bench: a file becomes a job, and its diagnosis is held against the case."""

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, get_args

import msgspec
from tests.assess.scenes import typed

from gudgeon.assess.diagnosis import Diagnosis, diagnose, symptoms_in
from gudgeon.catalog import Layout, catalog, instances
from gudgeon.datasheet import DataSheet, LimitRow
from gudgeon.job import Engine, Job, LeakReading, LeakTest, Person, Reading, Tester
from gudgeon.job.tests import Outlet

CASES = Path(__file__).parents[1] / "cases" / "diagnosis"
FIELDS = {
    "cooling": "liquid",
    "valve_train": "bucket_shim",
    "bore": "plated",
    "big_end": "roller",
    "mains": "roller",
    "start": "both",
    "cam_drive": "chain",
    "fuel": "injection",
    "decompressor": "automatic",
    "balancer": "yes",
    "sump": "wet",
    "chain_side": "generator",
    "front_guide": "head_off",
    "cases": "vertical",
    "water_pump": "clutch_cover",
    "cam_bearings": "plain",
}
LIMITS = {  # an invented sheet: the usual figures of the trade, so that "tight" and "beyond" mean something
    "valve_clearance_in": LimitRow(band_low="0.10 mm", band_high="0.15 mm"),
    "valve_clearance_ex": LimitRow(band_low="0.15 mm", band_high="0.20 mm"),
    "valve_clearance_loss_rate": LimitRow(service_max="0.02 mm/10h"),
    "crank_end_float_onbike": LimitRow(service_max="0.20 mm"),
    "cam_chain_tensioner_extension": LimitRow(service_max="18 mm"),
    "cam_chain_side_slack": LimitRow(service_max="10 mm"),
    "oil_pressure_hot": LimitRow(service_min="80 kPa"),
    "radiator_cap_opening": LimitRow(band_low="108 kPa", band_high="137 kPa"),
    "piston_height_tdc_onbike": LimitRow(band_low="61.90 mm", band_high="62.10 mm"),
    "lobe_centre_in": LimitRow(band_low="106 deg", band_high="110 deg"),
    "lobe_centre_ex": LimitRow(band_low="106 deg", band_high="110 deg"),
    "clutch_lever_play": LimitRow(band_low="2 mm", band_high="4 mm"),
    "output_shaft_play": LimitRow(service_max="0.5 mm"),
    "stator_resistance": LimitRow(band_low="0.2 Ω", band_high="0.6 Ω"),
    "pickup_resistance": LimitRow(band_low="180 Ω", band_high="260 Ω"),
    "fuel_pressure": LimitRow(band_low="330 kPa", band_high="370 kPa"),
    "oil_consumption": LimitRow(service_max="40 ml/h"),
    "thermostat_opening": LimitRow(band_low="68 °C", band_high="75 °C"),
    "ignition_base_timing": LimitRow(band_low="8 deg", band_high="12 deg"),
    "rotor_runout": LimitRow(service_max="0.05 mm"),
}
SIZES = {"bore": "90 mm", "stroke": "58 mm", "rod_length": "105 mm", "compression_ratio": "12.5"}
STRENGTHS = {"steady": "clear"}  # the word of the row "leak path" for what a test's outlet calls clear
LOUDER = ("none", "faint", "clear", "strong")
NOT_OPENED = {"none", "external", "valve_setting"}  # what is put right from outside opens nothing
WALL = ("bore_look", "plating_defects")  # the same look at the wall: in an iron liner, in a plated bore
AT = "2031-03-04T10:00:{:02d}Z"


@dataclass(frozen=True)
class Case:
    """One written case."""

    name: str
    told: Mapping[str, Any]

    @property
    def concludes(self) -> Mapping[str, Any]:
        """What a good builder concludes."""
        return dict(self.told["concludes"])


def cases(pattern: str = "*.toml") -> list[Case]:
    """The cases of the folder, by name."""
    return [Case(path.stem, tomllib.loads(path.read_text("utf-8"))) for path in sorted(CASES.glob(pattern))]


def layout_of(case: Case) -> Layout:
    """The usual single with what differs."""
    fields, counts = dict(FIELDS), {"cylinders": 1}
    for key, value in case.told["engine"].get("layout", {}).items():
        if key in catalog().counts:
            counts[key] = value
        else:
            fields[key] = str(value)
    return Layout(fields=fields, counts=counts)


def job_of(case: Case) -> Job:
    """The case as a job on the bench."""
    told = case.told
    facts = {key: value for key, value in told.get("facts", {}).items() if key != "symptoms"}
    said = [*told.get("facts", {}).get("symptoms", ()), *told.get("symptoms", ())]
    ticked: dict[str, str] = {}
    for text in said:
        ticked |= _ticked(text)
        keys = [text] if text in catalog().reasoning.symptoms else symptoms_in(text)
        facts |= {f"symptom.{key}": "yes" for key in keys}
    layout, limits = layout_of(case), {key: (row,) for key, row in LIMITS.items()}
    tests, testers = _leaks(told.get("leak", []))
    readings, looks = _found(told.get("found", []), layout)
    return Job(
        number="1",
        title=told["title"],
        words="; ".join(said),
        arrival="will_not_turn" if facts.get("turns") == "no" else "runs_badly",
        opened="2031-03-04",
        facts=facts | ticked | looks,
        engine=Engine(key="e", name="Invented single", use=told["engine"].get("use", "trail")),
        sheet=DataSheet(
            key="s", name="Invented", invented=True, layout=layout, geometry=SIZES, limits=limits
        ),
        people=(Person("MK", "M. K."),),
        testers=testers,
        leak_tests=tests,
        readings=readings,
    )


def _found(rows: list[Mapping[str, Any]], layout: Layout) -> tuple[tuple[Reading, ...], dict[str, str]]:
    readings: list[Reading] = []
    looks: dict[str, str] = {}
    for number, row in enumerate(rows):
        key = row["characteristic"]
        word = str(row.get("word") or row.get("value"))
        known = catalog().characteristics.get(key)
        if known is None or (known.words and word not in known.words):
            looks[f"found.{key}"] = _finding(key, word)
        else:
            readings += _readings(number, row, layout)
    return tuple(readings), looks


def _ticked(text: str) -> dict[str, str]:
    """What was told in the very words of a pre-check: "plug oily" is its finding."""
    words = text.lower()
    return {
        f"found.{check.key}": key
        for check in catalog().diagnosis.prechecks.values()
        for key, row in check.findings.items()
        if words == f"{check.name.split()[0].lower()} {row.finding.lower()}"
    }


def _finding(check: str, word: str) -> str:
    findings = catalog().diagnosis.prechecks[check].findings
    if word in findings:
        return word
    return next(key for key, row in findings.items() if word.lower() in (row.finding, row.meaning))


def _readings(number: int, row: Mapping[str, Any], layout: Layout) -> Iterator[Reading]:
    known = catalog().characteristics[row["characteristic"]]
    places = [str(row["instance"])] if "instance" in row else [instances(layout, known.per)[0]]
    if "cylinder" in row and "instance" not in row:
        places = [at for at in instances(layout, known.per) if at.split(".")[0] == str(row["cylinder"])][:1]
    for at in places:
        given = _given(row, known.unit, known.kind)
        position = str(row.get("position", known.positions[0] if known.positions else ""))
        yield Reading(
            id=f"r{number}.{at}",
            characteristic=known.key,
            instance=at,
            position=position,
            by="MK",
            at=AT.format(number % 60),
            slip_confirmed=True,
            **given,
        )


def _given(row: Mapping[str, Any], unit: str, kind: str) -> dict[str, Any]:
    word = row.get("word")
    if kind != "number":
        return {"how": "grade" if kind == "grade" else "observation", "word": str(word or row.get("value"))}
    if word is not None and "none enters" in str(word):
        return {"how": "bracket", "does_not": typed("0.03 mm")}
    text = str(row.get("value", word))
    return {"how": "value", "value": typed(text, unit)}


def _leaks(rows: list[Mapping[str, Any]]) -> tuple[tuple[LeakTest, ...], tuple[Tester, ...]]:
    """Further tables of one cylinder, warmth and tester are its repeats, unless they say ``again``."""
    tests: list[LeakTest] = []
    testers: dict[str, Tester] = {}
    for number, row in enumerate(rows):
        tester = _tester(row)
        testers[tester.key] = tester
        one = _leak(number, row, tester)
        last = next((test for test in reversed(tests) if _place(test) == _place(one)), None)
        if last is None or row.get("again"):
            tests.append(one)
        else:
            tests[tests.index(last)] = _with(last, one)
    return tuple(tests), tuple(testers.values())


def _place(test: LeakTest) -> tuple[str, bool, str]:
    return test.cylinder, test.warm, test.tester


def _tester(row: Mapping[str, Any]) -> Tester:
    restrictor = row.get("restrictor") or None
    key = str(row.get("tester") or restrictor or "unknown")
    return Tester(key=key, name=f"Tester {key}", restrictor=restrictor, percent_only="percent" in row)


def _leak(number: int, row: Mapping[str, Any], tester: Tester) -> LeakTest:
    supply = typed(str(row.get("supply", "690 kPa")), "kPa")
    if "percent" in row:
        reading = LeakReading(supply=supply, percent=typed(f"{row['percent']}", "%"))
    else:
        reading = LeakReading(supply=supply, cylinder=typed(str(row["cylinder_pressure"]), "kPa"))
    given = {key: STRENGTHS.get(word, word) for key, word in row.get("outlets", {}).items()}
    outlets = {key: word for key, word in given.items() if key in get_args(Outlet)}
    assert outlets.keys() == row.get("outlets", {}).keys(), "an outlet nobody listens at"
    return LeakTest(
        id=f"t{number}",
        cylinder=str(row.get("cylinder", "1")),
        warm=bool(row.get("warm", True)),
        tester=tester.key,
        readings=(reading,),
        outlets=outlets,
        by="MK",
        at=AT.format(number % 60),
    )


def _with(test: LeakTest, repeat: LeakTest) -> LeakTest:
    """One reading more; where the repeats were heard unlike, the louder counts."""
    outlets = {
        key: max(test.outlets.get(key, "none"), repeat.outlets.get(key, "none"), key=LOUDER.index)
        for key in {**test.outlets, **repeat.outlets}
    }
    return msgspec.structs.replace(test, readings=(*test.readings, *repeat.readings), outlets=outlets)


@dataclass(frozen=True)
class Miss:
    """One point in which the diagnosis differs from the case."""

    point: str
    wanted: str
    got: str


def misses(case: Case, found: Diagnosis | None = None) -> list[Miss]:
    """Every point in which the diagnosis differs."""
    job = job_of(case)
    found = found or diagnose(job)
    return [*_causes(case, found), *_scope(case, found), *_checks(case, found), *_evidence(case, job, found)]


def _causes(case: Case, found: Diagnosis) -> Iterator[Miss]:
    """The first is the likeliest; those after it still stand; with none named, none is likely."""
    likely = [one.cause for one in found.standing("likely")]
    standing = [one.cause for one in found.standing("likely", "possible")]
    wanted = list(case.concludes.get("causes", ()))
    if wanted[:1] != likely[:1]:
        yield Miss("first cause", f"{wanted}", f"likely: {likely}")
    fallen = [cause for cause in wanted[1:] if cause not in standing]
    if fallen:
        yield Miss("further causes", f"standing: {fallen}", f"{standing}")
    wrong = [cause for cause in case.concludes.get("not_causes", ()) if cause in likely]
    if wrong:
        yield Miss("not causes", f"not likely: {wrong}", f"likely: {likely}")


def _scope(case: Case, found: Diagnosis) -> Iterator[Miss]:
    wanted, got = set(case.concludes.get("scope", ())) - NOT_OPENED, set(found.scope.scopes)
    if wanted != got:
        yield Miss("scope", f"{sorted(wanted)}", f"{sorted(got)}")


def _checks(case: Case, found: Diagnosis) -> Iterator[Miss]:
    wanted = case.concludes.get("next_check", [])
    equals = [wanted] if isinstance(wanted, str) else list(wanted)
    got = found.next_check.check if found.next_check else ""
    if equals and not any(_same(got, one) for one in equals):
        yield Miss("next check", f"{equals}", got)
    closed = dict(found.not_possible)
    for check in case.concludes.get("not_possible", ()):
        if not any(_same(check, one) for one in closed):
            yield Miss("not possible", check, f"{sorted(closed)}")


def _same(one: str, other: str) -> bool:
    """A pre-check and the reading it is made of are one check by two names."""
    checks = catalog().diagnosis.prechecks
    return (
        one == other
        or (one in WALL and other in WALL)
        or one in _worked_out_of(other)
        or other in _worked_out_of(one)
        or any(
            check in checks and reading in checks[check].characteristics
            for check, reading in ((one, other), (other, one))
        )
    )


def _worked_out_of(check: str) -> tuple[str, ...]:
    row = catalog().characteristics.get(check)
    return row.inputs if row and row.derived else ()


def _evidence(case: Case, job: Job, found: Diagnosis) -> Iterator[Miss]:
    rows = [row for one in found.causes for row in (*one.evidence_for, *one.evidence_against)]
    named = {name for row in rows for name in row.about} | {row.rule for row in rows}
    named |= {name.split(".")[0] for name in named}
    named |= set(found.next_check.about) if found.next_check else set()
    if found.contradictions:
        named |= {"leakdown_spread"} if any("spread" in line for line in found.contradictions) else set()
    for wanted in case.concludes.get("evidence", ()):
        keys = {wanted, *symptoms_in(wanted)}
        if not keys & named:
            yield Miss("evidence", wanted, f"{sorted(named)}")
