"""The leak-down sheet: one test on one page, to be handed over or kept with the engine."""

from gudgeon.assess.results import LeakVerdict
from gudgeon.catalog import catalog
from gudgeon.job.objects import Job
from gudgeon.job.tests import LeakTest
from gudgeon.quantities import show
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
    Table,
)
from gudgeon.report.draw import PAPER
from gudgeon.report.heading import paper_content
from gudgeon.report.phrases import OCCASIONS, USES, day, person, sentence_case, typed
from gudgeon.report.pictures import (
    cylinder_words,
    leak_picture,
    percent_words,
    repeat_percents,
    repeats_picture,
    share_words,
)


def leak_sheet_content(
    job: Job, leak: LeakVerdict, *, issued_at: str, revision: int = 1, paper: PaperSize = "a4"
) -> Content:
    """One leak-down: result, what it means, picture, next check, cautions, repeats, conditions."""
    test = next(test for test in job.leak_tests if test.id == leak.test_id)
    picture = Picture(leak_picture(job, leak, PAPER), alt=leak.headline)
    result = Beside((picture,), _result(job, leak, test), 52)
    sections = (
        Section("", (result,)),
        Section(
            "Repeats and conditions", (Beside(_repeats(job, leak, test), (_conditions(job, test),), 52),)
        ),
        Section("Before anyone turns the air on", _cautions()),
    )
    return paper_content(
        job, "leak_sheet", "Leak-down sheet", sections, revision=revision, issued_at=issued_at, paper=paper
    )


def _result(job: Job, leak: LeakVerdict, test: LeakTest) -> tuple[Plain, ...]:
    """The number, the band for the use, and what they mean."""
    state = "warm" if test.warm else "cold"
    place = sentence_case(f"{cylinder_words(job, leak.cylinder)}, {OCCASIONS[test.occasion]}, {state}")
    blocks: list[Plain] = [Paragraph(place, "small"), Paragraph(percent_words(leak.percent), "figure")]
    blocks += [Paragraph(leak.headline, "lead")]
    blocks.append(Facts(_figures(job, leak)))
    blocks.append(Points(leak.sentences))
    if leak.next_check:
        blocks.append(Paragraph(f"Next: {leak.next_check}", "caution"))
    return tuple(blocks)


def _figures(job: Job, leak: LeakVerdict) -> tuple[tuple[str, str], ...]:
    pairs = [(f"For {USES[job.engine.use]} use", leak.band)] if leak.band else []
    if leak.percent is not None:
        pairs.append(("95 % sure", f"{share_words(leak.percent.low)} to {share_words(leak.percent.high)}"))
    if leak.hole is not None:
        pairs.append(("As one round hole", show(leak.hole.value, "mm", 1e-5)))
    return tuple(pairs)


def _repeats(job: Job, leak: LeakVerdict, test: LeakTest) -> tuple[Plain, ...]:
    picture = repeats_picture(job, leak, PAPER)
    blocks: list[Plain] = []
    if picture:
        blocks.append(
            Picture(picture, alt="The repeats on a rule, with their mean and its 95 % interval.", width=92)
        )
    percents = [f"{percent:.1f} %" for percent in repeat_percents(job, leak)]
    rows = tuple(
        Row(
            (
                str(i + 1),
                typed(reading.supply),
                typed(reading.cylinder, "—"),
                percents[i] if i < len(percents) else "—",
            )
        )
        for i, reading in enumerate(test.readings)
    )
    columns = (Column("Repeat", 2), Column("Supply", 4), Column("Cylinder", 4), Column("Lost", 3, "right"))
    return (*blocks, Table("Repeats of the leak-down", columns, rows))


def _conditions(job: Job, test: LeakTest) -> Facts:
    tester = next((tester for tester in job.testers if tester.key == test.tester), None)
    restrictor = (tester and tester.restrictor) or "not known: the percentage compares with this tester only"
    pairs = [
        ("Taken", f"{day(test.at)} by {person(job, test.by)}"),
        ("Tester", tester.name if tester else "not written down"),
        ("Restrictor", restrictor),
        ("Engine", "warm" if test.warm else "cold"),
        ("Air outside", f"{typed(test.ambient_pressure)}, {typed(test.ambient_temperature)}"),
    ]
    return Facts((*pairs, ("Note", test.note)) if test.note else tuple(pairs))


def _cautions() -> tuple[Block, ...]:
    diagnosis = catalog()
    return (
        Paragraph(diagnosis.holding, "caution"),
        Paragraph(diagnosis.diagnosis.leak_down.bands_note, "small"),
    )
