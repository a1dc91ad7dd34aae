"""A leak-down test as its form sends it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import cast

from django.http import QueryDict

from gudgeon.catalog import catalog, instances
from gudgeon.job import Job, LeakTest, Tester, Typed, in_force
from gudgeon.job.readings import OCCASION_ORDER
from gudgeon.job.tests import Outlet, Strength
from gudgeon.records.services.entry import BadEntry
from gudgeon.records.services.instrument import add_tester
from gudgeon.records.services.leak_test import LeakTestTyped, LeakTyped

STRENGTHS = (
    ("", "Not listened"),
    ("none", "Nothing"),
    ("faint", "Faint"),
    ("clear", "Clear"),
    ("strong", "Strong"),
)
UNITS = ("kPa", "bar", "psi")
MOST_ROWS = 20
UNKNOWN = "A tester nobody has described"


@dataclass(slots=True)
class LeakForm:
    """What stands in the form."""

    token: str
    replaces: str = ""
    n: str = "1"
    tester: str = ""
    tester_name: str = ""
    restrictor: str = ""
    percent_only: str = ""
    gauge_match: str = ""
    gauge_step: str = ""
    cylinder: str = "1"
    occasion: str = "as_found"
    warm: str = ""
    unit: str = "kPa"
    ambient_pressure: str = ""
    ambient_temperature: str = ""
    note: str = ""
    rows: list[dict[str, str]] = field(default_factory=list)
    outlets: dict[str, str] = field(default_factory=dict)


ONE_LINE = tuple(name for name in LeakForm.__dataclass_fields__ if name not in ("rows", "outlets"))


def from_sent(sent: QueryDict) -> LeakForm:
    """The form as it came."""
    form = LeakForm(token=sent.get("token", ""))
    for name in ONE_LINE:
        setattr(form, name, sent.get(name, ""))
    columns = [sent.getlist(name)[:MOST_ROWS] for name in ("supply", "pressure", "percent")]
    longest = max((len(column) for column in columns), default=0)
    padded = [[*column, *[""] * (longest - len(column))] for column in columns]
    form.rows = [
        dict(zip(("supply", "pressure", "percent"), row, strict=True)) for row in zip(*padded, strict=True)
    ]
    form.outlets = {key: sent.get(f"outlet-{key}", "") for key in catalog().diagnosis.outlets}
    return form


def fresh(job: Job, testers: tuple[Tester, ...], token: str) -> LeakForm:
    """An empty form, with what was said last time filled in."""
    tests = in_force(job.leak_tests)
    repeats = catalog().diagnosis.leak_down.procedure.repeats
    form = LeakForm(
        token, n=next_place(job), rows=[dict.fromkeys(("supply", "pressure", "percent"), "")] * repeats
    )
    if tests:
        last = tests[-1]
        form.tester, form.occasion = last.tester, last.occasion
        form.unit = last.readings[0].supply.unit if last.readings[0].supply.unit in UNITS else "kPa"
    elif len(testers) == 1:
        form.tester = testers[0].key
    return form


def next_place(job: Job) -> str:
    """Which test the next one is; those corrected or taken back keep their place."""
    return str(1 + sum(not test.replaces for test in job.leak_tests))


def again(test: LeakTest, newest: str, token: str) -> LeakForm:
    """A test as it was typed, to be put right; ``newest`` is what stands in its place now."""
    unit = test.readings[0].supply.unit
    unit = unit if unit in UNITS else "kPa"
    return LeakForm(
        token,
        replaces=newest,
        tester=test.tester,
        cylinder=test.cylinder,
        occasion=test.occasion,
        warm="yes" if test.warm else "no",
        unit=unit,
        ambient_pressure=_text(test.ambient_pressure, unit),
        ambient_temperature=_text(test.ambient_temperature, "°C"),
        note=test.note,
        rows=[
            {
                "supply": _text(one.supply, unit),
                "pressure": _text(one.cylinder, unit),
                "percent": _text(one.percent, "%"),
            }
            for one in test.readings
        ],
        outlets={str(key): str(word) for key, word in test.outlets.items()},
    )


def _text(typed: Typed | None, unit: str) -> str:
    """As it was typed; with its unit where the field would take it for another."""
    if typed is None:
        return ""
    return typed.text if typed.unit == unit else typed.words


def cylinders(job: Job) -> tuple[str, ...]:
    """The cylinders of this engine."""
    return instances(job.sheet.layout, "cylinder")


def typed(form: LeakForm) -> LeakTestTyped:
    """The test as typed; a row with a supply only, or nothing at all, is an empty row."""
    if form.warm not in ("yes", "no"):
        raise BadEntry("Say whether the engine was warm or cold.", "warm", form.warm)
    if form.occasion not in OCCASION_ORDER:
        raise BadEntry(f"“{form.occasion[:40]}” is not a time of the job.", "occasion", form.occasion)
    if form.unit not in UNITS:
        raise BadEntry(f"The gauges show {', '.join(UNITS)}; “{form.unit[:40]}” is none of them.", "unit", "")
    filled = [row for row in form.rows if row["pressure"].strip() or row["percent"].strip()]
    if not filled:
        raise BadEntry(
            "Type at least one reading: the cylinder's pressure, or the percentage.", "pressure_1", ""
        )
    supply = next((row["supply"] for row in filled if row["supply"].strip()), "")
    return LeakTestTyped(
        tester=form.tester,
        readings=tuple(
            LeakTyped(row["supply"].strip() or supply, row["pressure"], row["percent"]) for row in filled
        ),
        warm=form.warm == "yes",
        cylinder=form.cylinder or "1",
        occasion=form.occasion,
        unit=form.unit,
        outlets=_outlets(form.outlets),
        ambient_pressure=form.ambient_pressure,
        ambient_temperature=form.ambient_temperature,
        note=form.note,
    )


def _outlets(sent: Mapping[str, str]) -> dict[Outlet, Strength]:
    for key, value in sent.items():
        if value not in dict(STRENGTHS):
            allowed = ", ".join(words.lower() for _, words in STRENGTHS)
            raise BadEntry(
                f"“{value[:40]}” is not how strongly it hisses: {allowed}.", f"outlet-{key}", value
            )
    return {cast(Outlet, key): cast(Strength, value) for key, value in sent.items() if value}


def tester_of(form: LeakForm, testers: tuple[Tester, ...]) -> str:
    """The tester chosen, or the one described in the form; nothing said is a tester nobody has described."""
    if form.tester:
        return form.tester
    name = form.tester_name.strip() or UNKNOWN
    known = next((tester for tester in testers if tester.name == name), None)
    if known:
        return known.key
    described = Tester(
        key="",
        name=name,
        restrictor=form.restrictor.strip() or None,
        percent_only=form.percent_only == "yes",
        gauge_match=form.gauge_match,
        gauge_step=form.gauge_step,
    )
    return add_tester(described).key
