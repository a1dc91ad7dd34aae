"""The page of causes: what speaks for and against each, in words."""

from collections.abc import Callable, Mapping

from gudgeon.catalog import Catalog
from gudgeon.catalog.reasoning import Cause, Clue, Rule
from pages.form import Lines, answered, capital, cell, facts, head

GRADES = ("proves", "strongly_suggests", "suggests", "speaks_against", "rules_out")
AT = {
    "low": "below its limit",
    "high": "above its limit",
    "in_order": "in order",
    "last_tenth": "in the last tenth of what its limit allows",
    "none_enters": "no blade enters",
    "finding": "not in order",
}
TEST = {
    "reversed": "the cylinder gauge reads above the supply",
    "unlike": "two testers read far apart on one cylinder",
    "rose": "4 points or more above its own record",
}
GAUGE = {
    "low": "compression reads less than two thirds of what a gauge shows on a sound cylinder in any case",
    "full": "compression reads as a sound cylinder with its valves free",
}


def causes_page(trade: Catalog) -> Lines:
    """Causes with their rules, and the order in which they are put together."""
    yield from head(
        "Causes, and what speaks for and against them",
        "There is no weight anywhere: every conclusion names the lines of this table that it rests on.",
    )
    yield from _combining(trade)
    for cause in trade.reasoning.causes.values():
        yield from _cause(cause, trade)


def _combining(trade: Catalog) -> Lines:
    order = trade.reasoning.combining
    yield from ("## How they are put together", "")
    yield from (f"- {capital(key.replace('_', ' '))}: {words}." for key, words in order.standing.items())
    yield from facts(
        ("The first", order.first["words"]),
        ("What is opened", order.scope["words"]),
        ("The check worth most", order.next_check["words"]),
    )


def _cause(cause: Cause, trade: Catalog) -> Lines:
    yield from (f"## {capital(cause.words)}", "", f"`{cause.key}`" + answered(cause.applies_if, trade), "")
    yield from facts(
        ("Opens", ", ".join(trade.reasoning.notes.scopes[one].words for one in cause.scope) or "nothing"),
        ("Settled by", "; ".join(_name(one, trade) for one in cause.checks)),
        ("Once open", "; ".join(_name(one, trade) for one in cause.after_opening)),
        ("Not seen from outside", cause.unseen),
    )
    rules = trade.reasoning.rules_on(cause.key)
    if not rules:
        return
    yield from ("| when | that | says | basis |", "|---|---|---|---|")
    for rule in sorted(rules, key=lambda one: GRADES.index(one.then[cause.key])):
        grade = trade.reasoning.combining.order[rule.then[cause.key]]
        says, basis = rule.says, "; ".join(rule.basis)
        yield f"| {cell(_when(rule, trade))} | {grade} | {cell(says)} | {cell(basis)} |"
    yield ""


def _when(rule: Rule, trade: Catalog) -> str:
    met = "; and ".join(_clue(clue, trade) for clue in rule.when)
    unless = "; or ".join(_clue(clue, trade) for clue in rule.unless)
    return f"{met} — unless {unless}" if unless else met


def _clue(clue: Clue, trade: Catalog) -> str:
    return WORDS[clue.kinds[0]](clue, trade)


def _read(clue: Clue, trade: Catalog) -> str:
    name = trade.characteristics[clue.reads].name
    wanted = [*clue.word, *(AT[one] for one in clue.at)]
    wanted += [f"over {clue.above}"] if clue.above else []
    wanted += [f"at most {clue.below}"] if clue.below else []
    return f"{name}: {' or '.join(wanted)}"


def _found(clue: Clue, trade: Catalog) -> str:
    check, _, finding = clue.found.partition(".")
    row = trade.diagnosis.prechecks[check]
    return f"{row.name.rstrip('?')}: {row.findings[finding].finding}"


def _outlets(keys: tuple[str, ...], trade: Catalog) -> str:
    return " and ".join(trade.diagnosis.outlets[key].name.lower() for key in keys)


def _name(check: str, trade: Catalog) -> str:
    row = trade.diagnosis.prechecks.get(check) or trade.characteristics[check]
    return row.name


WORDS: Mapping[str, Callable[[Clue, Catalog], str]] = {
    "symptom": lambda clue, trade: f"told: {trade.reasoning.symptoms[clue.symptom].words}",
    "fact": lambda clue, trade: f"{trade.facts[clue.fact].ask} {clue.is_}",
    "reads": _read,
    "found": _found,
    "air_at": lambda clue, trade: f"air at the {_outlets((clue.air_at,), trade)}: {' or '.join(clue.heard)}",
    "air_alike": lambda clue, trade: f"air at the {_outlets(clue.air_alike, trade)} alike",
    "air_gone": lambda clue, trade: (
        f"air at the {_outlets((clue.air_gone,), trade)} gone since an earlier test"
    ),
    "loss": lambda clue, _: f"leak-down in the band: {' or '.join(clue.loss)}",
    "silent": lambda *_: "much lost, and nothing heard anywhere",
    "test": lambda clue, _: TEST[clue.test or "rose"],
    "gauge": lambda clue, _: GAUGE[clue.gauge or "low"],
}
