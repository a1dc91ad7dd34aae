"""The pages behind the first: readings part by part, decisions, leak-downs, gauges, and how it was judged."""

from collections.abc import Collection, Iterable, Sequence
from itertools import groupby

from gudgeon.assess import seen_words
from gudgeon.assess.results import Assessment, LeakVerdict, Verdict
from gudgeon.assess.rules import RULES, USUAL
from gudgeon.catalog import catalog, instances, position_words, words_for
from gudgeon.job.history import in_force, settled
from gudgeon.job.instruments import Instrument
from gudgeon.job.objects import Decision, Job, Part
from gudgeon.report.content import (
    Beside,
    Block,
    Column,
    Facts,
    Paragraph,
    Picture,
    Plain,
    Points,
    Row,
    Section,
    Table,
)
from gudgeon.report.decisions import decision_rows, part_title, undecided
from gudgeon.report.draw import PAPER, status_words
from gudgeon.report.photographs import photographs
from gudgeon.report.phrases import CHOICES, OCCASIONS, ORIGINS, day, person, sentence_case
from gudgeon.report.pictures import bore_picture, cylinder_words, leak_picture, percent_words, verdict_picture

_DECIDING = ("beyond", "close", "outside", "near_edge")
_PICTURES_AT_MOST = 8
HASH_NOTE = "A hash shows accidents and later edits, not forgery by whoever holds the database."
_READING_COLUMNS = (
    Column("Place", 31),
    Column("Read", 14, "right"),
    Column("Limit, page", 31),
    Column("Verdict", 24),
)


def sections(job: Job, assessment: Assessment, pictures: Collection[str] = ()) -> tuple[Section, ...]:
    """Everything after the first page, in the order it is asked for."""
    made = (
        _deciding(assessment),
        *_readings(job, assessment),
        _decisions(job, assessment),
        *_leaks(job, assessment),
        _parts(job, assessment),
        _findings(job),
        photographs(job, pictures),
        _gauges(job, assessment),
        _not_inspected(assessment),
        _how(job),
    )
    kept = [section for section in made if section is not None]
    first, *others = kept
    return (Section(first.title, first.blocks, new_page=True), *others)


def _deciding(assessment: Assessment) -> Section | None:
    """The readings that needed a decision, one of each kind on its rule."""
    kinds: dict[str, Verdict] = {}
    for status in _DECIDING:
        for verdict in assessment.verdicts:
            if verdict.status == status:
                kinds.setdefault(verdict.place.characteristic, verdict)
    drawn = ((verdict, verdict_picture(verdict, PAPER, 340)) for verdict in kinds.values())
    pictures = [Picture(svg, alt=verdict.sentence, caption=verdict.title) for verdict, svg in drawn if svg]
    pictures = pictures[:_PICTURES_AT_MOST]
    if not pictures:
        return None
    pairs = (tuple(pictures[i : i + 2]) for i in range(0, len(pictures), 2))
    rows = (Beside(pair[:1], pair[1:]) for pair in pairs)
    words = "The bar is the range the value lies in with 95 % certainty; hatched is beyond the limit."
    return Section("The readings that decided", (Paragraph(words, "small"), *rows))


def _readings(job: Job, assessment: Assessment) -> Iterable[Section]:
    """One section for each part of the engine, one row for each place."""
    read = [verdict for verdict in assessment.verdicts if verdict.status != "not_measured"]
    rows = catalog().characteristics
    by_component: dict[str, list[Verdict]] = {}
    for verdict in read:
        by_component.setdefault(rows[verdict.place.characteristic].component, []).append(verdict)
    for component in catalog().down_the_engine(by_component):
        verdicts = by_component[component]
        table = Table(f"Readings: {component}", _READING_COLUMNS, _reading_rows(job, verdicts), marked=True)
        drawn = _bores(job, assessment) if component == "cylinder" else ()
        yield Section(f"Readings: {component}", (*drawn, table))


