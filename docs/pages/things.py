"""The pages of parts and tools."""

from gudgeon.catalog import Catalog, Part, Tool
from gudgeon.catalog.rows import Replace
from pages.form import Lines, answered, capital, counted, each, facts, head, parts_named

WHEN = {
    "limit": "one of its characteristics is beyond its limit",
    "disturbed": "it was taken off or let go",
    "disturbed_and_run": "it was disturbed and has run",
    "with": "a part it belongs to is new",
    "sheet_says": "the manual says: once only",
    "look": "it looks so",
    "hours": "its hours are up",
    "choice": "its size is chosen",
    "decided": "it was decided",
    "used_up": "it is used up",
    "each_oil_change": "each oil change",
    "dust_found": "dust was found behind the filter",
}


NECESSITY = {
    "essential": "the job is not started without it",
    "advised": "possible without, slower or rougher",
    "convenience": "nice to have",
    "when_needed": "only when the case arises",
}


def parts_page(trade: Catalog) -> Lines:
    """Parts, services, what is used up."""
    yield from head(
        "Parts",
        "Quantities start from the counts of the engine; any one condition makes a part a need. "
        "Cost runs from 1 (cheap) to 5 (dearest).",
    )
    for group, words in trade.kits.groups.items():
        yield from (f"## {capital(words)}", "")
        for part in trade.parts.values():
            if part.group == group:
                yield from _part(part, trade)
    yield from ("## Kits", "")
    yield from (f"- `{key}`: {words}" for key, words in trade.kits.kits.items())


def _part(part: Part, trade: Catalog) -> Lines:
    yield from (
        f"### {part.name}",
        "",
        f"`{part.key}` · {each(part.per, trade)}" + answered(part.applies_if, trade),
        "",
    )
    yield from facts(
        ("Quantity", counted(part.quantity)),
        ("To a customer", trade.kits.families[part.family]),
        ("New when", "; ".join(_when(rule, trade) for rule in part.replace)),
        ("Its limits", ", ".join(trade.characteristics[key].name for key in part.limits)),
        ("Look for", part.look_for),
        ("Sizes", part.size_graded),
        ("Lead time and cost", f"{part.lead_time}, {part.cost}"),
        ("Often in", ", ".join(f"`{key}`" for key in part.kits)),
        ("Note", part.note),
        ("Basis", "; ".join(part.basis)),
    )


def _when(rule: Replace, trade: Catalog) -> str:
    extra = [
        parts_named(rule.parts, trade),
        f"more than {rule.hours_min:g} h" if rule.hours_min else "",
        rule.use,
        rule.of.replace("_", " "),
        trade.decisions[rule.decision].words if rule.decision else "",
        rule.why,
    ]
    said = ", ".join(word for word in extra if word)
    return WHEN[rule.when] + (f" ({said})" if said else "")


def tools_page(trade: Catalog) -> Lines:
    """Tools by kind."""
    yield from head(
        "Tools",
        "An alternative is listed only where it cannot hurt anybody or the engine; "
        "its risk is loss of quality only.",
    )
    titles = {
        "measuring": "Instruments",
        "tool": "Tools",
        "fixture": "Fixtures",
        "sense": "Senses",
        "consumable_tool": "Used up",
        "safety": "Safety",
    }
    for kind, title in titles.items():
        yield from (f"## {title}", "")
        for tool in trade.tools.values():
            if tool.kind == kind:
                yield from _tool(tool, trade)


def _tool(tool: Tool, trade: Catalog) -> Lines:
    scopes = {"on_bike": "before anything is opened"} | {key: row.name for key, row in trade.scopes.items()}
    yield from (f"### {tool.name}", "", f"`{tool.key}`", "")
    yield from facts(
        ("For", tool.used_for),
        ("Scopes", ", ".join(scopes[key] for key in tool.scopes)),
        (
            "Needed",
            "; ".join(
                [
                    NECESSITY[tool.necessity],
                    *(f"{scopes[key]}: {NECESSITY[word]}" for key, word in tool.necessity_in.items()),
                ]
            ),
        ),
        ("Instead", tool.alternative + (f" ({tool.alternative_risk})" if tool.alternative_risk else "")),
        ("Nothing instead", tool.no_alternative_because),
        ("Reads to", tool.resolution),
        ("Expanded uncertainty, k = 2", tool.uncertainty),
        ("Buy or borrow", tool.buy_or_borrow),
        ("Note", tool.note),
        ("Basis", "; ".join(tool.basis)),
    )
