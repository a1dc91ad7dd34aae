"""The pages of what is measured and how engines differ."""

from itertools import groupby

from gudgeon.catalog import Catalog, Characteristic, Layout, instances, position_words
from gudgeon.catalog.computed import FUNCTIONS
from pages.form import (
    Lines,
    answered,
    capital,
    condition_words,
    counted,
    each,
    facts,
    head,
    span,
    with_condition,
)

KINDS_OF_READING = {
    "value": "a number read off",
    "bracket": "a feeler's two answers: this goes, that does not",
    "direct_clearance": "a gauge zeroed on the mate, reading the clearance itself",
    "one_gauge_difference": "a difference taken with one gauge at one zero",
    "computed": "worked out from other rows",
    "grade": "one of the words, in order",
    "observation": "one of the words",
}


PURPOSES = {
    "setting": "set: in the band or not, and toward which edge",
    "condemning": "keep or replace",
    "both": "set when fitted, condemns when worn",
    "diagnosis": "where to look, how deep to open",
    "record": "for comparison",
}


SIDES = {"upper": "no more than about", "lower": "no less than about", "aim": "aim", "new": "new"}


COMPARED = {
    "value": "",
    "over_nominal": "above nominal",
    "of_bore": "times the bore",
    "of_new": "times the new size",
    "spread": "between the places",
    "change": "of change",
    "tolerance": "either way",
    "tolerance_share": "of the figure, either way",
}


def layout_page(trade: Catalog) -> Lines:
    """Questions, counts, places, scopes."""
    yield from head(
        "How engines differ", "What conditions, quantities and places speak about.", trade.layout_rows.basis
    )
    yield from ("## Questions about the engine", "")
    for field in trade.layout_fields.values():
        answers = ", ".join(f"{words} (`{key}`)" for key, words in field.values.items())
        yield f"- **{field.name}** (`{field.key}`): {field.ask} {capital(answers)}."
    yield from ("", "What cannot stand together:", "")
    yield from (f"- {row.why}" for row in trade.layout_rows.impossible)
    yield from ("", "## Questions about the job", "")
    yield from (f"- `{fact.key}`: {fact.ask} {fact.note}".rstrip() for fact in trade.facts.values())
    yield from (
        f"- `{row.key}`, decided at “{trade.operations[row.asked_at].what}”: {row.words}."
        for row in trade.decisions.values()
    )
    yield from ("", "## Counts", "", "| count | what | starts at, or is |", "|---|---|---|")
    yield from (
        f"| `{row.key}` | {row.words} | {counted(row.formula or row.default)} |"
        for row in trade.counts.values()
    )
    yield from ("", "## Places a reading is taken for", "")
    yield "Keys are built from the outside in, joined by points. On a single and on a twin:"
    yield from ("", "| per | keys on a single | last key on a twin |", "|---|---|---|")
    single, twin = Layout(), Layout({}, {"cylinders": 2})
    for per in trade.per.values():
        keys = instances(single, per.key)
        shown = " ".join(f"`{key}`" for key in keys[:4]) + (" …" if len(keys) > 4 else "")
        yield f"| {per.words} (`{per.key}`) | {shown} | `{instances(twin, per.key)[-1]}` |"
    yield from ("", "## Scopes", "")
    for scope in trade.scopes.values():
        brings = "; ".join(
            with_condition(trade.scopes[row.scope].name, row.applies_if, trade) for row in scope.brings
        )
        yield f"- **{scope.name}** (`{scope.key}`{', chosen' if scope.chosen else ''}): {scope.words}." + (
            f" Brings: {brings}." if brings else ""
        )


def characteristics_page(trade: Catalog) -> Lines:
    """What is measured."""
    yield from head(
        "What is measured",
        "Rough figures plan and catch slips; they pass or fail nothing: only the data sheet does.",
    )
    rows = sorted(trade.characteristics.values(), key=lambda row: row.component)
    for component, group in groupby(rows, key=lambda row: row.component):
        yield from (f"## {capital(component)}", "")
        for row in group:
            yield from _characteristic(row, trade)
    yield from ("## How a row may be worked out", "")
    yield from (f"- `{name}`: {words}." for name, words in FUNCTIONS.items())


def _characteristic(row: Characteristic, trade: Catalog) -> Lines:
    yield from (
        f"### {row.name}",
        "",
        f"`{row.key}` · {each(row.per, trade)}" + answered(row.applies_if, trade),
        "",
    )
    yield from facts(
        ("Measured", row.measured),
        ("How", row.how),
        ("With", ", ".join(trade.tools[key].name for key in row.instruments)),
        ("Places", "; ".join(f"{position_words(key, row) or key} (`{key}`)" for key in row.positions)),
        ("Read as", "; ".join(KINDS_OF_READING[kind] for kind in row.reads)),
        ("Words", ", ".join(f"{word} (in order)" if word in row.in_order else word for word in row.words)),
        ("For", f"{PURPOSES[row.purpose]}: {row.decides}"),
        ("Conditions", row.conditions),
        (
            "Size at 20 °C",
            "yes, scaled by the expansion of part and gauge" if row.temperature == "to_20" else "",
        ),
        (
            "Unit",
            f"{row.unit}, read to {row.reads_to:g}" + (", signed" if row.signed else "") if row.unit else "",
        ),
        (
            "Worked out",
            f"{row.computed_words} (`{row.computed_by}`)" if row.computed_by else row.computed_words,
        ),
        ("The sheet chooses", "; ".join(row.definition.choices.values()) if row.definition else ""),
        ("Plausible", span(row.plausible, row.unit) if row.plausible else ""),
        ("Rough", "; ".join(_rough(row, trade))),
        ("Ask first", row.asks),
        ("Warn of", row.warn),
        ("Remark", row.remark),
        ("Cautions", ", ".join(trade.cautions[key].name for key in row.cautions)),
        ("Basis", "; ".join(row.basis)),
    )


def _rough(row: Characteristic, trade: Catalog) -> Lines:
    for limit in row.rough_limits:
        unit = "" if limit.of in ("of_bore", "of_new", "tolerance_share") else row.unit
        words = f"{SIDES[limit.side]} {span((limit.low, limit.high), unit)} {COMPARED[limit.of]}".rstrip()
        extra = limit.words or ", ".join(condition_words(limit.applies_if, trade))
        yield words + (f" ({extra})" if extra else "")
