"""The condition report: what is wrong, how sure, how deep to go, what was not checked, and consent."""

from collections.abc import Collection, Sequence

from gudgeon.assess.diagnosis import CauseStanding, Diagnosis
from gudgeon.assess.diagnosis.results import Takes
from gudgeon.assess.results import LeakVerdict
from gudgeon.catalog import catalog
from gudgeon.job import in_force
from gudgeon.job.asked import COMES_BACK_FROM, CONDITION, LAST_WORK
from gudgeon.job.objects import Job
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
from gudgeon.report.diagnosis_pictures import budget_picture
from gudgeon.report.draw import PAPER
from gudgeon.report.heading import paper_content
from gudgeon.report.photographs import photographs
from gudgeon.report.phrases import USES, day, hours, sentence_case
from gudgeon.report.pictures import leak_picture, percent_words

CONSENT = (
    "I have read what was found, what was not checked and what may still be found, and I agree to the work "
    "up to the scope named above. Nothing beyond it is done without asking me first."
)
NO_CONSENT = "I have read what was found and what was not checked."
MOST_PHOTOGRAPHS = 12
MOST_SAID = 6  # possible causes said with their evidence; the rest are named
ARRIVED = {COMES_BACK_FROM: "Comes back from job", LAST_WORK: "Last work", CONDITION: "Condition on arrival"}


def condition_content(
    job: Job,
    diagnosis: Diagnosis,
    leaks: Sequence[LeakVerdict],
    *,
    issued_at: str,
    revision: int = 1,
    paper: PaperSize = "a4",
    chosen: Sequence[str] = (),
    reason: str = "",
    pictures: Collection[str] = (),
) -> Content:
    """The whole report; ``chosen`` is the builder's own scope in words where it differs, with the reason.

    ``pictures`` are the hashes of the photographs' screen sizes that are at hand; the others are named only.
    """
    shown = photographs(job, pictures, MOST_PHOTOGRAPHS)
    sections = (
        Section("", (Facts(_facts(job)), *_told(job), Paragraph(diagnosis.headline, "lead"))),
        *_air(job, leaks),
        Section("What is likely, and why", _causes(diagnosis)),
        Section("How deep to go", _scope(diagnosis, chosen, reason)),
        *_takes(diagnosis),
        *_agreeing(diagnosis),
        Section("What was checked", (_checked(diagnosis, leaks), *_seen(job))),
        Section("What was not checked", (Points(_not_checked(diagnosis)),)),
        *((shown,) if shown else ()),
        Section("Cautions", _cautions(diagnosis), together=True),
        Section("Consent", _consent(diagnosis, chosen), together=True),
    )
    return paper_content(
        job,
        "condition_report",
        "Condition report",
        sections,
        revision=revision,
        issued_at=issued_at,
        paper=paper,
    )


def _facts(job: Job) -> tuple[tuple[str, str], ...]:
    return (
        ("Customer", job.customer or "not written down"),
        ("Engine", " ".join(word for word in (job.engine.name, job.engine.number) if word)),
        ("Use and hours", f"{USES[job.engine.use]} use; {hours(job)}"),
        ("Taken in", day(job.opened)),
        *((words, job.facts[key]) for key, words in ARRIVED.items() if key in job.facts),
    )


def _told(job: Job) -> tuple[Block, ...]:
    return (Paragraph(f"You told us: “{job.words}”"),) if job.words else ()


def _air(job: Job, leaks: Sequence[LeakVerdict]) -> tuple[Section, ...]:
    """The newest leak-down of each cylinder, drawn and said."""
    newest = {leak.cylinder: leak for leak in leaks}
    blocks = tuple(_one_leak(job, leak) for leak in newest.values())
    return (Section("Does it hold its air?", blocks),) if blocks else ()


def _one_leak(job: Job, leak: LeakVerdict) -> Block:
    drawn = budget_picture(job, leak, PAPER) or leak_picture(job, leak, PAPER)
    said: tuple[Plain, ...] = (
        Paragraph(percent_words(leak.percent), "figure"),
        Paragraph(leak.headline),
        Points(leak.sentences),
    )
    return Beside((Picture(drawn, alt=leak.headline),), said, 48)


def _causes(diagnosis: Diagnosis) -> tuple[Block, ...]:
    likely, possible = diagnosis.standing("likely"), diagnosis.standing("possible")
    blocks: list[Block] = []
    for one in likely:
        blocks.append(Paragraph(_name(one), "lead"))
        blocks.append(Points(_evidence(one)))
    if not likely:
        blocks.append(Paragraph("Nothing is likely enough yet to be named."))
    if possible:
        blocks.append(Paragraph("Possible, and not excluded:"))
        blocks.append(Points(tuple(one.summary for one in possible[:MOST_SAID])))
    if possible[MOST_SAID:]:
        others = "; ".join(one.words for one in possible[MOST_SAID:])
        blocks.append(Paragraph(f"Not excluded either: {others}.", "small"))
    ruled = [one.words for one in diagnosis.standing("ruled_out")]
    if ruled:
        blocks.append(Paragraph(f"Ruled out: {'; '.join(ruled)}.", "small"))
    return tuple(blocks)


