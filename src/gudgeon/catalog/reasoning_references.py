"""Whether the table of reasons hangs together: every key it names is known, every clue is one thing."""

from collections.abc import Collection, Iterable, Iterator
from typing import TYPE_CHECKING

from gudgeon.catalog.reasoning import Cause, Clue
from gudgeon.quantities import UNITS, Refused, parse

if TYPE_CHECKING:
    from gudgeon.catalog.store import Catalog


def reasoning_faults(trade: "Catalog") -> Iterator[str]:
    """One sentence for each key of the reasoning that leads nowhere."""
    for cause in trade.reasoning.causes.values():
        yield from _cause(cause, trade)
    for rule in trade.reasoning.rules.values():
        where = f"rules: {rule.key}"
        yield from _unknown(f"{where}: then", rule.then, trade.reasoning.causes, "cause")
        yield from _unknown(f"{where}: opens", rule.opens, trade.reasoning.notes.scopes, "scope with notes")
        if not rule.when:
            yield f"{where}: when is empty, and a rule speaks from something found."
        for clue in (*rule.when, *rule.unless):
            yield from _clue(where, clue, trade)
    notes = trade.reasoning.notes
    yield from _unknown("scope notes", notes.scopes, trade.scopes, "scope")
    for key, note in notes.scopes.items():
        added = [line.scope for line in note.may_be_found if line.scope]
        yield from _unknown(f"scope notes: {key}", added, notes.scopes, "scope with notes")
        parts = [part for line in note.may_be_found for part in line.parts]
        yield from _unknown(f"scope notes: {key}: parts", parts, trade.parts, "part")


def _unknown(where: str, keys: Iterable[str], allowed: Collection[str], what: str) -> Iterator[str]:
    return (f'{where}: "{key}" is given, and no {what} is called that.' for key in keys if key not in allowed)


def _cause(cause: Cause, trade: "Catalog") -> Iterator[str]:
    where, reasons = f"causes: {cause.key}", trade.reasoning
    scopes = (*cause.scope, *cause.or_scope)
    yield from _unknown(f"{where}: scope", scopes, reasons.notes.scopes, "scope with notes")
    yield from _unknown(f"{where}: parts", cause.parts, trade.parts, "part")
    checks = {*trade.characteristics, *trade.diagnosis.prechecks}
    yield from _unknown(f"{where}: checks", (*cause.checks, *cause.after_opening), checks, "check")
    yield from _unknown(f"{where}: explains", cause.explains, reasons.causes, "cause")
    yield from _unknown(f"{where}: component", [cause.component], trade.components, "component")


def _clue(where: str, clue: Clue, trade: "Catalog") -> Iterator[str]:
    if len(clue.kinds) != 1:
        yield f"{where}: a clue gives {', '.join(clue.kinds) or 'nothing'}; one thing is wanted."
    outlets = (*clue.air_alike, *(one for one in (clue.air_at, clue.air_gone) if one))
    yield from _unknown(where, outlets, trade.diagnosis.outlets, "outlet")
    yield from _unknown(where, [clue.symptom] * bool(clue.symptom), trade.reasoning.symptoms, "symptom")
    yield from _unknown(where, [clue.fact] * bool(clue.fact), trade.facts, "fact about the job")
    if clue.found:
        check, _, finding = clue.found.partition(".")
        known = trade.diagnosis.prechecks.get(check)
        yield from _unknown(where, [finding], known.findings if known else (), f"finding of {check}")
    if clue.reads:
        yield from _reading(where, clue, trade)


def _reading(where: str, clue: Clue, trade: "Catalog") -> Iterator[str]:
    row = trade.characteristics.get(clue.reads)
    if row is None:
        yield f'{where}: "{clue.reads}" is given, and no characteristic is called that.'
        return
    yield from _unknown(f"{where}: {clue.reads}", clue.word, row.words, "word of this row")
    if not (clue.word or clue.at or clue.above or clue.below):
        yield f"{where}: {clue.reads} is given without word, at, above or below."
    for text in (clue.above, clue.below):
        if text and not _of_kind(text, row.unit):
            yield f'{where}: "{text}" is given; {clue.reads} is read in {row.unit}.'


def _of_kind(text: str, unit: str) -> bool:
    try:
        return bool(parse(text, UNITS[unit].kind, unit=unit, signed=True).text)
    except (Refused, KeyError):
        return False
