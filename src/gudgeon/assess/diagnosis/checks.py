"""The checks before air in the trade's order, on the road this engine takes, and what closes which."""

from collections.abc import Iterator, Mapping

from gudgeon.assess.bench import Bench
from gudgeon.assess.diagnosis.results import BlindSpotEntry, CheckEntry, CheckState
from gudgeon.assess.diagnosis.scene import FINE, GAUGE, LEAK_DOWN, Scene
from gudgeon.assess.wording import diagnosis as words
from gudgeon.catalog import applies
from gudgeon.catalog.diagnosis import PreCheck, Road
from gudgeon.job import Job
from gudgeon.job.asked import asked

RUNNING = frozenset(
    {"plug", "spark", "battery", "coils", "fuel", "air_path"}
)  # asked for by how it runs or starts
RUN_GROUPS = frozenset({"starting", "running"})
CRANKED = ("compression", "battery")


def facts_now(job: Job) -> dict[str, str]:
    """Runs, turns, debris: as answered, else as the way it came in says."""
    facts = dict(asked(job.facts).plain)
    if job.arrival == "will_not_turn":
        facts.setdefault("turns", "no")
    if facts.get("turns") == "no":
        facts.setdefault("runs", "no")
    if facts.get("runs") == "yes":
        facts.setdefault("turns", "yes")
    return facts


def road_of(scene: Scene) -> Road | None:
    """The road this engine takes; none while it is not known whether it runs or turns."""
    facts = facts_now(scene.bench.job)
    if scene.said("turn_by_hand") in ("locked", "hard stop"):
        facts["turns"], facts["runs"] = "no", "no"
    return scene.bench.catalog.diagnosis.road(facts)


def not_possible(scene: Scene, road: Road | None) -> dict[str, str]:
    """Checks that cannot be made on this engine as it stands, and why."""
    closed: dict[str, str] = {}
    if scene.bench.job.arrival == "in_pieces":
        closed |= dict.fromkeys(scene.bench.catalog.diagnosis.prechecks, words.IN_PIECES)
    if road is not None and road.closes:
        closed |= dict.fromkeys(road.closes, words.LOCKED)
    elif scene.said("water_or_fuel_in_cylinder") in ("water", "petrol"):
        closed |= dict.fromkeys(("leak_down", "compression"), words.LIQUID)
    elif _metal(scene):
        closed |= dict.fromkeys(CRANKED, words.METAL)
    return closed | {check: words.because(why) for check, why in scene.bench.job.not_possible.items()}


def closed_readings(scene: Scene, road: Road | None, closed: Mapping[str, str]) -> frozenset[str]:
    """The closed checks with every reading that no other check takes."""
    checks = scene.bench.catalog.diagnosis.prechecks
    shut = {key for check in closed if check in checks for key in checks[check].characteristics}
    left = {key for check in checks if check not in closed for key in checks[check].characteristics}
    return frozenset({*closed, *(shut - left), *(road.closes_too if road else ())})


def _metal(scene: Scene) -> bool:
    grade = scene.said("oil_debris_grade")
    return grade[:1] in ("3", "4") or (not grade and scene.asked.plain.get("debris") == "yes")


def in_order(scene: Scene, road: Road | None) -> tuple[str, ...]:
    """The checks in the order to make them now: what was found puts its own next ones first."""
    known = scene.bench.catalog.diagnosis.prechecks
    usual = [*(road.order if road else known), *known]
    asking = (*_not_in_order(scene), _after_gauge(scene), *_told(scene))
    asked_for = [check for found in asking for check in found]
    first = [check for check in asked_for if not scene.known(check)]
    made = [check for check in usual if scene.known(check)]
    wanted = [check for check in dict.fromkeys([*made, *first, *usual]) if _fits(known[check], scene.bench)]
    return tuple(sorted(wanted, key=lambda check: _not_asked(scene, check)))


def _not_in_order(scene: Scene) -> Iterator[tuple[str, ...]]:
    rows = scene.bench.catalog.diagnosis.prechecks
    return (rows[check].findings[finding].then for check, finding in scene.ticked)


