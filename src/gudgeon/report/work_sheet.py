"""Measuring sheets for those who write by hand: one line for each place, with room for repeats."""

import re
from collections.abc import Iterable, Sequence
from itertools import groupby

from gudgeon.catalog import Characteristic, applies, catalog, instances, position_words, words_for
from gudgeon.datasheet import DataSheet
from gudgeon.job.objects import Job
from gudgeon.quantities import show, unit_named
from gudgeon.report.content import (
    Block,
    Column,
    Content,
    Facts,
    PaperSize,
    Paragraph,
    Row,
    Section,
    Signatures,
    Table,
)
from gudgeon.report.heading import paper_content
from gudgeon.report.phrases import sentence_case

_COLUMNS = (
    Column("Place", 34),
    Column("1st", 13),
    Column("2nd", 13),
    Column("3rd", 13),
    Column("Gauge", 15),
    Column("Part at, °C", 12),
)
_SIZES = re.compile(r" \(| \d|, | with ")
_UNKNOWN = "Limit not on the data sheet yet: ______________ page ________"


def components(job: Job) -> tuple[str, ...]:
    """The parts of this engine that have something to measure, from the top of the engine down."""
    return tuple(catalog().down_the_engine(row.component for row in _rows(job)))


def work_sheet_content(
    job: Job, groups: Sequence[str], *, issued_at: str, revision: int = 1, paper: PaperSize = "a4"
) -> Content:
    """Blank lines for the parts named in ``groups`` (as ``components`` names them), one section each."""
    wanted = [group for group in components(job) if group in groups]
    sections = [Section("", _opening(job))]
    sections += [_section(job, group) for group in wanted]
    return paper_content(
        job, "work_sheet", "Measuring sheet", sections, revision=revision, issued_at=issued_at, paper=paper
    )


def _rows(job: Job) -> Iterable[Characteristic]:
    layout = job.sheet.layout
    return (
        row
        for row in catalog().characteristics.values()
        if not row.derived and applies(row.applies_if, layout)
    )


def _opening(job: Job) -> tuple[Block, ...]:
    words = (
        "Write down every reading as it is read, with its unit when it is not the one printed. "
        "Read each place more than once, taking the gauge off in between. "
        "A feeler has two answers: what goes and what does not. "
        "A limit that is not on the data sheet yet is looked up once and written in, with its page."
    )
    title = Facts((("Work", job.title), ("Data sheet", f"{job.sheet.name}, revision {job.sheet.revision}")))
    lines = ("Measured by, date", "Room at, °C", "Gauges at, °C")
    return (title, Paragraph(words, "small"), Signatures(lines))


def _section(job: Job, component: str) -> Section:
    rows = [row for row in _rows(job) if row.component == component]
    lines = tuple(line for row in rows for line in _lines(job, row))
    return Section(sentence_case(component), (Table(sentence_case(component), _COLUMNS, lines, tall=True),))


def _lines(job: Job, row: Characteristic) -> Iterable[Row]:
    """A characteristic's heading with its limit, then a blank line for each place."""
    places = [(i, p) for i in instances(job.sheet.layout, row.per) for p in row.positions or ("",)]
    limits = {place: _limit(job.sheet, row, *place) for place in places}
    one_limit = len(set(limits.values())) == 1
    unit = f" [{unit_named(row.unit).shown}]" if row.unit else ""
    limit = next(iter(limits.values())) if one_limit else "Limits: beside the first place each holds for"
    if row.kind == "number" and row.limit_kind != "none":
        limit = limit or _UNKNOWN
    yield Row((), title=f"{row.name}{unit}", title_note=f"{_how(row)} {limit}".strip())
    for limit, run in groupby(places, key=limits.__getitem__):
        for number, place in enumerate(run):
            beside = f". {limit}" if limit and number == 0 and not one_limit else ""
            yield Row((f"{_where(job, row, *place)}{beside}", "", "", "", "", ""))


def _where(job: Job, row: Characteristic, instance: str, position: str) -> str:
    place = (words_for(job.sheet.layout, row.per, instance), position_words(position, row))
    return sentence_case(", ".join(word for word in place if word)) or "Reading"


def _how(row: Characteristic) -> str:
    names = (_short(catalog().tools[key].name) for key in row.instruments if key in catalog().tools)
    tools = ", ".join(name if name[:2].isupper() else f"{name[:1].lower()}{name[1:]}" for name in names)
    how = "; ".join(word for word in (row.how or row.measured, tools) if word)
    words = f" Words: {', '.join(row.words)}." if row.words else ""
    return f"{sentence_case(how)}.{words}"


def _short(name: str) -> str:
    """A tool's name without its sizes and what it comes with."""
    return _SIZES.split(name, maxsplit=1)[0]


def _limit(sheet: DataSheet, row: Characteristic, instance: str, position: str) -> str:
    """The limit in words with its page; blank where the sheet has none."""
    limit = sheet.limit(row.key, instance, position)
    if limit is None or limit.empty:
        return ""
    ends = (("at least", limit.lower), ("at most", limit.upper))
    said = [f"{words} {show(value, row.unit)}" for words, value in ends if value is not None]
    band = [show(value, row.unit) for value in (limit.band_low, limit.band_high) if value is not None]
    said += [f"new or set {' to '.join(band)}"] if band else []
    page = f" (page {limit.page})" if limit.page else ""
    return f"Limit: {'; '.join(said)}{page}"
