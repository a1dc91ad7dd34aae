"""Where the air goes, in shares: from the flows at open outlets and from tests at very low supply."""

import statistics
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from gudgeon.assess.gauges import size
from gudgeon.assess.leak_figures import figures
from gudgeon.assess.results import Interval
from gudgeon.assess.wording import budget as words
from gudgeon.calc import leak_budget as calc
from gudgeon.calc.atmosphere import SEA_LEVEL_PRESSURE, standard_pressure
from gudgeon.calc.leakdown import FREE_AIR_DENSITY, effective_area, leak_area, leak_mass_flow
from gudgeon.catalog import catalog
from gudgeon.job import Job, LeakReading, LeakTest, PathFlow, Tester, Typed, in_force
from gudgeon.job.checks import flow_faults

USUAL_DOUBT = 0.2  # of a flow by bag and watch, 95 %; common practice, no source
LEAST = 0.01  # of the whole: no flow is known better


@dataclass(frozen=True, slots=True)
class PathShare:
    """One way out: its share of the whole with its interval; no share where it cannot be told apart."""

    outlet: str
    name: str
    share: float | None
    interval: Interval
    sentence: str


@dataclass(frozen=True, slots=True)
class Budget:
    """The leak of one cylinder shared out."""

    cylinder: str
    shares: tuple[PathShare, ...]
    not_told_apart: tuple[tuple[str, ...], ...]  # outlets' names
    measure_next: tuple[str, ...]  # outlets whose own flow would split them
    sentences: tuple[str, ...]
    refused: tuple[str, ...]  # readings that are not counted, and why


def budget(job: Job, cylinder: str = "1") -> Budget | None:
    """The newest test with flows of a cylinder shared out; None where no flow was measured."""
    tests = [one for one in in_force(job.leak_tests) if one.cylinder == cylinder and one.flows]
    if not tests:
        return None
    test = max(tests, key=lambda one: (one.at, one.id))
    tester = next(one for one in job.testers if one.key == test.tester)
    refused = tuple(fault for flow in test.flows for fault in flow_faults(flow))
    sound = tuple(flow for flow in test.flows if not any(flow_faults(flow)))
    bench = _Bench(job, test, tester)
    ways, told = bench.ways(sound), bench.tests(sound)
    if not told or not ways:
        return Budget(cylinder, (), (), (), (words.NOTHING,), refused)
    return _shared(cylinder, _solved(tuple(ways), tuple(told)), refused)


@lru_cache(maxsize=64)
def _solved(ways: tuple[str, ...], rows: tuple["_Row", ...]) -> calc.LeakBudget:
    return calc.leak_budget(ways, [row.test() for row in rows])


@dataclass(frozen=True, slots=True)
class _Row:
    """One test of ``calc.leak_budget`` as hashable values."""

    area: float
    doubt: float
    nothing_from: tuple[str, ...] = ()
    oiled: bool = False
    supply: float = 0.0
    shut: tuple[str, ...] = ()

    def test(self) -> calc.LeakTest:
        parts: dict[str, float | calc.Factor] = dict.fromkeys(self.nothing_from, 0.0)
        if self.oiled:
            parts["crankcase"] = calc.ANY_PART
        return calc.LeakTest(self.area, self.doubt, parts, self.supply, self.shut)


_CALC = {"case": "crankcase"}
_OURS = {calc_name: ours for ours, calc_name in _CALC.items()}


