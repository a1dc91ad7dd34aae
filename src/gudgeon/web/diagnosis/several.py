"""Several checks in a row, written down at once: every check still open, one button, all of it or nothing."""

from collections.abc import Mapping
from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse

from gudgeon.assess.diagnosis import CheckEntry, Diagnosis
from gudgeon.catalog import catalog
from gudgeon.catalog.diagnosis import Finding
from gudgeon.catalog.rows import Caution
from gudgeon.job.asked import asked
from gudgeon.quantities import Refused
from gudgeon.records.services.asked import set_found_several
from gudgeon.records.services.entry import BadEntry
from gudgeon.web.diagnosis.shown import BY_AIR
from gudgeon.web.diagnosis.views import diagnosed
from gudgeon.web.job.opened import Opened, open_job_page

OPEN = ("next", "open", "not_asked")
NOTHING = "Nothing is ticked yet. Tick what was found at the checks you made; the others stay as they are."
Ticks = Mapping[str, tuple[str, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """One check of the page: its findings, each ticked or not, and the cautions that stand there."""

    entry: CheckEntry
    findings: tuple[tuple[str, Finding, bool], ...]
    cautions: tuple[Caution, ...]
    again: tuple[str, ...]  # cautions whose words stand further up, by name
    wrong: str
    asked: bool  # false: the engine runs as it should, and nobody asks for this check
    ticked: bool


def several(request: HttpRequest, number: str) -> HttpResponse:
    """The page, and what was ticked on it."""
    opened = open_job_page(request, number)
    if request.method != "POST":
        return _page(request, opened, {})
    ticks = _ticks(request.POST.getlist("found"))
    try:
        _possible(diagnosed(opened), ticks)
        set_found_several(number, ticks)
    except Refused as refused:
        return _page(request, open_job_page(request, number), ticks, refused)
    return redirect(f"{reverse('diagnosis', args=[number])}?made={'+'.join(ticks)}")


def _ticks(sent: list[str]) -> dict[str, tuple[str, ...]]:
    """What was ticked, check by check: every tick says “check.finding”."""
    ticks: dict[str, tuple[str, ...]] = {}
    for one in dict.fromkeys(sent):
        check, _, finding = one.partition(".")
        ticks[check] = (*ticks.get(check, ()), finding)
    return ticks


def _possible(found: Diagnosis, ticks: Ticks) -> None:
    """A check the engine itself closes, such as one that needs a turning crank, is not written here."""
    if not ticks:
        raise Refused(NOTHING)
    for entry in found.checks:
        if entry.check in ticks and entry.state == "not_possible":
            name = entry.name.rstrip("?")
            raise BadEntry(f"{name}: {entry.says} Take the ticks out here.", entry.check, "")


def _page(request: HttpRequest, opened: Opened, ticks: Ticks, wrong: Refused | None = None) -> HttpResponse:
    looks = _looks(opened, ticks, wrong)
    not_asked = [one for one in looks if not one.asked]
    context = opened.context() | {
        "looks": looks,
        "not_asked": len(not_asked),
        "not_asked_open": any(one.ticked for one in not_asked),
        "wrongs": [str(wrong)] if wrong else [],
    }
    return render(request, "diagnosis/several.html", context, status=422 if wrong else 200)


def _looks(opened: Opened, ticks: Ticks, wrong: Refused | None) -> tuple[Look, ...]:
    """Every open check in its order, and whatever else holds a tick that could not be taken."""
    at = wrong.field if isinstance(wrong, BadEntry) else ""
    told = asked(opened.job.facts).found
    said: set[str] = set()
    return tuple(
        _look(entry, ticks.get(entry.check, ()), said, str(wrong) if entry.check == at else "")
        for entry in diagnosed(opened).checks
        if entry.check != BY_AIR
        and (entry.check in ticks or (entry.state in OPEN and entry.check not in told))
    )


def _look(entry: CheckEntry, ticked: tuple[str, ...], said: set[str], wrong: str) -> Look:
    row, known = catalog().diagnosis.prechecks[entry.check], catalog().cautions
    again = tuple(known[key].name for key in row.cautions if key in said)
    cautions = tuple(known[key] for key in row.cautions if key not in said)
    said.update(row.cautions)
    return Look(
        entry=entry,
        findings=tuple((key, finding, key in ticked) for key, finding in row.findings.items()),
        cautions=cautions,
        again=again,
        wrong=wrong,
        asked=entry.state != "not_asked",
        ticked=bool(ticked),
    )
