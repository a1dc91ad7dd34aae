"""Every key that one row names in another, resolved: run at start-up and by the tests."""

from collections.abc import Collection, Iterable, Iterator, Mapping

from gudgeon.catalog.characteristic import Characteristic
from gudgeon.catalog.computed import FUNCTIONS
from gudgeon.catalog.formula import FormulaError, names_in
from gudgeon.catalog.layout import Between, Condition
from gudgeon.catalog.places import per_words
from gudgeon.catalog.reading import CatalogErrors
from gudgeon.catalog.reasoning_references import reasoning_faults
from gudgeon.catalog.rows import Operation, Part, Tool
from gudgeon.catalog.store import Catalog
from gudgeon.quantities import UNITS


def check(trade: Catalog) -> None:
    """Raise everything that is wrong between the rows of the catalog, in one answer."""
    errors = tuple(faults(trade))
    if errors:
        raise CatalogErrors(errors)


def faults(trade: Catalog) -> Iterator[str]:
    """One sentence for each key that leads nowhere."""
    yield from _layout(trade)
    for row in trade.characteristics.values():
        yield from _characteristic(row, trade)
    for step in trade.operations.values():
        yield from _operation(step, trade)
    for part in trade.parts.values():
        yield from _part(part, trade)
    for tool in trade.tools.values():
        yield from _tool(tool, trade)
    yield from _joints(trade)
    yield from _failures(trade)
    yield from _diagnosis(trade)
    yield from reasoning_faults(trade)


def _named(where: str, keys: Iterable[str], allowed: Collection[str], what: str) -> Iterator[str]:
    for key in keys:
        if key not in allowed:
            yield f'{where}: "{key}" is given, and no {what} is called that.'


def _condition(where: str, condition: Condition, trade: Catalog) -> Iterator[str]:
    for field, wanted in condition.items():
        if isinstance(wanted, Between):
            yield from _named(where, [field], trade.counts, "count")
            continue
        if field not in trade.layout_fields:
            yield f'{where}: "{field}" is given, and no question about the layout is called that.'
            continue
        answers = trade.layout_fields[field].values
        yield from _named(
            where, [wanted] if isinstance(wanted, str) else wanted, answers, f"answer to {field}"
        )


def _formula(where: str, formula: str, known: Mapping[str, object]) -> Iterator[str]:
    try:
        yield from _named(where, sorted(names_in(formula)), known, "count")
    except FormulaError as wrong:
        yield f"{where}: {wrong}."


def _layout(trade: Catalog) -> Iterator[str]:
    for scope in trade.scopes.values():
        where = f"scopes: {scope.key}: brings"
        yield from _named(where, [row.scope for row in scope.brings], trade.scopes, "scope")
        for row in scope.brings:
            yield from _condition(where, row.applies_if, trade)
    for count in trade.counts.values():
        yield from _formula(f"counts: {count.key}", count.formula or count.default, trade.counts)
    for per in trade.per.values():
        yield from _formula(f"per: {per.key}", per.count, trade.counts)
        yield from _named("per", [per.key], per_words(), "place")
    for decision in trade.decisions.values():
        yield from _named(
            f"decisions: {decision.key}: asked_at", [decision.asked_at], trade.operations, "step"
        )


def _characteristic(row: Characteristic, trade: Catalog) -> Iterator[str]:
    where = f"characteristics: {row.key}"
    yield from _named(f"{where}: per", [row.per], trade.per, "place")
    yield from _named(f"{where}: instruments", row.instruments, trade.tools, "tool")
    yield from _named(f"{where}: inputs", row.inputs, trade.characteristics, "characteristic")
    yield from _named(f"{where}: cautions", row.cautions, trade.cautions, "caution")
    yield from _named(f"{where}: in_order", row.in_order, row.words, "word of this row")
    yield from _named(f"{where}: in_order_at", row.in_order_at, row.positions, "position of this row")
    yield from _named(f"{where}: doubtful", row.doubtful, row.words, "word of this row")
    yield from _named(f"{where}: means", row.means, row.words, "word of this row")
    yield from _named(
        f"{where}: component", [row.component], trade.components, "component in components.toml"
    )
    yield from _condition(where, row.applies_if, trade)
    if row.computed_by:
        yield from _named(f"{where}: computed_by", [row.computed_by], FUNCTIONS, "function")
    yield from _number_or_words(row, where)


def _number_or_words(row: Characteristic, where: str) -> Iterator[str]:
    if row.kind == "number":
        yield from _named(f"{where}: unit", [row.unit], UNITS, "unit")
        if row.words:
            yield f"{where}: words are given, and a number has none."
    elif not row.words or not row.in_order:
        yield f"{where}: words and in_order are wanted for a {row.kind}."


