"""What the work disturbs, and what has run its hours."""

from collections.abc import Iterator

from gudgeon.assess.bench import Bench
from gudgeon.assess.reasons.say import Known, Say, Site
from gudgeon.assess.wording import proposals as words
from gudgeon.job import Part


def of_disturbing(known: Known, site: Site) -> Iterator[Say]:
    """Parts that are new once they have been off, used up, or the manual's own business."""
    part = site.part
    if part.key not in known.let_go:
        return
    if part.replaced_when("disturbed"):
        yield Say("always_new", words.disturbed())
    run = part.replaced_when("disturbed_and_run")
    if run is not None and run.hours_min is not None:
        hours = hours_run(known.bench, site)
        if hours is None or hours > run.hours_min:
            yield Say("always_new", words.has_run(hours, run.hours_min))
    if part.replaced_when("each_oil_change"):
        yield Say("always_new", words.each_oil_change())
    if part.replaced_when("used_up"):
        yield Say("always_new", words.used_up())
    if part.replaced_when("sheet_says"):
        yield Say("decide", words.manual_says())


def of_hours(known: Known, site: Site, others: bool) -> Iterator[Say]:
    """Race parts go by hours even inside their limits. ``others``: whether anything else is said of it."""
    rule = site.part.replaced_when("hours")
    if rule is None or rule.life is None or rule.use != known.bench.job.engine.use:
        return
    low, high = rule.life
    hours, engine = hours_run(known.bench, site), engine_hours(known.bench)
    if hours is not None and hours >= high:
        yield Say("replace", words.out_of_hours(hours, rule.life))
    elif hours is not None and hours >= low:
        yield Say("decide", words.out_of_hours(hours, rule.life))
    elif hours is None and others and not (engine is not None and engine < low):
        yield Say("decide", words.hours_unknown(rule.life), aside=True)


def hours_run(bench: Bench, site: Site) -> float | None:
    """Hours on the part in the engine now, where both ends are known."""
    fitted = [one.fitted_hours for one in _here(bench, site) if one.removed_hours is None]
    now = engine_hours(bench)
    if not fitted or fitted[-1] is None or now is None:
        return None
    return now - fitted[-1]


def _here(bench: Bench, site: Site) -> Iterator[Part]:
    return (one for one in bench.job.parts if (one.part, one.instance) == (site.part.key, site.instance))


def engine_hours(bench: Bench) -> float | None:
    """The engine's hours at its last visit, over every change of the meter."""
    total, last = 0.0, None
    for visit in sorted(bench.job.engine.visits, key=lambda one: one.date):
        hours = visit.meter.si / 3600
        total += 0.0 if last is None or visit.meter_changed else hours - last
        if last is None:
            total = hours
        last = hours
    return None if last is None else total
