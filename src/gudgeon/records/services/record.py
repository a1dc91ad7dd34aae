"""Papers issued: content and hash at once, the PDF by the worker, both kept for good; the build record."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

import msgspec
from django.db import transaction

from gudgeon.assess import assess
from gudgeon.quantities import Refused
from gudgeon.records import models, queries, shapes, store, worker
from gudgeon.records.faults import DamagedFile
from gudgeon.records.lists import RECORD, REPORT
from gudgeon.records.program import PROGRAM
from gudgeon.records.services.entry import Who, now, took_part
from gudgeon.records.services.photograph import pictures_here
from gudgeon.report import (
    Content,
    content_bytes,
    content_hash,
    pictures_wanted,
    read_content,
    record_content,
    typeset,
    verify_content,
    versions,
)

NAMES = {RECORD: "record, revision {}", REPORT: "condition report {}"}
FILES = {RECORD: "Job {} record, revision {}.pdf", REPORT: "Job {} condition report {}.pdf"}
NONE_ISSUED = {None: "record or condition report", RECORD: "record", REPORT: "condition report"}


@dataclass(frozen=True, slots=True)
class Issued:
    """An issued paper; ``already``: nothing had changed since. ``work``: its PDF in the making."""

    number: str
    revision: int
    sha256: str
    already: bool
    work: int | None


def issue_record(number: str, who: Who) -> Issued:
    """Freeze what the job comes to now as the next revision of its record; the PDF follows."""
    return issue(number, RECORD, who, lambda revision: _content(number, revision))


def issue(number: str, kind: str, who: Who, made: Callable[[int], Content]) -> Issued:
    """Freeze what ``made`` gives for the next revision of this kind of paper.

    The judging is done before anybody has to wait for the database, and again only where somebody else
    issued meanwhile.
    """
    took_part(queries.job_row(number), who.by)
    content = made(judged_for := _next_revision(number, kind))
    with transaction.atomic():
        job = models.Job.objects.select_for_update().get(number=number)
        if (revision := _next_revision(number, kind)) != judged_for:
            content = made(revision)
        newest = job.issued.filter(kind=kind).order_by("-revision").first()
        if newest and says_the_same(newest, content):
            return Issued(number, newest.revision, newest.sha256, already=True, work=_paper_asked(newest))
        row = _freeze(job, content, who)
        return Issued(number, row.revision, row.sha256, already=False, work=_paper_asked(row))


def _next_revision(number: str, kind: str) -> int:
    rows = models.IssuedRecord.objects.filter(job__number=number, kind=kind).order_by("-revision")
    return (rows.values_list("revision", flat=True).first() or 0) + 1


def _content(number: str, revision: int) -> Content:
    shop = queries.shop()
    job = queries.load_job(number)
    at_hand = pictures_here(job.photographs)
    size = paper_size(shop)
    return record_content(job, assess(job, shop.units), revision, shapes.stamp(now()), size, at_hand)


def paper_size(shop: models.Shop) -> Literal["a4", "letter"]:
    """The paper in the shop's printer."""
    return "letter" if shop.paper == "Letter" else "a4"


def says_the_same(row: models.IssuedRecord, content: Content) -> bool:
    """Whether an issued paper says what ``content`` does, the date and number of issue apart."""
    apart = {"revision": 0, "issued_at": "", "issued": ""}
    issued = content_of(row)
    return issued is not None and (
        msgspec.structs.replace(issued, **apart) == msgspec.structs.replace(content, **apart)
    )


def content_of(row: models.IssuedRecord) -> Content | None:
    """The content of an issued paper; none when it is no longer what was issued."""
    stored = row.content.encode()
    return read_content(stored) if verify_content(stored, row.sha256) else None


def _freeze(job: models.Job, content: Content, who: Who) -> models.IssuedRecord:
    stored = content_bytes(content)
    row = models.IssuedRecord(
        job=job,
        kind=content.kind,
        revision=content.revision,
        content=stored.decode(),
        sha256=content_hash(stored),
        program=PROGRAM,
        at=shapes.moment(content.issued_at),
        by_id=who.by,
        device=who.device,
    )
    row.save()
    return row


def _paper_asked(row: models.IssuedRecord) -> int | None:
    """The work that makes the PDF; none when it is made."""
    if models.IssuedPaper.objects.filter(record=row).exists():
        return None
    waiting = models.Work.objects.filter(kind="paper", subject=str(row.pk), state__in=("waiting", "running"))
    found = waiting.first()
    return found.pk if found else ask_for_paper(row)


