"""A leak-down test read as a builder reads it: path first, number second, trend third."""

import math

from gudgeon.assess.leak_figures import LeakFigures, figures
from gudgeon.assess.results import Interval, LeakVerdict
from gudgeon.assess.wording import leaks as words
from gudgeon.catalog import catalog
from gudgeon.catalog.diagnosis import Band, LeakPath
from gudgeon.job import Job, LeakTest, in_force

LOUDNESS = ("strong", "clear", "faint", "none")
MUCH = 0.15  # of the supply: more than this must be heard somewhere
FLOW_DOUBT = 0.2  # of a flow by bag and watch, 95 %; common practice, no source
RISE = 0.04  # points that are a finding in themselves; common practice, no source


def leak_verdict(test: LeakTest, job: Job, units: str = "metric") -> LeakVerdict:
    """One test of this job in words."""
    tester = next(one for one in job.testers if one.key == test.tester)
    found = figures(test, tester, job.altitude)
    heard = _outlets(test)
    band, failed = _band(test, job), False
    paths = _paths(test, found, job)
    told = words.LeakTold(
        test=test,
        tester=tester,
        figures=found,
        heard=tuple((outlet, strength) for outlet, strength in heard if strength != "none"),
        silent=tuple(outlet for outlet, strength in heard if strength == "none"),
        names={key: outlet.name.lower() for key, outlet in catalog().diagnosis.outlets.items()},
        paths=paths,
        fault_heard=any(s in ("clear", "strong") for o, s in heard if o not in ("case", "plug")),
        says=band.at(100 * found.like_reference).says if found.like_reference is not None else "",
        band_name=f"{job.engine.use} use" if job.engine.use in band.uses else band.name,
        failed_from=band.failed_from,
        sound_below=band.sound_below / 100,
        trend=_trend(test, job, found),
        units=units,
        spread_at_most=catalog().diagnosis.leak_down.procedure.spread_at_most / 100,
        cylinders=_cylinders(job),
        unheard=_not_listened(test, job),
        liquid=job.sheet.layout.fields.get("cooling") != "air",
        before=_before(test, job),
        out_of_the_ways=_too_much_out(test, found),
    )
    if found.more_than_shown or (
        found.like_reference is not None and 100 * found.like_reference >= band.failed_from
    ):
        failed = True
    return LeakVerdict(
        test_id=test.id,
        cylinder=test.cylinder,
        percent=found.percent,
        spread=found.spread,
        hole=found.hole,
        free_air=found.free_air,
        band=told.says,
        band_from=_from(band, found),
        outlets=heard,
        headline=words.headline(told),
        sentences=words.sentences(told),
        why=words.why(told),
        next_check=words.next_check(told),
        failed=failed,
    )


def leak_verdicts(job: Job, units: str = "metric") -> tuple[LeakVerdict, ...]:
    """Every test in force, oldest first."""
    tests = sorted(in_force(job.leak_tests), key=lambda test: (test.at, test.id))
    return tuple(leak_verdict(test, job, units) for test in tests)


def _too_much_out(test: LeakTest, found: LeakFigures) -> float | None:
    """The air measured at the ways out, where it is more than the cylinder can lose; else None."""
    if found.free_air is None:
        return None
    flows = [
        (flow.volume.si / flow.time.si, flow.doubt.si if flow.doubt else FLOW_DOUBT)
        for flow in test.flows
        if flow.how == "flow" and flow.volume and flow.time and flow.time.si > 0
    ]
    out, lost = sum(each for each, _ in flows), found.free_air
    doubt = math.hypot(lost.high - lost.value, *(each * share for each, share in flows))
    return out if out - lost.value > doubt else None


def _before(test: LeakTest, job: Job) -> LeakTest | None:
    """What this test read before it was corrected; None where nothing else was typed."""
    by_id = {one.id: one for one in job.leak_tests}
    before = by_id.get(test.replaces or "")
    while before is not None and (before.taken_back or before.readings == test.readings):
        before = by_id.get(before.replaces or "")
    return before


def _cylinders(job: Job) -> int:
    return int(job.sheet.layout.counts.get("cylinders", 1))


def _outlets(test: LeakTest) -> tuple[tuple[str, str], ...]:
    order = list(catalog().diagnosis.outlets)
    heard = sorted(test.outlets.items(), key=lambda one: (LOUDNESS.index(one[1]), order.index(one[0])))
    return tuple((str(outlet), str(strength)) for outlet, strength in heard)


def _not_listened(test: LeakTest, job: Job) -> tuple[str, ...]:
    wanted = catalog().diagnosis.outlets_of(job.sheet.layout)
    left = [outlet for outlet in wanted if outlet.key not in test.outlets]
    return tuple(outlet.name.lower() for outlet in left if outlet.key != "plug")


def _band(test: LeakTest, job: Job) -> Band:
    fresh = test.occasion in ("new_part", "assembled") and not test.warm
    return catalog().diagnosis.band_for(job.engine.use, fresh)


def _from(band: Band, found: LeakFigures) -> float | None:
    return None if found.like_reference is None else band.at(100 * found.like_reference).start / 100


def _paths(test: LeakTest, found: LeakFigures, job: Job) -> tuple[LeakPath, ...]:
    """The ways out that what was heard names, loudest first."""
    known = catalog().diagnosis.leak_paths
    heard = [(outlet, strength) for outlet, strength in _outlets(test) if strength != "none"]
    if not heard:
        much = found.percent is not None and found.percent.value >= MUCH
        return (known["silent"],) if test.outlets and much else ()
    loudest = [outlet for outlet, strength in heard if strength == heard[0][1]]
    if {"intake", "exhaust"} <= set(loudest):
        return (known["both_ports"],)
    ways = [catalog().diagnosis.paths_at(outlet, job.sheet.layout) for outlet, _ in heard]
    return tuple({way[0].key: way[0] for way in ways if way}.values())


def _trend(test: LeakTest, job: Job, found: LeakFigures) -> words.Trend | None:
    """Against the newest earlier test of this cylinder that it may be compared with."""
    earlier = [
        other
        for other in sorted(in_force(job.leak_tests), key=lambda one: (one.at, one.id))
        if other.cylinder == test.cylinder and (other.at, other.id) < (test.at, test.id)
    ]
    if not earlier or found.percent is None:
        return None
    before = earlier[-1]
    tester = next(one for one in job.testers if one.key == before.tester)
    then = figures(before, tester, job.altitude)
    if then.percent is None or then.fault is not None:
        return None
    if before.tester == test.tester:
        return words.Trend(
            before, then.percent.value, found.percent.value, RISE, _apart(then.percent, found.percent)
        )
    if then.like_reference is not None and found.like_reference is not None:
        return words.Trend(
            before,
            then.like_reference,
            found.like_reference,
            RISE,
            _apart(then.percent, found.percent),
            by_hole=True,
        )
    return None


def _apart(then: Interval, now: Interval) -> bool:
    return then.high < now.low or now.high < then.low
