"""Over several hundred layouts, each scope, each set of job facts: nothing left bagged, loose or unfitted.

The rules are those of the bench, common practice, no source: what is loosened is tightened, what is taken off
is fitted, what is bagged is emptied, and no step has to come before itself.
"""

import random
from collections.abc import Callable, Iterator

import pytest
from plans import FACTS, Plan, layouts

from gudgeon.catalog import Layout, applies, catalog

LAYOUTS = layouts(300)
SCOPES = tuple(key for key, scope in catalog().scopes.items() if scope.chosen)
DECISIONS = tuple(catalog().decisions)


def _plans() -> Iterator[Plan]:
    """Every layout with every scope; facts and decisions go round, so that each meets each many times."""
    generator = random.Random(7)
    for number, layout in enumerate(LAYOUTS):
        for at, scope in enumerate((*SCOPES, "all of them")):
            chosen = SCOPES if scope == "all of them" else (scope,)
            facts = FACTS[(number + at) % len(FACTS)]
            decided = frozenset(key for key in DECISIONS if generator.random() < 0.4)
            yield Plan(layout, chosen, facts, decided)


PLANS = tuple(_plans())


def _report(fault: Callable[[Plan], Iterator[str]]) -> None:
    found: dict[str, Plan] = {}
    for plan in PLANS:
        for sentence in fault(plan):
            found.setdefault(sentence, plan)
    assert not found, "\n".join(f"{sentence} (first in: {plan})" for sentence, plan in found.items())


def test_the_sample_is_wide() -> None:
    """Several hundred layouts, each chosen scope, each set of facts, each answer of each question."""
    assert len(LAYOUTS) >= 300
    assert {plan.chosen for plan in PLANS} >= {(scope,) for scope in SCOPES}
    for field in catalog().layout_fields.values():
        assert {layout.fields[field.key] for layout in LAYOUTS} == set(field.values)


def test_no_step_comes_before_itself() -> None:
    """No circle among the edges that must hold with the usual ones added, and so none without them."""

    def circle(plan: Plan) -> Iterator[str]:
        for key in plan.steps.keys() - set(plan.order("both")):
            yield f"{key} can never come"

    _report(circle)


def test_bags_are_emptied() -> None:
    """What is bagged in the strip comes out of its bag again, later."""

    def left(plan: Plan) -> Iterator[str]:
        full: dict[str, str] = {}
        for key in plan.order("both"):
            step = plan.steps[key]
            yield from (
                f"{key} empties {bag}, which nothing has filled" for bag in step.empties if bag not in full
            )
            full = {bag: by for bag, by in full.items() if bag not in step.empties} | dict.fromkeys(
                step.fills, key
            )
        yield from (f"bag {bag}, filled at {by}, is never emptied" for bag, by in full.items())

    _report(left)


def test_joints_are_tightened() -> None:
    """What is loosened is tightened again, later."""
    trade = catalog()

    def loose(plan: Plan) -> Iterator[str]:
        slack: dict[str, str] = {}
        for key in plan.order("both"):
            step = plan.steps[key]
            real = [
                name for name in step.loosens if applies(trade.torque_classes[name].applies_if, plan.layout)
            ]
            slack = slack | dict.fromkeys(real, key)
            slack = {joint: by for joint, by in slack.items() if joint not in step.tightens}
        yield from (f"joint {joint}, loosened at {by}, is never tightened" for joint, by in slack.items())

    _report(loose)


def test_parts_are_fitted() -> None:
    """What is taken off goes back on, new or not, later."""
    trade = catalog()

    def missing(plan: Plan) -> Iterator[str]:
        off: dict[str, str] = {}
        for key in plan.order("both"):
            step = plan.steps[key]
            real = [name for name in step.removes if applies(trade.parts[name].applies_if, plan.layout)]
            off = off | dict.fromkeys(real, key)
            off = {part: by for part, by in off.items() if part not in step.fits}
        yield from (f"part {part}, removed at {by}, is never fitted" for part, by in off.items())

    _report(missing)


def test_a_tightened_joint_has_its_wrench() -> None:
    """A step that tightens a joint has that joint's torque wrench on its list of tools."""

    def bare(plan: Plan) -> Iterator[str]:
        for key, step in plan.steps.items():
            for name in step.tightens:
                joint = catalog().torque_classes[name]
                if applies(joint.applies_if, plan.layout) and joint.wrench not in step.tools:
                    yield f"{key} tightens {name} without {joint.wrench}"

    _report(bare)


def test_a_reading_has_an_instrument() -> None:
    """A step that takes a reading has one of the row's instruments on its list of tools."""

    def blind(plan: Plan) -> Iterator[str]:
        for key, step in plan.steps.items():
            for name in step.measures:
                row = catalog().characteristics[name]
                if applies(row.applies_if, plan.layout) and not set(row.instruments) & {*step.tools, *SENSES}:
                    yield f"{key} measures {name} without any of {', '.join(row.instruments)}"

    _report(blind)


SENSES = frozenset(key for key, tool in catalog().tools.items() if tool.kind == "sense")


@pytest.mark.parametrize("layout", LAYOUTS[::10], ids=lambda layout: "-".join(layout.fields.values()))
def test_every_reading_can_be_reached(layout: Layout) -> None:
    """With every scope opened, and some engine that runs or only turns, each row that applies is measured."""
    trade = catalog()
    reached = {
        name
        for facts in FACTS
        for step in Plan(layout, SCOPES, facts, frozenset(DECISIONS)).steps.values()
        for name in step.measures
    }
    wanted = {key for key, row in trade.characteristics.items() if applies(row.applies_if, layout)}
    assert wanted <= reached