def _told(scene: Scene) -> Iterator[tuple[str, ...]]:
    """What the owner tells of in the very words of a finding, once it is known that it turns."""
    if facts_now(scene.bench.job).get("turns") != "yes":
        return
    told = set(scene.asked.symptoms)
    for check, row in scene.bench.catalog.diagnosis.prechecks.items():
        if not scene.known(check):
            yield from (found.then for found in row.findings.values() if told & set(found.told))


def _after_gauge(scene: Scene) -> tuple[str, ...]:
    """A compression reading supports a leak-down and replaces none."""
    return (LEAK_DOWN,) if scene.by_row.get(GAUGE) else ()


def _fits(check: PreCheck, bench: Bench) -> bool:
    return applies(check.applies_if, bench.job.sheet.layout)


def _not_asked(scene: Scene, check: str) -> bool:
    """An engine that runs as it should is not asked about spark and fuel."""
    if check not in RUNNING or scene.known(check) or facts_now(scene.bench.job).get("runs") != "yes":
        return False
    symptoms = scene.bench.catalog.reasoning.symptoms
    groups = {symptoms[key].group for key in scene.asked.symptoms if key in symptoms}
    return not groups & RUN_GROUPS


def entries(scene: Scene, road: Road | None, closed: Mapping[str, str]) -> tuple[CheckEntry, ...]:
    """The guided list, each check with how it stands."""
    found: list[CheckEntry] = []
    for check in in_order(scene, road):
        state = _state(scene, check, closed)
        if state == "open" and not any(one.state == "next" for one in found):
            state = "next"
        found.append(_entry(scene, check, state, closed))
    return tuple(found)


def _state(scene: Scene, check: str, closed: Mapping[str, str]) -> CheckState:
    if scene.known(check):
        return "done"
    if check in closed:
        return "not_possible"
    if check in scene.asked.skipped:
        return "skipped"
    return "not_asked" if _not_asked(scene, check) else "open"


def _entry(scene: Scene, check: str, state: CheckState, closed: Mapping[str, str]) -> CheckEntry:
    row = scene.bench.catalog.diagnosis.prechecks[check]
    says = {
        "done": _says(scene, row),
        "not_possible": closed.get(check, ""),
        "skipped": words.skipped(scene.asked.skipped.get(check, "")),
        "not_asked": words.NOT_ASKED,
    }.get(state, "")
    layout = scene.bench.job.sheet.layout
    rows = scene.bench.catalog.characteristics
    return CheckEntry(
        check=check,
        name=row.name,
        state=state,
        how=row.how,
        instruments=row.instruments,
        says=says,
        next=_next(scene, row),
        characteristics=tuple(key for key in row.characteristics if applies(rows[key].applies_if, layout)),
        cautions=tuple(scene.bench.catalog.cautions[key].words for key in row.cautions),
    )


def _says(scene: Scene, row: PreCheck) -> str:
    told = [
        words.finding(row.findings[key].finding, row.findings[key].meaning)
        for key in scene.asked.found.get(row.key, ())
        if key in row.findings
    ]
    read = [verdict.sentence for key in row.characteristics for verdict in scene.by_row.get(key, ())]
    return " ".join([*told, *read])


def _next(scene: Scene, row: PreCheck) -> str:
    found = [row.findings[key] for key in scene.asked.found.get(row.key, ()) if key in row.findings]
    return found[0].next if found else ""


def blind_spots(scene: Scene) -> tuple[BlindSpotEntry, ...]:
    """What air cannot see on this engine: what was read of it, or the check that would cover it."""
    rows, layout = scene.bench.catalog.characteristics, scene.bench.job.sheet.layout
    found = []
    for spot in scene.bench.catalog.diagnosis.blind_spots.values():
        here = tuple(key for key in spot.characteristics if applies(rows[key].applies_if, layout))
        if not here:
            continue
        read = [verdict for key in here for verdict in scene.by_row.get(key, ())]
        fine = all(verdict.status in FINE for verdict in read)
        sentence = words.spot(spot.not_seen, spot.covering_check, [v.sentence for v in read], fine)
        found.append(BlindSpotEntry(spot.key, spot.not_seen, spot.covering_check, bool(read), sentence, here))
    return tuple(found)
