"""The page of the job, step by step."""

from collections.abc import Iterable

from gudgeon.catalog import Catalog, Operation
from gudgeon.catalog.rows import Follows
from pages.form import Lines, answered, capital, condition_words, counted, facts, head, parts_named


def operations_page(trade: Catalog) -> Lines:
    """The steps of the job."""
    yield from head(
        "The job, step by step",
        "“Must” is physics, reach or safety; “usually” is overridden in one tap. "
        "Torques come from the engine's manual only.",
    )
    yield from ("Building is not the reverse of the strip:", "")
    yield from (f"- {line}" for line in trade.order.assembly_not_the_reverse_of_strip)
    yield ""
    for phase, words in trade.order.phases.items():
        yield from (f"## {capital(words)}", "")
        for step in trade.operations.values():
            if step.phase == phase:
                yield from _operation(step, trade)
    yield from (
        "## Cautions",
        "",
        "They do not replace the service manual, product data sheets, local rules or a qualified person.",
        "",
    )
    yield from (
        f"- **{row.name}** (`{row.key}`): {row.words} ({'; '.join(row.basis)})"
        for row in trade.cautions.values()
    )
    yield from (
        "",
        "## Joints",
        "",
        "| joint | thread | how many | loosen | tighten | on the thread | basis |",
        "|---|---|---|---|---|---|---|",
    )
    for joint in trade.torque_classes.values():
        cells = (
            f"{joint.joint} (`{joint.key}`)",
            joint.thread,
            counted(joint.count),
            joint.loosen,
            joint.tighten,
            joint.on_thread,
            "; ".join(joint.basis),
        )
        yield f"| {' | '.join(cells)} |"
    yield from ("", "## Bags", "")
    yield from (f"- `{bag.key}`: {bag.words}" for bag in trade.bags.values())


def _operation(step: Operation, trade: Catalog) -> Lines:
    yield from (
        f"### {step.what}",
        "",
        f"`{step.key}` · {step.group}" + answered(step.applies_if, trade),
        "",
    )
    yield from facts(
        ("Scopes", ", ".join(trade.scopes[key].name for key in step.scopes)),
        (
            "Only when",
            ", ".join(
                [
                    *(f"{trade.facts[k].ask} {v}" for k, v in step.job_if.items()),
                    *([trade.decisions[step.decided].words] if step.decided else []),
                ]
            ),
        ),
        ("Must come after", "; ".join(_follows(step.must_follow, trade))),
        ("Usually after", "; ".join(_follows(step.usually_follows, trade))),
        ("Tools", ", ".join(trade.tools[key].name for key in step.tools)),
        ("Cautions", ", ".join(trade.cautions[key].name for key in step.cautions)),
        ("Signed singly", step.sign_off if step.critical else ""),
        ("Loosens", ", ".join(trade.torque_classes[key].joint for key in step.loosens)),
        ("Tightens", ", ".join(trade.torque_classes[key].joint for key in step.tightens)),
        ("Bags filled", ", ".join(trade.bags[key].words for key in step.fills)),
        ("Bags emptied", ", ".join(trade.bags[key].words for key in step.empties)),
        ("Off", parts_named(step.removes, trade)),
        ("On, new", parts_named(step.fits_new, trade)),
        ("On again", parts_named(step.refits, trade)),
        ("On, new or again", parts_named(step.fits_either, trade)),
        ("Used up", parts_named(step.uses, trade)),
        ("Measures", ", ".join(trade.characteristics[key].name for key in step.measures)),
        ("Photograph", step.shot),
        ("May be left out", step.optional),
        ("Differs", step.differs),
        ("Note", step.notes),
        ("Basis", "; ".join(step.basis)),
    )


def _follows(edges: Iterable[Follows], trade: Catalog) -> Lines:
    for edge in edges:
        extra = ", ".join(condition_words(edge.applies_if, trade))
        yield f"`{edge.step}` ({edge.why}{'; ' + extra if extra else ''})"
