"""Where air was heard to leave: the parts it accuses, until work on them or a later test clears them."""

from collections.abc import Iterator

from gudgeon.assess.reasons.say import FINE, Known, Say, Site, renewed_at
from gudgeon.assess.results import LeakVerdict
from gudgeon.assess.wording import proposals as words
from gudgeon.catalog import cylinder_of
from gudgeon.catalog.diagnosis import LeakPath
from gudgeon.job import LeakTest, in_force

WORKED: frozenset[str] = frozenset({"after_work", "new_part"})
SEALS = frozenset({"valve_seal_test", "valve_vacuum_test"})  # these show that a valve holds
PORTS = {"intake": "in", "exhaust": "ex"}
MUCH = 0.15  # of the supply: what a sound cylinder loses at most past its rings, common practice, no source


def of_leaks(known: Known, site: Site) -> Iterator[Say]:
    """A reason for each way out that accuses this part."""
    for path, test, leak, strength in _accusing(known, site):
        if not _cleared(known, site, path, test):
            yield _say(known, site, test, leak, path, strength)


def _accusing(known: Known, site: Site) -> Iterator[tuple[LeakPath, LeakTest, LeakVerdict, str]]:
    """Each way out that was heard when last listened for, of the cylinder this part belongs to."""
    diagnosis, layout = known.bench.catalog.diagnosis, known.bench.job.sheet.layout
    for (cylinder, outlet), (test, leak) in _last_listened(known).items():
        strength = str(test.outlets[outlet])  # type: ignore[index]  # a key of this very mapping
        ways = [way for way in diagnosis.paths_at(outlet, layout) if site.part.key in way.suspects]
        here = cylinder_of(site.part, site.instance) or cylinder
        if strength != "none" and ways and here == cylinder and _on_the_side(site, outlet):
            yield ways[0], test, leak, strength


def _last_listened(known: Known) -> dict[tuple[str, str], tuple[LeakTest, LeakVerdict]]:
    """For each cylinder and outlet the newest test in which somebody listened there."""
    last: dict[tuple[str, str], tuple[LeakTest, LeakVerdict]] = {}
    for leak in known.leaks:  # oldest first
        test = known.leak_tests[leak.test_id]
        for outlet in test.outlets:
            last[test.cylinder, str(outlet)] = (test, leak)
    return last


def _on_the_side(site: Site, outlet: str) -> bool:
    pieces = site.instance.split(".")
    return not {"in", "ex"} & set(pieces) or PORTS.get(outlet) in pieces


def _say(known: Known, site: Site, test: LeakTest, leak: LeakVerdict, path: LeakPath, strength: str) -> Say:
    outlet = path.outlets[0]
    name = known.bench.catalog.diagnosis.outlets[outlet].name.lower()
    said = words.heard(test.at, strength, name, None if leak.percent is None else leak.percent.value)
    if strength == "faint" and outlet != "coolant":
        return Say("watch", said)
    if outlet == "case" and known.sound(site):
        return Say("watch", words.readings_in_order(said))
    return Say("decide", said)


def _cleared(known: Known, site: Site, path: LeakPath, test: LeakTest) -> bool:
    renewed = renewed_at(known.bench, site)
    if renewed is not None and renewed > test.at:
        return True
    if path.outlets[0] == "case" and not _much(known, test):
        return True
    if any(v.status in FINE for v in known.bearing(site, SEALS & set(known.bench.catalog.characteristics))):
        return True
    return _worked_on(known, site, path, test.at)


def _much(known: Known, test: LeakTest) -> bool:
    """Whether more goes past the rings than a sound cylinder loses, and can be heard to."""
    leak = next(one for one in known.leaks if one.test_id == test.id)
    if test.outlets.get("case") == "faint":
        return False
    if leak.band_from is not None:
        return leak.band_from >= MUCH
    return leak.failed or (leak.percent is not None and leak.percent.value >= MUCH)


def _worked_on(known: Known, site: Site, path: LeakPath, since: str) -> bool:
    """Whether a reading after work, or of a new part, of anything this way out accuses is on record here."""
    parts = known.bench.catalog.parts
    rows = {*path.characteristics, *(key for one in path.parts for key in parts[one].limits)}
    rows |= {key for one in path.suspects for key in parts[one].limits}
    return any(
        reading.occasion in WORKED
        and reading.at > since
        and reading.characteristic in rows
        and known.bears(site, known.bench.place(reading.characteristic, reading.instance))
        for reading in in_force(known.bench.job.readings)
    )
