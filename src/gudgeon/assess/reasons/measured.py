"""What the readings of a part ask for."""

from collections.abc import Iterator, Mapping, Sequence

from gudgeon.assess.judging import reads_inside
from gudgeon.assess.reasons.say import FINE, Known, Say, Site
from gudgeon.assess.results import Bounds, Proposed, Verdict
from gudgeon.assess.wording import proposals as words

# How much of the wear a part may have before it is said: our own reading. A race engine is built to the
# middle of its bands or better (common practice, no source).
MUCH_WORN = 0.75
MUCH_WORN_RACE = 0.5
CONDEMNED = frozenset({"beyond", "finding"})
_CHOICES: Mapping[str, Proposed] = {
    "close": "measure_again",
    "slip": "measure_again",
    "no_limit": "decide",
    "near_edge": "reuse",
    "within": "reuse",
    "in_band": "reuse",
    "in_order": "reuse",
}


def of_readings(known: Known, site: Site) -> Iterator[Say]:
    """One reason for each reading that speaks of this part."""
    for verdict in known.bearing(site, site.part.limits):
        found = _condemned(known, site, verdict) if verdict.status in CONDEMNED else None
        if found is None and verdict.status == "outside":
            found = _outside(known, site, verdict)
        if found is None and verdict.status in _CHOICES:
            found = _passed(known, verdict)
        if found is not None:
            yield found


def _condemned(known: Known, site: Site, verdict: Verdict) -> Say:
    row = known.bench.row(verdict.place)
    if site.service:
        return Say("rework", verdict.sentence, verdict.place)
    if row.purpose == "diagnosis" and not site.part.replaced_when("dust_found"):
        return Say("decide", words.find_the_cause(verdict.sentence), verdict.place)
    if verdict.shown and any(verdict.shown.startswith(word) for word in row.doubtful):
        return Say("decide", words.told(verdict.sentence, verdict.settle), verdict.place)
    return _the_mates_fault(known, site, verdict) or Say("replace", verdict.sentence, verdict.place)


def _the_mates_fault(known: Known, site: Site, verdict: Verdict) -> Say | None:
    """A clearance of two parts condemns the one that is worn, where both have readings of their own."""
    row = known.bench.row(verdict.place)
    own = [key for key in row.inputs if key in site.part.limits]
    others = [key for key in row.inputs if key not in site.part.limits]
    mates = [part for part in known.bench.catalog.parts.values() if row.key in part.limits]
    if not own or not others or len(mates) < 2 or not _fine(known.bearing(site, own)):
        return None
    beside = [v for key in others for v in known.by_row.get(key, ()) if known.bears(site, v.place)]
    if _fine(beside):
        return Say("decide", words.both_fine(verdict.sentence), verdict.place)
    return Say("reuse", words.the_other_is_worn(verdict.sentence), verdict.place)


def _fine(verdicts: Sequence[Verdict]) -> bool:
    return bool(verdicts) and all(verdict.status in FINE for verdict in verdicts)


def _outside(known: Known, site: Site, verdict: Verdict) -> Say:
    row = known.bench.row(verdict.place)
    if site.service:
        return Say("rework", verdict.sentence, verdict.place)
    if site.part.replaced_when("choice"):
        return Say("replace", words.another_size(verdict.sentence), verdict.place)
    if row.purpose == "setting":
        return Say("watch", verdict.sentence, verdict.place)
    if row.purpose == "diagnosis":
        return Say("decide", words.find_the_cause(verdict.sentence), verdict.place)
    return Say("decide", words.no_service_limit(verdict.sentence), verdict.place)


def _passed(known: Known, verdict: Verdict) -> Say:
    used = wear_used(known, verdict)
    if used is not None and used >= (MUCH_WORN_RACE if known.race else MUCH_WORN):
        return Say("watch", words.much_worn(verdict.sentence, used), verdict.place)
    return Say(_CHOICES[verdict.status], verdict.sentence, verdict.place)


def wear_used(known: Known, verdict: Verdict) -> float | None:
    """How much of the way from new to the service limit a part has gone, as a share of 1."""
    limit, bounds = known.bench.limit(verdict.place), verdict.bounds
    if verdict.status != "within" or limit is None or bounds is None or verdict.measured is None:
        return None
    new = limit.band_high if bounds.lower is None else limit.band_low
    end = _one_end(bounds)
    if new is None or end is None or new == end or not reads_inside(new, bounds):
        return None
    return (verdict.measured.value - new) / (end - new)


def _one_end(bounds: Bounds) -> float | None:
    """The limit, where it has one side only."""
    if bounds.kind != "service" or (bounds.lower is None) == (bounds.upper is None):
        return None
    return bounds.upper if bounds.lower is None else bounds.lower