def _name(one: CauseStanding) -> str:
    where = f", cylinder {one.cylinder}" if one.cylinder else ""
    return sentence_case(f"{one.words}{where}{' (proved)' if one.proved else ''}")


def _evidence(one: CauseStanding) -> tuple[str, ...]:
    rows = [row.sentence for row in (*one.evidence_for, *one.evidence_against)]
    return (*rows, one.unseen) if one.unseen else tuple(rows) or (one.summary,)


def _scope(diagnosis: Diagnosis, chosen: Sequence[str], reason: str) -> tuple[Block, ...]:
    scope = diagnosis.scope
    blocks: list[Block] = [Paragraph(scope.sentence, "lead")]
    if chosen:
        because = f" Reason: {reason.rstrip('.')}." if reason else ""
        blocks.append(Paragraph(f"Chosen instead by the builder: {'; '.join(chosen)}.{because}"))
    if scope.stop_and_look:
        blocks.append(Paragraph("Where the work stops and looks:"))
        blocks.append(Points(tuple(sentence_case(line) for line in scope.stop_and_look)))
    if scope.may_be_found:
        blocks.append(Paragraph("What may still be found, and would be asked about first:"))
        blocks.append(Points(tuple(sentence_case(line) for line in scope.may_be_found)))
    if diagnosis.next_check is not None:
        blocks.append(Paragraph(f"The one check worth most now: {diagnosis.next_check.sentence}"))
    return tuple(blocks)


def _takes(diagnosis: Diagnosis) -> tuple[Section, ...]:
    """Hours and parts as ranges; now or later, one opening or two."""
    takes, later = diagnosis.scope.takes, Points(diagnosis.scope.worth)
    if not takes.opened:
        return (Section("Now or later", (later,)),)
    hours = tuple(Paragraph(line) for line in takes.hours)
    note = Paragraph(takes.note, "small")
    return (Section("What it takes", (*hours, _parts(takes), note, later)),)


def _parts(takes: Takes) -> Table:
    """Sort by sort; the last column only where there are jobs enough to fill it."""
    columns = (
        Column("Sort of part", 30),
        Column("New", 56 if takes.jobs else 70),
        Column(f"More, in our last {takes.jobs} jobs", 14),
    )
    shown = 3 if takes.jobs else 2
    rows = tuple(Row((one.name, one.new, one.before)[:shown]) for one in takes.families)
    return Table(f"Parts: {takes.opened}", columns[:shown], rows)


def _agreeing(diagnosis: Diagnosis) -> tuple[Section, ...]:
    lines = diagnosis.contradictions
    return (Section("What does not agree", (Points(lines),)),) if lines else ()


def _checked(diagnosis: Diagnosis, leaks: Sequence[LeakVerdict]) -> Block:
    done = [one for one in diagnosis.checks if one.state == "done"]
    by_air = {"leak_down": _leak_results(leaks)}
    rows = tuple(
        Row((one.name.rstrip("?"), " ".join((*by_air.get(one.check, ()), one.says)).strip() or "made"))
        for one in done
    )
    if not rows:
        return Paragraph("No check is written down yet.")
    return Table("Checks made", (Column("Check", 26), Column("Found", 74)), rows)


def _seen(job: Job) -> tuple[Block, ...]:
    """What was seen, heard or felt beside the checks."""
    lines = tuple(sentence_case(one.text) for one in in_force(job.findings))
    return (Paragraph("Also seen, heard or felt:"), Points(lines)) if lines else ()


def _leak_results(leaks: Sequence[LeakVerdict]) -> tuple[str, ...]:
    """What the newest leak-down of each cylinder came to."""
    newest = {leak.cylinder: leak for leak in leaks}
    where = "cylinder {}: " if len(newest) > 1 else ""
    return tuple(
        sentence_case(f"{where.format(one.cylinder)}{percent_words(one.percent)}. {one.headline}")
        for one in newest.values()
    )


def _not_checked(diagnosis: Diagnosis) -> tuple[str, ...]:
    return diagnosis.not_checked or ("Nothing was left out.",)


def _cautions(diagnosis: Diagnosis) -> tuple[Block, ...]:
    """Those of the check to make next, and how the crank is held wherever air is still to be used."""
    asked = diagnosis.next_check.cautions if diagnosis.next_check else ()
    kept = tuple(dict.fromkeys((*asked, catalog().holding)))
    defer = "These lines replace neither the service manual, nor local rules, nor a qualified person."
    return (*(Paragraph(words, "caution") for words in kept), Paragraph(defer, "small"))


def _consent(diagnosis: Diagnosis, chosen: Sequence[str]) -> tuple[Block, ...]:
    opened = bool(chosen) or (bool(diagnosis.scope.scopes) and diagnosis.scope.scopes != ("watch",))
    words = CONSENT if opened else NO_CONSENT
    return (Paragraph(words), Signatures(("Owner, date", "Builder, date")))
