"""The build record: a first page for the customer, then everything it rests on."""

from collections.abc import Collection, Sequence

from gudgeon.assess.results import Assessment, LeakVerdict, Verdict
from gudgeon.job.history import in_force, settled, waiting
from gudgeon.job.objects import Decision, Job
from gudgeon.report import record_rest
from gudgeon.report.content import (
    Beside,
    Block,
    Column,
    Content,
    Facts,
    PaperSize,
    Paragraph,
    Picture,
    Plain,
    Points,
    Row,
    Section,
    Signatures,
    Table,
)
from gudgeon.report.decisions import against_proposal, renewed_parts, replaced_parts, undecided, upshot
from gudgeon.report.draw import PAPER
from gudgeon.report.heading import paper_content
from gudgeon.report.phrases import OCCASIONS, USES, day, hours, people, sentence_case
from gudgeon.report.pictures import count_picture, cylinder_words, leaks_picture, percent_words

_FOUND_AT_MOST = 5
_REPLACED_AT_MOST: dict[PaperSize, int] = {"a4": 6, "letter": 4}  # what leaves room to sign on one page
_NAMED_AT_MOST = 10
_TELLING = ("beyond", "finding", "outside")


def record_content(
    job: Job,
    assessment: Assessment,
    revision: int,
    issued_at: str,
    paper: PaperSize = "a4",
    pictures: Collection[str] = (),
) -> Content:
    """The whole record of a job, ready to be hashed and set; ``issued_at`` is UTC, ISO 8601.

    ``pictures`` are the hashes of the photographs' screen sizes that are at hand; the others are named only.
    """
    sections = (*_first_page(job, assessment, paper), *record_rest.sections(job, assessment, pictures))
    return paper_content(
        job, "record", "Build record", sections, revision=revision, issued_at=issued_at, paper=paper
    )


def _first_page(job: Job, assessment: Assessment, paper: PaperSize) -> list[Section]:
    """What a customer understands without help, on one page with room to sign."""
    decided = settled(job)
    opening: list[Block] = [Facts(_facts(job))]
    if job.words:
        opening.append(Paragraph(f"You told us: “{job.words}”"))
    found = Beside((Points(_found(job, assessment)),), _counts(assessment), 58)
    sections = [Section("", tuple(opening)), Section("What was found", (found,))]
    leaks = _leaks(job, assessment)
    if leaks:
        sections.append(Section("Does it hold its air?", leaks))
    sections.append(
        Section("What was replaced, and why", _replaced(job, assessment, _REPLACED_AT_MOST[paper]))
    )
    sections.append(Section("Who decided", _decided(job, decided), foot=True))
    return sections


def _facts(job: Job) -> tuple[tuple[str, str], ...]:
    closed = f", finished {day(job.closed)}" if job.closed else ""
    work = () if job.title == job.engine.name else (("Work", job.title),)
    return (
        ("Customer", job.customer or "not written down"),
        ("Engine", " ".join(word for word in (job.engine.name, job.engine.number) if word)),
        *work,
        ("Use and hours", f"{USES[job.engine.use]} use; {hours(job)}"),
        ("Taken in", f"{day(job.opened)}{closed}"),
    )


def _found(job: Job, assessment: Assessment) -> tuple[str, ...]:
    """The few sentences that matter most; the rest is counted."""
    leak = [first.headline for first in first_and_last(assessment.leaks)[:1]]
    seen = [finding.text for finding in in_force(job.findings)]
    everything = [sentence_case(text) for text in (*leak, *seen, *_telling(assessment))]
    left = len(everything) - _FOUND_AT_MOST
    if left > 0:
        more = f"And {left} more, among the readings on the pages that follow."
        everything = [*everything[:_FOUND_AT_MOST], more]
    return tuple(everything or ["Nothing was found beyond its limit."])


def _telling(assessment: Assessment) -> list[str]:
    """What is wrong, once for each kind of reading, the gravest first."""
    found = [verdict for status in _TELLING for verdict in assessment.verdicts if verdict.status == status]
    kinds: dict[str, list[Verdict]] = {}
    for verdict in found:
        kinds.setdefault(verdict.place.characteristic, []).append(verdict)
    return [_for_the_customer(group) for group in kinds.values()]


