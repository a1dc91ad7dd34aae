"""What a job's last leak-down of a cylinder has for a sum."""

import math

from gudgeon.assess.bench import Bench
from gudgeon.assess.gauges import size
from gudgeon.assess.leak_figures import figures
from gudgeon.calc.ledger import Measured
from gudgeon.fitting.sources import Found, Source
from gudgeon.job import LeakTest, Tester, in_force


def _last(bench: Bench, cylinder: str) -> tuple[LeakTest, Tester] | None:
    tests = [test for test in in_force(bench.job.leak_tests) if test.cylinder == cylinder]
    testers = {tester.key: tester for tester in bench.job.testers}
    newest = max(tests, key=lambda test: test.at, default=None)
    return None if newest is None or newest.tester not in testers else (newest, testers[newest.tester])


def leak_percent() -> Source:
    """The share lost in the last leak-down, with its ledger."""

    def find(bench: Bench, cylinder: str) -> Found | None:
        last = _last(bench, cylinder)
        known = figures(*last, bench.job.altitude) if last else None
        if known is None or known.percent is None or known.more_than_shown:
            return None
        return Found("the last leak-down", Measured(known.percent.value, known.rows))

    return Source("the last leak-down's percentage", find)


def leak_supply() -> Source:
    """The supply pressure of the last leak-down."""

    def find(bench: Bench, cylinder: str) -> Found | None:
        last = _last(bench, cylinder)
        if last is None:
            return None
        supplies = [reading.supply.si for reading in last[0].readings]
        return Found("the last leak-down", Measured(math.fsum(supplies) / len(supplies), ()))

    return Source("the last leak-down's supply", find)


def leak_restrictor() -> Source:
    """The restrictor of the tester last used, where it is known."""

    def find(bench: Bench, cylinder: str) -> Found | None:
        last = _last(bench, cylinder)
        if last is None or last[1].restrictor is None:
            return None
        return Found(f"tester: {last[1].name}", Measured(size(last[1].restrictor, "length"), ()))

    return Source("the tester's restrictor", find)


def leak_hole() -> Source:
    """The equivalent hole of the last leak-down."""

    def find(bench: Bench, cylinder: str) -> Found | None:
        last = _last(bench, cylinder)
        known = figures(*last, bench.job.altitude).hole if last else None
        return None if known is None else Found("the last leak-down", Measured(known.value, ()))

    return Source("the last leak-down's equivalent hole", find)