def _reading_rows(job: Job, verdicts: list[Verdict]) -> tuple[Row, ...]:
    made: list[Row] = []
    for key, group in groupby(verdicts, key=lambda verdict: verdict.place.characteristic):
        row = catalog().characteristics[key]
        made.append(Row((), title=row.name, title_note=sentence_case(row.measured)))
        made += [_reading_row(job, verdict) for verdict in group]
    return tuple(made)


def _reading_row(job: Job, verdict: Verdict) -> Row:
    row = catalog().characteristics[verdict.place.characteristic]
    where = (
        words_for(job.sheet.layout, row.per, verdict.place.instance),
        position_words(verdict.place.position, row),
        OCCASIONS[verdict.occasion] if verdict.occasion and verdict.occasion != "as_found" else "",
    )
    place = sentence_case(", ".join(word for word in where if word)) or "As found"
    bounds = verdict.bounds
    limit = f"{bounds.words}, {f'page {bounds.page}' if bounds.page else 'no page'}" if bounds else "—"
    return Row(
        (place, verdict.shown, limit, _verdict_words(verdict)), mark=verdict.status, note=_note(verdict)
    )


def _verdict_words(verdict: Verdict) -> str:
    words = status_words(verdict.status)
    if verdict.probability is None or verdict.status not in {"within", "beyond", "close"}:
        return words
    inside = verdict.probability >= 0.5
    sure = verdict.probability if inside else 1 - verdict.probability
    shown = ">\u00a099\u00a0%" if sure > 0.995 else f"{100 * sure:.0f}\u00a0%"
    way = (" inside" if inside else " beyond") if verdict.status == "close" else ""
    return f"{words}, {shown}{way}"


def _note(verdict: Verdict) -> str:
    """What the row alone does not say: which edge, what would settle it, what it read at first."""
    said = verdict.sentence.removeprefix(f"{verdict.title}: ")
    telling = verdict.status in {"near_edge", "outside", "slip"}
    lines = (said if telling else "", verdict.settle, verdict.first)
    return " ".join(sentence_case(line) for line in lines if line)


def _bores(job: Job, assessment: Assessment) -> tuple[Block, ...]:
    made: list[Block] = []
    for cylinder in instances(job.sheet.layout, "cylinder"):
        svg = bore_picture(job, assessment, cylinder, PAPER)
        if svg:
            where = cylinder_words(job, cylinder)
            alt = f"The bore of {where} as measured at three heights along two axes."
            drawn = Picture(svg, alt=alt, caption=sentence_case(f"{where}: the bore as measured."))
            made.append(Beside((drawn,), (Points(_bore_words(assessment, cylinder)),), 60))
    return tuple(made)


def _bore_words(assessment: Assessment, cylinder: str) -> tuple[str, ...]:
    """What the shape comes to: out of round, tapered."""
    shapes = ("bore_out_of_round", "bore_taper")
    return tuple(
        verdict.sentence
        for verdict in assessment.verdicts
        if verdict.place.characteristic in shapes and verdict.place.instance == cylinder
    )


def _decisions(job: Job, assessment: Assessment) -> Section | None:
    rows = decision_rows(job, assessment)
    columns = (
        Column("Part", 24),
        Column("Proposed", 14),
        Column("Decided", 14),
        Column("Reason", 32),
        Column("By", 16),
    )
    waiting = _waiting(assessment, settled(job))
    blocks: list[Block] = [Table("Decisions", columns, rows)] if rows else []
    if waiting:
        blocks += [Paragraph("Proposed, and not decided on yet:", "small"), Facts(waiting)]
    return Section("Parts and decisions", tuple(blocks)) if blocks else None


def _waiting(assessment: Assessment, decided: Sequence[Decision]) -> tuple[tuple[str, str], ...]:
    """Undecided parts by what is proposed for them."""
    by_choice = ((words, undecided(assessment, decided, (choice,))) for choice, words in CHOICES.items())
    return tuple((sentence_case(words), "; ".join(parts)) for words, parts in by_choice if parts)