def ask_for_paper(row: models.IssuedRecord) -> int:
    """Have the PDF of an issued paper made."""
    name = NAMES[row.kind].format(row.revision)
    return worker.ask("paper", str(row.pk), f"Job {row.job.number}, {name}, as a PDF")


@worker.does("paper")
def make_paper(work: models.Work, progress: worker.Progress) -> str:
    """Set the PDF of an issued paper and attach it; gives its hash."""
    row = models.IssuedRecord.objects.select_related("job").get(pk=int(work.subject))
    made = models.IssuedPaper.objects.select_related("file").filter(record=row).first()
    if made:
        return made.file.sha256
    content = read_content(row.content.encode())
    progress(10)
    pdf = typeset(content, pictures_of(content))
    progress(80)
    name = FILES[row.kind].format(row.job.number, row.revision)
    who = Who(row.by_id or "", row.device)
    with transaction.atomic():
        file = store.keep(pdf, "application/pdf", name, who)
        made_by = msgspec.json.encode(content.versions).decode()
        models.IssuedPaper(
            record=row, file=file, made_by=made_by, at=now(), by_id=row.by_id, device=row.device
        ).save()
    return file.sha256


def pictures_of(content: Content) -> dict[str, bytes]:
    """The photographs a content shows, read back and checked. Raises DamagedFile."""
    return {shot.screen: store.get(shot.screen) for shot in pictures_wanted(content)}


@dataclass(frozen=True, slots=True)
class Checked:
    """What checking one issued paper found; ``faults`` are finished sentences."""

    number: str
    kind: str
    revision: int
    sha256: str
    faults: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """Which paper of the job it is."""
        return NAMES[self.kind].format(self.revision)


def verify_record(number: str, revision: int | None = None, kind: str | None = None) -> tuple[Checked, ...]:
    """Check what was issued of a job, all or one revision or kind: content, PDF, and the PDF made anew."""
    rows = models.IssuedRecord.objects.filter(job=queries.job_row(number)).order_by("kind", "revision")
    of_kind = rows if kind is None else rows.filter(kind=kind)
    wanted = of_kind if revision is None else of_kind.filter(revision=revision)
    found = tuple(verify_row(row) for row in wanted.select_related("job", "paper__file"))
    if not found:
        what = NONE_ISSUED[kind]
        words = f"No {what}" if revision is None else f"No revision {revision} of a {what}"
        raise Refused(f"{words} of job {number} has been issued.")
    return found


def verify_row(row: models.IssuedRecord) -> Checked:
    """Check one issued paper."""
    stored = row.content.encode()
    checked = Checked(row.job.number, row.kind, row.revision, row.sha256)
    if not verify_content(stored, row.sha256):
        fault = (
            f"The content of {checked.name} is not what was issued: its hash is "
            f"{content_hash(stored)[:12]}… and {row.sha256[:12]}… was issued."
        )
        return replace(checked, faults=(fault,))
    paper = getattr(row, "paper", None)
    if paper is None:
        return replace(checked, remarks=("Its PDF has not been made yet.",))
    try:
        pdf = store.get(paper.file.sha256)
        content = read_content(stored)
        for shot in pictures_wanted(content):
            store.get(shot.sha256)
        faults, remarks = _made_anew(content, pdf)
        return replace(checked, faults=faults, remarks=remarks)
    except DamagedFile as damaged:
        return replace(checked, faults=(str(damaged),))


def _made_anew(content: Content, pdf: bytes) -> tuple[tuple[str, ...], tuple[str, ...]]:
    if content.versions != versions():
        return (), ("It was made by other versions of program, template or fonts, so it is not made anew.",)
    if typeset(content, pictures_of(content)) != pdf:
        return ("The PDF kept is not the one that this content gives.",), ()
    return (), ("The PDF made anew is the same to the last byte.",)


def verify_file(pdf: bytes) -> Checked | None:
    """The issued paper whose PDF this is, checked; none when no such PDF was issued here."""
    sha256 = store.sha256_of(pdf)
    paper = (
        models.IssuedPaper.objects.select_related("record__job", "file").filter(file__sha256=sha256).first()
    )
    return verify_row(paper.record) if paper else None


def paper_of(number: str, revision: int, kind: str = RECORD) -> tuple[str, bytes] | None:
    """Name and bytes of an issued PDF; none when it is not made yet."""
    paper = (
        models.IssuedPaper.objects.select_related("file")
        .filter(record__job__number=number, record__revision=revision, record__kind=kind)
        .first()
    )
    return (paper.file.name, store.get(paper.file.sha256)) if paper else None