class _Bench:
    """One test with its tester and the air outside."""

    def __init__(self, job: Job, test: LeakTest, tester: Tester) -> None:
        self.job, self.test, self.tester = job, test, tester
        self.found = figures(test, tester, job.altitude)
        self.ambient = _ambient(job, test)
        self.supply = statistics.fmean(one.supply.si for one in test.readings)

    def ways(self, flows: Sequence[PathFlow]) -> list[str]:
        """The ways heard, not listened at, or measured; only those measured where the whole is not known."""
        measured = {str(flow.outlet) for flow in flows}
        known = [
            one.key for one in catalog().diagnosis.outlets_of(self.job.sheet.layout) if one.key != "plug"
        ]
        if self.total() is None:
            kept = [one for one in known if one in measured]
        else:
            heard = {str(key): str(word) for key, word in self.test.outlets.items()}
            kept = [one for one in known if one in measured or heard.get(one) != "none"]
        return [_CALC.get(one, one) for one in kept]

    def total(self) -> tuple[float, float] | None:
        """Effective area of the whole and its standard uncertainty; None where the tester is not known."""
        percent = self.found.percent
        if self.tester.restrictor is None or percent is None or self.found.more_than_shown:
            return None
        ends = [self._area(self.supply, share) for share in (percent.low, percent.value, percent.high)]
        return ends[1], max((ends[2] - ends[0]) / 4, LEAST * ends[1], 1e-12)

    def tests(self, flows: Sequence[PathFlow]) -> list[_Row]:
        """Everything that was measured, as rows of the budget."""
        ways, total = self.ways(flows), self.total()
        rows = [] if total is None else [_Row(*total, supply=self.supply)]
        for flow in flows:
            name = _CALC.get(flow.outlet, str(flow.outlet))
            if flow.volume is not None and flow.time is not None:
                others = tuple(one for one in ways if one != name)
                each = self._flow(flow.volume.si / flow.time.si, flow.doubt, total)
                rows.append(_Row(*each, nothing_from=others))
            elif total is not None and flow.reading is not None:
                rows.append(self._reading(flow.reading, name, oiled=flow.how == "oiled"))
        return rows

    def _flow(
        self, free_air: float, doubt: Typed | None, total: tuple[float, float] | None
    ) -> tuple[float, float]:
        share = self.found.percent.value if self.found.percent is not None else 0.0
        each = float(leak_mass_flow(1.0, self.supply * (1 - min(share, 0.99)), self.ambient))
        area = free_air * FREE_AIR_DENSITY / each
        least = LEAST * (total[0] if total else area)
        return area, max(area * (doubt.si if doubt else USUAL_DOUBT) / 2, least, 1e-12)

    def _reading(self, reading: LeakReading, name: str, *, oiled: bool) -> _Row:
        supply = reading.supply.si
        if reading.percent is not None:
            share = reading.percent.si
        else:
            share = 1 - (reading.cylinder.si if reading.cylinder is not None else 0.0) / supply
        area = self._area(supply, share)
        doubt = max((self._area(supply, share + 0.02) - self._area(supply, share - 0.02)) / 4, 1e-12)
        if oiled:
            return _Row(area, doubt, oiled=True, supply=supply)
        return _Row(area, doubt, nothing_from=(name,), supply=supply, shut=(name,))

    def _area(self, supply: float, share: float) -> float:
        through = float(effective_area(size(self.tester.restrictor or "", "length"), self.tester.discharge))
        kept = supply * (1 - min(max(share, 0.0), 0.99))
        found = leak_area(through, supply, kept, self.ambient).area
        return 0.0 if found is None else float(found)


def _ambient(job: Job, test: LeakTest) -> float:
    if test.ambient_pressure is not None:
        return test.ambient_pressure.si
    return float(standard_pressure(job.altitude.si)) if job.altitude is not None else SEA_LEVEL_PRESSURE


def _shared(cylinder: str, found: calc.LeakBudget, refused: tuple[str, ...]) -> Budget:
    names = {key: outlet.name.lower() for key, outlet in catalog().diagnosis.outlets.items()}
    mixed = {way for group in found.not_told_apart for way in group}
    shares = tuple(_path(way, path, names, way in mixed) for way, path in found.paths.items())
    ordered = tuple(
        sorted(shares, key=lambda one: -(one.share if one.share is not None else one.interval.high))
    )
    groups = tuple(tuple(names[_OURS.get(way, way)] for way in group) for group in found.not_told_apart)
    after = tuple(_OURS.get(way, way) for way in found.measure_next)
    said = words.budget([one.sentence for one in ordered], groups, [names[one] for one in after])
    return Budget(cylinder, ordered, groups, after, said, refused)


def _path(way: str, path: calc.PathLeak, names: Mapping[str, str], mixed: bool) -> PathShare:
    outlet = _OURS.get(way, way)
    ends = Interval(path.share, path.share_low, path.share_high)
    share = None if mixed else path.share
    return PathShare(outlet, names[outlet], share, ends, words.path(names[outlet], share, ends))