def _leaks(job: Job, assessment: Assessment) -> Iterable[Section]:
    tests = {test.id: test for test in job.leak_tests}
    for leak in assessment.leaks:
        test = tests[leak.test_id]
        title = f"Leak-down, {cylinder_words(job, leak.cylinder)}, {OCCASIONS[test.occasion]}, {day(test.at)}"
        picture = Picture(leak_picture(job, leak, PAPER), alt=leak.headline)
        yield Section(title, (Beside((picture,), _leak_words(leak), 44),))


def _leak_words(leak: LeakVerdict) -> tuple[Plain, ...]:
    said = (*leak.sentences, *((leak.next_check,) if leak.next_check else ()))
    return (Paragraph(percent_words(leak.percent), "figure"), Paragraph(leak.headline, "lead"), Points(said))


def _parts(job: Job, assessment: Assessment) -> Section | None:
    if not job.parts:
        return None
    columns = (
        Column("Part", 36),
        Column("Where from", 22),
        Column("Fitted", 12),
        Column("Taken out", 12),
        Column("Note", 18),
    )
    rows = tuple(_part_row(job, assessment, part) for part in job.parts)
    return Section("Parts in and out", (Table("Parts in and out", columns, rows),))


def _part_row(job: Job, assessment: Assessment, part: Part) -> Row:
    title = part_title(job, part.part, part.instance, assessment.proposals)
    fitted, removed = (
        f"{hours:g} h" if hours is not None else "—" for hours in (part.fitted_hours, part.removed_hours)
    )
    return Row((title, ORIGINS[part.origin], fitted, removed, part.note))


def _findings(job: Job) -> Section | None:
    found = in_force(job.findings)
    if not found:
        return None
    items = tuple(
        f"{seen_words(one).removeprefix('Seen: ')} ({person(job, one.by)}, {day(one.at)})" for one in found
    )
    return Section("Seen, heard and felt", (Points(items),))


def _gauges(job: Job, assessment: Assessment) -> Section | None:
    used = {reading.instrument for reading in job.readings}
    gauges = [gauge for gauge in job.instruments if gauge.key in used]
    if not gauges:
        return None
    columns = (
        Column("Gauge", 25),
        Column("Reads to", 11, "right"),
        Column("Last check", 22),
        Column("Correction", 12, "right"),
        Column("Uncertainty", 12, "right"),
        Column("Next due", 18),
    )
    table = Table("Gauges and their checks", columns, tuple(_gauge_row(one) for one in gauges))
    notes = (Points(assessment.gauge_notes),) if assessment.gauge_notes else ()
    return Section("Gauges and their checks", (table, *notes))


def _gauge_row(gauge: Instrument) -> Row:
    if not gauge.checks:
        return Row((gauge.name, gauge.step, "never checked", "—", "—", "—"))
    last = max(gauge.checks, key=lambda check: check.date)
    due = day(last.due) if last.due else "—"
    return Row((gauge.name, gauge.step, day(last.date), last.correction, last.expanded_uncertainty, due))


def _not_inspected(assessment: Assessment) -> Section | None:
    if not assessment.not_inspected:
        return None
    return Section("What was not inspected", (Points(assessment.not_inspected),))


def _how(job: Job) -> Section:
    """How a verdict comes about, which rule was chosen, and what the hash on each page is worth."""
    kinds = (("service", "a limit that condemns a part"), ("band", "a band that is set or left"))
    chosen = [
        f"For {words}: {RULES.get(job.rules.get(kind, ''), RULES[USUAL[kind]])}." for kind, words in kinds
    ]
    manual = " ".join(word for word in (job.sheet.manual, job.sheet.edition) if word) or "not named"
    items = (
        "Each value carries what makes it uncertain: scatter, the gauge and its check, temperature.",
        "Within the limit: at least 95 % sure from these readings. Beyond the limit: at most 5 % sure "
        "that it is inside. Between the two it is too close to call, and the record says so.",
        *chosen,
        f"Limits: data sheet “{job.sheet.name}”, revision {job.sheet.revision}; manual: {manual}.",
        "Rough values of the trade only catch slips of the pen; no part passes or fails by them.",
        f"The line at the foot of each page is the SHA-256 of this record's content. {HASH_NOTE}",
    )
    return Section("How the verdicts are made", (Points(items),))
