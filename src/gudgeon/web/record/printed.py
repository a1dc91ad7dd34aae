"""The PDF of an issued paper as its page shows it: made, in the making, or not made."""

from dataclasses import dataclass

from django.http import Http404
from django.urls import reverse

from gudgeon.records.lists import RECORD, REPORT
from gudgeon.records.models import IssuedRecord, Work

PAGES = {
    RECORD: ("issued", "paper", "paper_progress", "paper_again"),
    REPORT: ("kept_report", "kept_paper", "kept_progress", "kept_again"),
}


@dataclass(frozen=True, slots=True)
class Printed:
    """How far the PDF has come, and the addresses of everything about it."""

    made: bool
    work: Work | None
    page: str
    file: str
    progress: str
    again: str


def issued_row(number: str, revision: int, kind: str) -> IssuedRecord:
    """The issued paper of an address. Raises Http404."""
    rows = IssuedRecord.objects.filter(job__number=number, kind=kind, revision=revision)
    row = rows.select_related("job", "paper__file").first()
    if row is None:
        raise Http404
    return row


def printed(row: IssuedRecord) -> Printed:
    """The PDF of an issued paper; one query while it is not made."""
    made = hasattr(row, "paper")
    asked = Work.objects.filter(kind="paper", subject=str(row.pk)).order_by("-pk")
    work = None if made else asked.first()
    addresses = (reverse(name, args=[row.job.number, row.revision]) for name in PAGES[row.kind])
    return Printed(made, work, *addresses)
