"""What was seen, heard or felt, and what it means for each part."""

from collections.abc import Iterator

from gudgeon.assess.reasons.say import Known, Say, Site, renewed_at
from gudgeon.assess.wording import proposals as words
from gudgeon.catalog import Failure, cylinder_of
from gudgeon.job import Finding

GRAVE = "do not run"
REPAIR = "repair before hard use"
MOST_NAMED = 3


def of_findings(known: Known, site: Site) -> Iterator[Say]:
    """A reason for each finding of this very part, and for each pattern that often takes it along."""
    renewed = renewed_at(known.bench, site)
    for finding in known.findings:
        if renewed is not None and finding.at < renewed:
            continue
        failure = known.bench.catalog.failures.get(finding.failure or "")
        if _of_this(known, finding, site):
            yield _named(known, site, finding, failure)
        elif failure is not None and site.part.key in failure.parts and _near(known, finding, failure, site):
            yield _taken_along(known, site, finding, failure)


def _of_this(known: Known, finding: Finding, site: Site) -> bool:
    """Whether a finding is of this very part: named by the part itself, or by what kind it is."""
    if finding.part is None:
        return False
    bearer = known.bench.parts.get(finding.part)
    if bearer is None:
        return finding.part == site.part.key
    return bearer.removed_hours is None and (bearer.part, bearer.instance) == (site.part.key, site.instance)


def _near(known: Known, finding: Finding, failure: Failure, site: Site) -> bool:
    """Whether the part seen and this one belong to one cylinder and one side of it, or to none."""
    if {"in": "valve_in", "ex": "valve_ex"}.get(_side(site), "") not in ("", *_valves(failure)):
        return False
    bearer = known.bench.parts.get(finding.part or "")
    if bearer is None:
        return True
    if bearer.removed_hours is not None:
        return False
    seen_at = cylinder_of(known.bench.catalog.parts[bearer.part], bearer.instance)
    here = cylinder_of(site.part, site.instance)
    return not seen_at or not here or seen_at == here


def _side(site: Site) -> str:
    return next((piece for piece in site.instance.split(".") if piece in ("in", "ex")), "")


def _valves(failure: Failure) -> tuple[str, ...]:
    """The valves a pattern speaks of; both where it speaks of none."""
    return tuple(key for key in ("valve_in", "valve_ex") if key in failure.parts) or ("valve_in", "valve_ex")


def _named(known: Known, site: Site, finding: Finding, failure: Failure | None) -> Say:
    said = words.seen(finding.text, failure)
    looked = bool(site.part.replaced_when("look"))
    if failure is None:
        return Say("decide" if looked else "watch", said)
    if failure.severity == GRAVE or (failure.severity == REPAIR and looked):
        return Say("replace", said)
    return Say("decide" if failure.severity == REPAIR and known.race else "watch", said)


def _taken_along(known: Known, site: Site, finding: Finding, failure: Failure) -> Say:
    said = words.taken_along(finding.text, failure)
    urgent = failure.severity == GRAVE or (failure.severity == REPAIR and known.race)
    if site.part.replaced_when("dust_found"):
        return Say("replace", said)
    if not urgent:
        return Say("watch", said, aside=True)
    if known.sound(site):
        return Say("watch", words.readings_in_order(said), aside=True)
    if not site.part.limits and failure.severity == GRAVE and site.part.cost == 1:
        return Say("replace", words.no_reading_clears(said))
    return Say("decide", words.measure_first(said, _to_measure(known, site)), aside=True)


def _to_measure(known: Known, site: Site) -> list[str]:
    """The names of what condemns this part and was not read yet."""
    rows = (known.bench.catalog.characteristics[key] for key in site.part.limits)
    unread = [row.name for row in rows if known.bench.applies(row) and not known.bearing(site, [row.key])]
    return unread[:MOST_NAMED]
