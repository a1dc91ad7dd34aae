"""Lists for the screens: few queries whatever the number of jobs, and a page at a time."""

from dataclasses import dataclass
from datetime import date

from django.db.models import OuterRef, Q, QuerySet, Subquery

from gudgeon.job import objects
from gudgeon.job.asked import COMES_BACK_FROM
from gudgeon.records import models, shapes
from gudgeon.records.queries import NoSuch, engine_of

PAGE = 40
MOST_OPEN = 200  # more open jobs than any bench has
OFFERED = 60  # engines or jobs to pick from; the rest is found by its name
RECORD, REPORT = "record", "condition_report"  # kinds of issued paper, as their contents name them


@dataclass(frozen=True, slots=True)
class JobLine:
    """One job in a list."""

    number: str
    title: str
    customer: str
    engine: str
    engine_key: str
    stage: str
    arrival: str
    opened: date
    closed: date | None


@dataclass(frozen=True, slots=True)
class JobList:
    """Open jobs, newest first, then one page of closed ones."""

    open: tuple[JobLine, ...]
    closed: tuple[JobLine, ...]
    page: int
    more: bool  # another page of closed jobs follows


def list_jobs(page: int = 1) -> JobList:
    """All open jobs and one page of closed ones: two queries."""
    newest = _lines(models.Job.objects.filter(closed=None).order_by("-opened", "-id")[:MOST_OPEN])
    start = (max(page, 1) - 1) * PAGE
    done = models.Job.objects.exclude(closed=None).order_by("-closed", "-id")[start : start + PAGE + 1]
    lines = _lines(done)
    return JobList(newest, lines[:PAGE], max(page, 1), len(lines) > PAGE)


def find_jobs(words: str) -> tuple[JobLine, ...]:
    """Jobs whose number is the words, or whose title, customer or engine holds them: two queries."""
    wanted = words.strip()[:100]
    exact = _lines(models.Job.objects.filter(number=wanted))
    named = models.Job.objects.filter(title__icontains=wanted) | models.Job.objects.filter(
        customer__name__icontains=wanted
    )
    by_engine = models.Job.objects.filter(engine__name__icontains=wanted)
    rest = _lines((named | by_engine).exclude(number=wanted).order_by("-opened", "-id")[:PAGE])
    return exact + rest


def _lines(rows: QuerySet[models.Job]) -> tuple[JobLine, ...]:
    columns = ("number", "title", "customer__name", "engine__name", "engine__key", "stage", "arrival")
    return tuple(
        JobLine(number, title, customer or "", *rest)
        for number, title, customer, *rest in rows.values_list(*columns, "opened", "closed")
    )


def earlier_jobs(find: str = "", keep: str = "") -> tuple[JobLine, ...]:
    """Jobs an engine may come back from, engine by engine: the newest, or those that hold the words.

    ``keep``: the number of one that is listed in any case. One query, two with words.
    """
    newest = find_jobs(find) if find else _lines(models.Job.objects.order_by("-opened", "-id")[:OFFERED])
    kept = () if not keep or any(line.number == keep for line in newest) else _lines(_numbered(keep))
    return tuple(sorted({*newest, *kept}, key=lambda line: (line.engine, line.engine_key, line.opened)))


def _numbered(number: str) -> QuerySet[models.Job]:
    return models.Job.objects.filter(number=number)


@dataclass(frozen=True, slots=True)
class ComeBacks:
    """The job of the same engine this one comes back from, and those that came back from this one."""

    earlier: JobLine | None = None
    later: tuple[JobLine, ...] = ()


def come_backs(number: str, engine_key: str) -> ComeBacks:
    """How a job is linked to the engine's others: two queries."""
    jobs = models.Job.objects.filter(engine__key=engine_key)
    froms = {one: facts.get(COMES_BACK_FROM) for one, facts in jobs.values_list("number", "facts")}
    linked = [one for one, origin in froms.items() if origin == number or one == froms.get(number)]
    lines = _lines(jobs.filter(number__in=linked).order_by("opened", "id")) if linked else ()
    earlier = next((line for line in lines if line.number == froms.get(number)), None)
    return ComeBacks(earlier, tuple(line for line in lines if line is not earlier))


