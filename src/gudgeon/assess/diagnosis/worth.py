"""Is it worth it? Hours and parts of a scope as ranges, and whether now or later, one opening or two."""

import statistics
from collections.abc import Callable, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, field

from gudgeon.assess.bench import Bench
from gudgeon.assess.diagnosis.hours import engine_hours
from gudgeon.assess.diagnosis.results import CauseStanding, Family, Takes
from gudgeon.assess.diagnosis.scene import Scene
from gudgeon.assess.reasons.run import of_disturbing
from gudgeon.assess.reasons.say import Known, Site
from gudgeon.assess.wording import worth as words
from gudgeon.assess.wording.letters import capital
from gudgeon.catalog import Operation, applies, count, instances
from gudgeon.catalog.layout import Condition
from gudgeon.catalog.scopes import scopes_with_brought
from gudgeon.job import Job
from gudgeon.job.asked import SCOPE_LEFT

WATCH = "watch"
TOP = frozenset({"top_end", "head", "cam_drive"})
DEEP = frozenset({"bottom_end", "gearbox"})
JOBS_FOR_A_FIGURE = 3
JOBS_FOR_TENTHS = 8  # from so many on a single odd job at either end is left out

Keys = Sequence[str]
Names = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ShopFigures:
    """What the shop's own work says of a scope."""

    reckoned: dict[str, tuple[float, float]] = field(default_factory=dict)  # scope -> hours, from and to
    hours: tuple[float, ...] = ()  # at the bench, of finished jobs of exactly this scope
    replaced: tuple[frozenset[str], ...] = ()  # of each such job with decisions, the parts it replaced


AskShop = Callable[[tuple[str, ...]], ShopFigures]


def in_hand(job: Job, proposed: tuple[str, ...]) -> tuple[str, ...]:
    """What is to be opened: as the builder chose, else as proposed."""
    if left := job.facts.get(SCOPE_LEFT, ""):
        return (WATCH,) if left == WATCH else ()
    return job.scope or proposed


def openings(scene: Scene, scopes: Keys) -> tuple[str, ...]:
    """Now or in so many hours, one opening or two."""
    use = scene.bench.job.engine.use
    plan = scene.bench.catalog.reasoning.notes.uses[use]
    hours = engine_hours(scene.bench.job)
    lines = [words.usual_hours(use, plan.top_end, plan.crank, hours)]
    if TOP & set(scopes) and not DEEP & set(scopes):
        lines.append(words.one_or_two_openings(plan.crank, hours))
    if DEEP & set(scopes) and not TOP & set(scopes):
        lines.append(words.top_while_open(plan.top_end, hours))
    if tuple(scopes) == (WATCH,):
        lines.append(words.WATCH_BY_HOURS)
    return tuple(lines)


def takes(
    scene: Scene, scopes: tuple[str, ...], causes: Sequence[CauseStanding], ask: AskShop | None
) -> Takes:
    """Hours and parts of what is opened; nothing where nothing is."""
    bench = scene.bench
    known = tuple(scope for scope in scopes if scope in bench.catalog.scopes)
    if not known:
        return Takes()
    shop = ask(known) if ask else ShopFigures()
    names = {scope: bench.catalog.scopes[scope].name for scope in known}
    hours = _hours(names, shop)
    missing = "" if hours else words.to_give(names.values(), len(shop.hours), JOBS_FOR_A_FIGURE)
    jobs = len(shop.replaced) if len(shop.replaced) >= JOBS_FOR_A_FIGURE else 0
    return Takes(
        opened=words.opened(names.values()),
        hours=hours or (words.no_hours(names.values()),),
        missing=missing,
        families=_families(bench, known, causes, shop),
        note=words.range_of(jobs),
        jobs=jobs,
    )


def _hours(names: dict[str, str], shop: ShopFigures) -> tuple[str, ...]:
    """What past jobs took, and beside it what the shop reckons."""
    taken = usual(shop.hours)
    lines = [] if taken is None else [words.taken(names.values(), len(shop.hours), *taken)]
    reckoned = {scope: shop.reckoned[scope] for scope in names if scope in shop.reckoned}
    lines += [words.reckoned(names[scope], *ends, alone=len(names) > 1) for scope, ends in reckoned.items()]
    if reckoned and taken is None and len(names) > 1:
        lines.append(words.together([names[scope] for scope in names if scope not in reckoned]))
    return tuple(lines)


def usual(hours: Sequence[float]) -> tuple[float, float, bool] | None:
    """From and to, and whether they are the middle eight tenths; none from too few jobs."""
    if len(hours) < JOBS_FOR_A_FIGURE:
        return None
    if len(hours) < JOBS_FOR_TENTHS:
        return min(hours), max(hours), False
    tenths = statistics.quantiles(hours, n=10, method="inclusive")
    return tenths[0], tenths[-1], True