def _for_the_customer(group: Sequence[Verdict]) -> str:
    said = upshot(group[0].sentence)
    others = len(group) - 1
    return f"{said} The same at {others} more." if others else said


def _counts(assessment: Assessment) -> tuple[Plain, ...]:
    judged = sum(verdict.status != "not_measured" for verdict in assessment.verdicts)
    alt = f"{judged} places were read; how the verdicts fell out, as lengths on a rule."
    return (Picture(count_picture(assessment, PAPER, 300), alt=alt, caption=f"{judged} places were read."),)


def first_and_last(leaks: Sequence[LeakVerdict]) -> list[LeakVerdict]:
    """The first and the last leak-down of each cylinder."""
    by_cylinder: dict[str, list[LeakVerdict]] = {}
    for leak in leaks:
        by_cylinder.setdefault(leak.cylinder, []).append(leak)
    kept = [one for tests in by_cylinder.values() for one in (tests[0], tests[-1])]
    return list(dict.fromkeys(kept))


def _replaced(job: Job, assessment: Assessment, at_most: int) -> tuple[Block, ...]:
    decided = settled(job)
    rows = replaced_parts(job, assessment, decided)
    renewed = renewed_parts(job, assessment, decided)
    waiting = undecided(assessment, decided, ("replace", "always_new"))
    blocks: list[Block] = []
    if rows:
        shown = tuple(Row(cells) for cells in rows[:at_most])
        blocks.append(Table("Parts replaced", (Column("Part", 34), Column("Why", 66)), shown))
    elif not renewed:
        nothing = "Nothing was replaced." if decided else "Nothing has been decided yet."
        blocks.append(Paragraph(nothing))
    left = len(rows) - at_most
    if left > 0:
        blocks.append(Paragraph(f"And {left} more, in the list of decisions.", "small"))
    if renewed:
        blocks.append(Paragraph(f"New because the work disturbs them: {_few(renewed)}.", "small"))
    if waiting:
        blocks.append(Paragraph(f"Proposed to be replaced, not decided yet: {_few(waiting)}.", "small"))
    return tuple(blocks)


def _few(parts: Sequence[str]) -> str:
    left = len(parts) - _NAMED_AT_MOST
    return "; ".join(parts[:_NAMED_AT_MOST]) + (f"; and {left} more" if left > 0 else "")


def _leaks(job: Job, assessment: Assessment) -> tuple[Block, ...]:
    shown = first_and_last(assessment.leaks)
    if not shown:
        return ()
    tests = {test.id: test for test in job.leak_tests}
    lines = tuple(
        f"{sentence_case(cylinder_words(job, leak.cylinder))}, {OCCASIONS[tests[leak.test_id].occasion]}"
        f" ({day(tests[leak.test_id].at)}): {percent_words(leak.percent)}."
        for leak in shown
        if leak.test_id in tests
    )
    picture = leaks_picture(job, tuple(shown), PAPER)
    if not picture:
        return (Points(lines),)
    drawn = Picture(picture, alt=" ".join(lines))
    said = Points(
        (*lines, "Less is better: it is the share of the air that gets away past valves, rings and gasket.")
    )
    return (Beside((drawn,), (said,), 55),)


def _decided(job: Job, decided: Sequence[Decision]) -> tuple[Block, ...]:
    overruled = sum(against_proposal(one) for one in decided)
    names = people(job, {one.by for one in decided})
    if not decided:
        text = "Nothing has been decided yet; this is a draft."
    else:
        parts = "one part was" if len(decided) == 1 else f"{len(decided)} parts were"
        text = f"{sentence_case(parts)} decided on by {names}"
        text += f"; {overruled} against the proposal, with the reason written down." if overruled else "."
    left = len(waiting(job))
    if left:
        text += f" {left} decided by an apprentice {'waits' if left == 1 else 'wait'} for a builder’s word."
    return (Paragraph(text), Signatures(("Builder, date", "Received by, date")))