@dataclass(frozen=True, slots=True)
class EngineLine:
    """One engine in a list."""

    key: str
    name: str
    number: str
    use: str
    type: str


def list_engines(find: str = "", keep: str = "") -> tuple[EngineLine, ...]:
    """The engines newest in the shop, or those whose name or number holds the words; ``keep`` in any case."""
    rows = models.Engine.objects.order_by("-pk")
    if find:
        wanted = find.strip()[:100]
        rows = rows.filter(Q(name__icontains=wanted) | Q(number__icontains=wanted))
    columns = ("key", "name", "number", "use", "type__name")
    offered = list(rows.values_list(*columns)[:OFFERED])
    if keep and keep not in {row[0] for row in offered}:
        offered += models.Engine.objects.filter(key=keep).values_list(*columns)
    lines = (EngineLine(key, name, number, use, kind or "") for key, name, number, use, kind in offered)
    return tuple(sorted(lines, key=lambda line: (line.name, line.number, line.key)))


@dataclass(frozen=True, slots=True)
class SheetLine:
    """One revision of a data sheet in a list."""

    key: str
    name: str
    number: int
    content_hash: str
    newest: bool


def list_sheets(key: str | None = None) -> tuple[SheetLine, ...]:
    """Every revision of every data sheet (or of one), newest first."""
    rows = models.SheetRevision.objects.order_by("type__name", "type__key", "-number")
    if key is not None:
        rows = rows.filter(type__key=key)
    seen: set[str] = set()
    lines = []
    for type_key, name, number, content_hash in rows.values_list(
        "type__key", "type__name", "number", "content_hash"
    ):
        lines.append(SheetLine(type_key, name, number, content_hash, type_key not in seen))
        seen.add(type_key)
    return tuple(lines)


def newest_sheet(key: str) -> models.SheetRevision:
    """The newest revision of an engine type's data sheet."""
    row = models.SheetRevision.objects.filter(type__key=key).order_by("-number").first()
    if row is None:
        raise NoSuch("data sheet", key)
    return row


@dataclass(frozen=True, slots=True)
class EngineHistory:
    """An engine's life: its jobs newest first, its parts, and how often the meter was read."""

    engine: objects.Engine
    jobs: tuple[JobLine, ...]
    parts: tuple[objects.Part, ...]


def engine_history(key: str) -> EngineHistory:
    """One engine with its jobs: four queries."""
    row = models.Engine.objects.filter(key=key).first()
    if row is None:
        raise NoSuch("engine", key)
    jobs = _lines(row.jobs.order_by("-opened", "-id"))
    return EngineHistory(engine_of(row), jobs, tuple(map(shapes.part, row.parts.order_by("pk"))))


@dataclass(frozen=True, slots=True)
class IssuedLine:
    """One paper issued of a job."""

    kind: str
    revision: int
    at: str
    by: str
    sha256: str
    paper: str  # hash of the stored PDF; empty until it is made
    answer: str  # the owner's newest, to a condition report; empty while there is none


def issued_papers(number: str) -> tuple[IssuedLine, ...]:
    """What was issued for a job, records and condition reports, newest first: one query."""
    rows = models.IssuedRecord.objects.filter(job__number=number).order_by("-revision")
    columns = ("kind", "revision", "at", "by", "sha256", "paper__file__sha256")
    return tuple(
        IssuedLine(kind, revision, shapes.stamp(at), by or "", sha256, paper or "", answer or "")
        for kind, revision, at, by, sha256, paper, answer in rows.values_list(*columns, newest_answer())
    )


def newest_answer() -> Subquery:
    """The owner's newest answer to an issued paper, as a column."""
    answers = models.OwnerAnswer.objects.filter(report=OuterRef("pk")).order_by("-pk")
    return Subquery(answers.values("answer")[:1])


def issued_records(number: str) -> tuple[IssuedLine, ...]:
    """The records issued for a job, newest first."""
    return tuple(line for line in issued_papers(number) if line.kind == RECORD)