def _operation(step: Operation, trade: Catalog) -> Iterator[str]:
    where = f"operations: {step.key}"
    for name, keys, allowed, what in (
        ("phase", [step.phase], trade.order.phases, "phase"),
        ("scopes", step.scopes, trade.scopes, "scope"),
        ("decided", [step.decided] if step.decided else [], trade.decisions, "decision"),
        ("job_if", step.job_if, trade.facts, "fact about the job"),
        ("tools", step.tools, trade.tools, "tool"),
        ("cautions", step.cautions, trade.cautions, "caution"),
        ("fills", step.fills, trade.bags, "bag"),
        ("empties", step.empties, trade.bags, "bag"),
        ("loosens", step.loosens, trade.torque_classes, "joint"),
        ("tightens", step.tightens, trade.torque_classes, "joint"),
        ("removes", step.removes, trade.parts, "part"),
        ("fits", step.fits, trade.parts, "part"),
        ("uses", step.uses, trade.parts, "part"),
        ("measures", step.measures, trade.characteristics, "characteristic"),
    ):
        yield from _named(f"{where}: {name}", keys, allowed, what)
    yield from _condition(where, step.applies_if, trade)
    for earlier in step.must_follow + step.usually_follows:
        yield from _named(f"{where}: follows", [earlier.step], trade.operations, "step")
        yield from _condition(f"{where}: follows {earlier.step}", earlier.applies_if, trade)


def _part(part: Part, trade: Catalog) -> Iterator[str]:
    where = f"parts: {part.key}"
    yield from _named(f"{where}: group", [part.group], trade.kits.groups, "group")
    yield from _named(f"{where}: family", [part.family], trade.kits.families, "family")
    yield from _named(f"{where}: per", [part.per], trade.per, "place")
    yield from _named(f"{where}: kits", part.kits, trade.kits.kits, "kit")
    yield from _named(f"{where}: limits", part.limits, trade.characteristics, "characteristic")
    yield from _formula(f"{where}: quantity", part.quantity, trade.counts)
    yield from _condition(where, part.applies_if, trade)
    for rule in part.replace:
        yield from _named(f"{where}: replace", rule.parts, trade.parts, "part")
        yield from _named(
            f"{where}: replace", [rule.decision] if rule.decision else [], trade.decisions, "decision"
        )
    hours = part.replaced_when("hours")
    if hours and hours.life is None:
        yield f"{where}: life is missing, and the part is replaced by hours."
    if part.replaced_when("look") and not part.look_for:
        yield f"{where}: look_for is missing, and the part is replaced by what is seen."


def _tool(tool: Tool, trade: Catalog) -> Iterator[str]:
    where = f"tools: {tool.key}"
    scopes = {*trade.scopes, "on_bike"}
    yield from _named(f"{where}: scopes", tool.scopes, scopes, "scope")
    yield from _named(f"{where}: necessity_in", tool.necessity_in, scopes, "scope")
    if tool.alternative and tool.no_alternative_because:
        yield f"{where}: an alternative is given, and a reason why there is none."


def _joints(trade: Catalog) -> Iterator[str]:
    for joint in trade.torque_classes.values():
        where = f"joints: {joint.key}"
        yield from _named(f"{where}: wrench", [joint.wrench], trade.tools, "tool")
        yield from _formula(f"{where}: count", joint.count, trade.counts)
        yield from _condition(where, joint.applies_if, trade)


def _failures(trade: Catalog) -> Iterator[str]:
    for row in trade.failures.values():
        where = f"failures: {row.key}"
        yield from _named(where, row.parts, trade.parts, "part")
        yield from _named(where, row.check_characteristics, trade.characteristics, "characteristic")
        yield from _condition(where, row.applies_if, trade)


def _diagnosis(trade: Catalog) -> Iterator[str]:
    rows = trade.diagnosis
    for check_ in rows.prechecks.values():
        where = f"prechecks: {check_.key}"
        yield from _named(where, check_.characteristics, trade.characteristics, "characteristic")
        yield from _named(where, check_.cautions, trade.cautions, "caution")
        yield from _condition(where, check_.applies_if, trade)
        for found in check_.findings.values():
            yield from _named(f"{where}: then", found.then, rows.prechecks, "pre-check")
            yield from _named(f"{where}: reads", found.reads, check_.characteristics, "reading of this check")
    for path in rows.leak_paths.values():
        where = f"leak paths: {path.key}"
        yield from _named(where, path.outlets, rows.outlets, "outlet")
        yield from _named(where, path.parts, trade.parts, "part")
        yield from _named(f"{where}: suspects", path.suspects, trade.parts, "part")
        yield from _named(where, path.characteristics, trade.characteristics, "characteristic")
        yield from _named(where, path.cautions, trade.cautions, "caution")
        yield from _condition(where, path.applies_if, trade)
    for outlet in rows.outlets.values():
        heard = trade.characteristics["leakdown_path"].positions
        yield from _named(f"outlets: {outlet.key}", outlet.positions, heard, "position of leakdown_path")
        yield from _condition(f"outlets: {outlet.key}", outlet.applies_if, trade)
    for test in rows.path_tests.values():
        yield from _named(f"path tests: {test.key}", test.cautions, trade.cautions, "caution")
    for spot in rows.blind_spots.values():
        yield from _named(
            f"blind spots: {spot.key}", spot.characteristics, trade.characteristics, "characteristic"
        )
    for road in rows.roads.values():
        yield from _named(f"roads: {road.key}", road.when, trade.facts, "fact about the job")
        yield from _named(f"roads: {road.key}: closes_too", road.closes_too, trade.characteristics, "row")
        checks = (*road.order, *road.closes)
        yield from _named(f"roads: {road.key}: order", checks, rows.prechecks, "pre-check")
    yield from _named("holding", [rows.leak_down.holding.caution], trade.cautions, "caution")
