"""The page of the sums: what each asks, what it gives, how it is worked out and who says so."""

from itertools import groupby

from gudgeon.catalog import Catalog
from gudgeon.fitting import Field, Out, Sum, sums
from gudgeon.quantities import UNITS
from pages.form import Lines, capital, cell, head

MADE = "This page is written by `python3 run.py docs` from `src/gudgeon/fitting`; edit the sums there."


def sums_page(trade: Catalog) -> Lines:
    """Every sum by its question, in the order the list shows them."""
    yield from head(
        "Sums",
        "`gudgeon sum NAME field=value …` answers one at the command line, and the pages under “Sums” on the"
        " screen. A bare number is taken in the unit shown; another unit may be typed, and “0.95 ± 0.03 mm”"
        " carries its doubt along.",
        made=MADE,
    )
    order = list(dict.fromkeys(one.subject for one in sums().values()))
    every = sorted(sums().values(), key=lambda one: order.index(one.subject))
    for subject, group in groupby(every, key=lambda one: one.subject):
        yield from (f"## {subject}", "")
        for one in group:
            yield from _sum(one, trade)


def _sum(one: Sum, trade: Catalog) -> Lines:
    yield from (f"### {one.question}", "", f"`gudgeon sum {one.key}`", "")
    yield from ("| field | what | unit | allowed | usual | a job has it in |", "|" + "---|" * 6)
    yield from (_field(field) for field in one.fields)
    yield from ("", "| gives | | shown to |", "|---|---|---|")
    yield from (_out(out) for out in one.outs)
    yield from ("", *(f"- {why}" for why in one.why), "")
    yield from (f"Source: {one.source}.", "", f"Formulas: {', '.join(map(_linked, one.functions))}.", "")
    for key in one.cautions:
        caution = trade.cautions[key]
        yield from (f"> **{caution.name}.** {caution.words}", "")


def _field(field: Field) -> str:
    words = capital(field.words) + (f". {field.help.rstrip('.')}" if field.help else "")
    unit = UNITS[field.unit].shown if field.unit else "words" if field.choices else ""
    usual = field.default or ("may stay empty" if field.optional else "")
    several = "; several" if field.many == "several" else ""
    sources = "; ".join(source.words for source in field.sources)
    cells = (f"`{field.key}`", words, (unit or "number") + several, field.allowed or "any", usual, sources)
    return f"| {' | '.join(map(cell, cells))} |"


def _out(out: Out) -> str:
    step = f"{out.step} {UNITS[out.unit].shown}".rstrip() if out.step else UNITS[out.unit].shown
    return f"| {capital(out.words)} | `{out.key}` | {step} |"


def _linked(name: str) -> str:
    subject, formula = name.split(".")
    return f"[{formula}](formulas/{subject}.md#{formula})"
