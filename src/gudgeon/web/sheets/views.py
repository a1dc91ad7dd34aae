"""Data sheets: the numbers of an engine type, with the page they came from."""

import msgspec
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from gudgeon.assess import Assessment, assess
from gudgeon.catalog import catalog
from gudgeon.datasheet import DataSheet, SheetErrors, completeness, content_hash, read, schema, slips
from gudgeon.datasheet.vocabulary import GEOMETRY
from gudgeon.job import Job
from gudgeon.quantities import Refused
from gudgeon.records.lists import list_sheets, newest_sheet
from gudgeon.records.services.sheet import export_sheet, newer_sheet, pin_sheet, save_sheet
from gudgeon.records.sheets import sheet_of
from gudgeon.web.device import device_of
from gudgeon.web.job.opened import open_job_page
from gudgeon.web.measure.limits import limit_words
from gudgeon.web.papers import attachment
from gudgeon.web.tokens import who_works

LARGEST = 1_000_000


def sheets(request: HttpRequest) -> HttpResponse:
    """Every data sheet."""
    return _list(request)


def _list(request: HttpRequest, wrongs: list[str] | None = None) -> HttpResponse:
    lines = list_sheets()
    counts = {line.key: sum(1 for other in lines if other.key == line.key) for line in lines}
    context = {
        "lines": [(line, counts[line.key]) for line in lines if line.newest],
        "wrongs": wrongs or [],
        "here": "sheets",
    }
    return render(request, "sheets/list.html", context, status=422 if wrongs else 200)


def sheet(request: HttpRequest, key: str) -> HttpResponse:
    """One data sheet as it is read at the bench."""
    row = newest_sheet(key)
    found = sheet_of(row)
    units = device_of(request).units
    rows = catalog().characteristics
    limits = [
        (
            rows[name],
            limit_words(limit, rows[name], units, found.layout)
            if limit and not limit.empty
            else "the manual gives none",
            one.note,
        )
        for name, each in found.limits.items()
        if name in rows
        for one in each
        for limit in [found.limit(name, one.instance, one.position)]
    ]
    joints = catalog().torque_classes
    context = {
        "sheet": found,
        "limits": limits,
        "torques": [
            (joints[name].joint if name in joints else name, each) for name, each in found.torques.items()
        ],
        "layout": _layout(found),
        "sizes": [
            (GEOMETRY[name].words if name in GEOMETRY else name, text)
            for name, text in found.geometry.items()
        ],
        "revisions": list_sheets(key),
        "scopes": [
            (scope.words, completeness(found, (scope.key,)))
            for scope in catalog().scopes.values()
            if scope.chosen
        ],
        "slips": slips(found),
        "here": "sheets",
    }
    return render(request, "sheets/sheet.html", context)


def _layout(found: DataSheet) -> list[tuple[str, str]]:
    fields, counts = catalog().layout_fields, catalog().counts
    answered = [
        (fields[name].ask, fields[name].values.get(value, value))
        for name, value in found.layout.fields.items()
    ]
    return answered + [
        (counts[name].words or name.replace("_", " "), str(n)) for name, n in found.layout.counts.items()
    ]


@require_http_methods(["GET", "POST"])
def sheet_edit(request: HttpRequest, key: str = "") -> HttpResponse:
    """The sheet as text; all that is wrong with it is listed at once."""
    if request.method == "GET":
        text = export_sheet(key) if key else 'key = "my-engine"\nname = "My engine"\nrevision = 1\n'
        return _editor(request, key, text)
    text = request.POST.get("text", "")
    try:
        found = read(text)
        saved = save_sheet(found, who_works(request))
    except SheetErrors as errors:
        return _editor(request, key, text, [str(fault) for fault in errors.faults])
    except Refused as refused:
        return _editor(request, key, text, [str(refused)])
    return redirect("sheet", saved.key)


def _editor(request: HttpRequest, key: str, text: str, wrongs: list[str] | None = None) -> HttpResponse:
    context = {"key": key, "text": text, "wrongs": wrongs or [], "here": "sheets"}
    return render(request, "sheets/edit.html", context, status=422 if wrongs else 200)


@require_POST
def sheet_bring(request: HttpRequest) -> HttpResponse:
    """A data sheet from its file."""
    file = request.FILES.get("file")
    if file is None:
        return _list(request, ["Choose a data sheet’s file first."])
    if (file.size or 0) > LARGEST:
        return _list(
            request, [f"This file has {(file.size or 0) / 1e6:.0f} MB; a data sheet has at most 1 MB."]
        )
    try:
        text = file.read().decode("utf-8")
        saved = save_sheet(read(text), who_works(request))
    except UnicodeDecodeError:
        return _list(request, ["This file is not text; a data sheet is a text file that ends in .toml."])
    except SheetErrors as errors:
        return _list(request, [str(fault) for fault in errors.faults])
    return redirect("sheet", saved.key)


def sheet_file(request: HttpRequest, key: str, revision: int | None = None) -> HttpResponse:
    """A data sheet as its file."""
    return attachment(export_sheet(key, revision).encode(), f"{key}.toml", "application/toml; charset=utf-8")


def sheet_schema(request: HttpRequest) -> HttpResponse:
    """What a data sheet's file may hold."""
    return attachment(msgspec.json.encode(schema()), "data-sheet-schema.json", "application/schema+json")


@require_http_methods(["GET", "POST"])
def newer(request: HttpRequest, number: str) -> HttpResponse:
    """A newer revision, offered with the verdicts that would change; taken only when somebody says so."""
    opened = open_job_page(request, number)
    offered = newer_sheet(number)
    if offered is None:
        return redirect("job", number)
    if request.method == "POST":
        pin_sheet(number, content_hash(offered), who_works(request))
        return redirect("job", number)
    changes = changed(opened.job, opened.assessment, offered, opened.device.units)
    context = opened.context() | {"sheet": offered, "changes": changes}
    return render(request, "sheets/newer.html", context)


def changed(job: Job, before: Assessment, offered: DataSheet, units: str) -> list[tuple[str, str, str]]:
    """Title, sentence now, sentence then: for every verdict that would be another."""
    then = {
        verdict.place: verdict
        for verdict in assess(msgspec.structs.replace(job, sheet=offered), units).verdicts
    }
    return [
        (
            verdict.title,
            verdict.sentence,
            then[verdict.place].sentence if verdict.place in then else "no longer there",
        )
        for verdict in before.verdicts
        if verdict.place not in then or then[verdict.place].status != verdict.status
    ]