def _families(
    bench: Bench, scopes: Keys, causes: Sequence[CauseStanding], shop: ShopFigures
) -> tuple[Family, ...]:
    """Sort by sort of part: what is new in any case, what may be besides, what it came to here before."""
    surely, perhaps = parts_range(bench, scopes, causes)
    enough = len(shop.replaced) >= JOBS_FOR_A_FIGURE
    found = []
    for key, name in bench.catalog.kits.families.items():
        mine = {part for part, row in bench.catalog.parts.items() if row.family == key}
        times = sum(bool(replaced & mine - surely) for replaced in shop.replaced) if enough else 0
        if mine & (surely | perhaps) or times:
            before = words.before(times, len(shop.replaced)) if times else ""
            found.append(_family(name, _named(bench, mine & surely), _named(bench, mine & perhaps), before))
    return tuple(sorted(found, key=lambda one: 0 if one.surely else 1 if one.perhaps else 2))


def _family(name: str, surely: Names, perhaps: Names, before: str) -> Family:
    how = words.how_sure(bool(surely), bool(perhaps))
    new = words.new(surely, perhaps)
    return Family(capital(name), how, surely, perhaps, before, new, words.family(new, bool(surely), before))


def _named(bench: Bench, keys: Set[str]) -> Names:
    parts = bench.catalog.parts.items()
    return tuple(words.part(row.name, row.note) for key, row in parts if key in keys)


def parts_range(
    bench: Bench, scopes: Keys, causes: Sequence[CauseStanding]
) -> tuple[frozenset[str], frozenset[str]]:
    """Parts that are new in any case once this is opened, and parts that may be."""
    opened = scopes_with_brought(scopes, bench.job.sheet.layout)
    always, manual = _always_new(bench, opened)
    proved, thought = _of_causes(opened, causes)
    surely = {*always, *proved}
    perhaps = {*manual, *thought, *_may_be_found(bench, scopes, opened)}
    fitted = {
        part for part, row in bench.catalog.parts.items() if _is_here(bench, row.applies_if, row.quantity)
    }
    return frozenset(surely & fitted), frozenset(perhaps & fitted - surely)


def _is_here(bench: Bench, condition: Condition, quantity: str) -> bool:
    layout = bench.job.sheet.layout
    return applies(condition, layout) and count(layout, quantity) > 0


def _always_new(bench: Bench, opened: Set[str]) -> tuple[set[str], set[str]]:
    """Of the parts that come off: those always new then, and those that only may be."""
    certain, optional = let_go(bench, opened)
    known = Known(bench, (), (), frozenset(certain | optional))
    always, perhaps = set(), set()
    for key in known.let_go:
        part = bench.catalog.parts[key]
        sites = (Site(part, instance) for instance in instances(bench.job.sheet.layout, part.per))
        asked = {say.choice for site in sites for say in of_disturbing(known, site)}
        if "always_new" in asked and key in certain:
            always.add(key)
        elif asked:
            perhaps.add(key)
    return always, perhaps


def let_go(bench: Bench, opened: Set[str]) -> tuple[set[str], set[str]]:
    """Parts that the steps of the work take off or fit anew: in any case, and only where a step is made."""
    steps = {step.key: step for step in _steps(bench, opened)}
    made = _made(steps)
    removed = {part for step in steps.values() for part in step.removes}
    certain = {part for key in made for part in (*steps[key].removes, *steps[key].fits_new)}
    certain |= {part for key in made for part, when in steps[key].uses.items() if when == "always"}
    return certain, removed - certain


def _made(steps: Mapping[str, Operation]) -> set[str]:
    """The steps that are made in any case: those not optional, and whatever has to be done before them."""
    made: set[str] = set()
    waiting = [key for key, step in steps.items() if not step.optional]
    while waiting:
        key = waiting.pop()
        if key in steps and key not in made:
            made.add(key)
            waiting += [earlier.step for earlier in steps[key].must_follow]
    return made


def _steps(bench: Bench, opened: Set[str]) -> Iterator[Operation]:
    facts = bench.job.facts
    for step in bench.catalog.operations.values():
        asked = step.decided or any(facts.get(fact) != answer for fact, answer in step.job_if.items())
        if opened & set(step.scopes) and applies(step.applies_if, bench.job.sheet.layout) and not asked:
            yield step


def _of_causes(opened: Set[str], causes: Sequence[CauseStanding]) -> tuple[set[str], set[str]]:
    """A proved cause takes the part it names first; its others, and those of what is only thought, may go."""
    proved, thought = set(), set()
    for one in causes:
        if one.standing not in ("likely", "possible") or not one.scope or not opened >= set(one.scope):
            continue
        proved |= set(one.parts[:1] if one.proved else ())
        thought |= set(one.parts)
    return proved, thought


def _may_be_found(bench: Bench, scopes: Keys, opened: Set[str]) -> set[str]:
    notes = bench.catalog.reasoning.notes.scopes
    lines = [line for scope in scopes if scope in notes for line in notes[scope].may_be_found]
    return {part for line in lines if line.scope not in opened for part in line.parts}
