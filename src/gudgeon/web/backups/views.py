"""Backups: what there is, and one more."""

from pathlib import Path

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from gudgeon.records import backup
from gudgeon.records.faults import BackupFault
from gudgeon.records.services import safekeeping


@require_http_methods(["GET", "POST"])
def backups(request: HttpRequest) -> HttpResponse:
    """The backups beside the data; POST makes one."""
    data = Path(settings.DATA_FOLDER)
    if request.method == "POST":
        try:
            safekeeping.make_now()
        except BackupFault as fault:
            return _page(request, data, list(fault.faults))
        return redirect("backups")
    return _page(request, data)


def _page(request: HttpRequest, data: Path, wrongs: list[str] | None = None) -> HttpResponse:
    place = backup.default_target(data)
    found = [
        {
            "made": one.made,
            "name": one.path.name,
            "size": one.manifest.database.size / 1e6,
            "files": len(one.manifest.files),
        }
        for one in reversed(backup.every(place))
    ]
    context = {"backups": found, "place": place, "wrongs": wrongs or [], "here": "shop"}
    return render(request, "backups/page.html", context, status=422 if wrongs else 200)
