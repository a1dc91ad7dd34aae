"""What every paper carries: engine, job, revision, date, marks and versions."""

from collections.abc import Sequence

from gudgeon.job.objects import Job
from gudgeon.report.content import Content, Kind, PaperSize, Section
from gudgeon.report.draw import PAPER
from gudgeon.report.draw.marks import MARKS, put_mark
from gudgeon.report.draw.svg import Sheet
from gudgeon.report.phrases import day
from gudgeon.report.typesetting import versions


def paper_content(
    job: Job,
    kind: Kind,
    title: str,
    sections: Sequence[Section],
    *,
    revision: int,
    issued_at: str,
    paper: PaperSize,
) -> Content:
    """A content with its heading; ``issued_at`` is UTC, ISO 8601."""
    number = f" ({job.engine.number})" if job.engine.number else ""
    return Content(
        kind=kind,
        title=title,
        engine=f"{job.engine.name}{number}",
        job=job.number,
        revision=revision,
        issued_at=issued_at,
        issued=day(issued_at),
        paper=paper,
        sections=tuple(sections),
        marks={status: (_mark(status), words) for status, (_, _, words) in MARKS.items()},
        versions=versions(),
    )


def _mark(status: str) -> str:
    words = MARKS[status][2]
    sheet = Sheet(PAPER, 14, 14, title=words, message=words)
    put_mark(sheet, status, (7, 7), 11)
    return sheet.render()
