"""One reason, what it asks for, and what all reasons are found from."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from gudgeon.assess.bench import Bench
from gudgeon.assess.results import LeakVerdict, Place, Proposed, Verdict
from gudgeon.catalog import Part, bears_on
from gudgeon.job import Finding, LeakTest, in_force

RANK: Mapping[Proposed, int] = {
    "replace": 6,
    "always_new": 5,
    "rework": 4,
    "decide": 3,
    "measure_again": 2,
    "watch": 1,
    "reuse": 0,
}
RENEWED: frozenset[Proposed] = frozenset({"replace", "always_new"})
FINE = frozenset({"within", "in_band", "near_edge", "in_order"})
JUDGED = FINE | {"beyond", "outside", "finding", "close"}
_SERVICE = "_service"


@dataclass(frozen=True, slots=True)
class Say:
    """One reason and what it asks for."""

    choice: Proposed
    words: str
    place: Place | None = None
    aside: bool = False  # only worth saying while nothing else condemns the part


@dataclass(frozen=True, slots=True, eq=False)
class Site:
    """A part where it sits; made once for each, so that it is known by itself."""

    part: Part
    instance: str

    @property
    def service(self) -> bool:
        """Whether it is work sent out and no part."""
        return self.part.key.endswith(_SERVICE)


@dataclass(frozen=True)
class Known:
    """What is known of a job when parts are proposed for."""

    bench: Bench
    verdicts: Sequence[Verdict]
    leaks: Sequence[LeakVerdict]
    let_go: frozenset[str]

    @cached_property
    def by_row(self) -> Mapping[str, Sequence[Verdict]]:
        """The verdicts of each row."""
        found: dict[str, list[Verdict]] = {}
        for verdict in self.verdicts:
            found.setdefault(verdict.place.characteristic, []).append(verdict)
        return found

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What was seen, heard or felt, corrections done."""
        return in_force(self.bench.job.findings)

    @cached_property
    def leak_tests(self) -> Mapping[str, LeakTest]:
        """The leak-downs by id."""
        return {test.id: test for test in self.bench.job.leak_tests}

    @property
    def race(self) -> bool:
        """Whether this engine races."""
        return self.bench.job.engine.use == "race"

    def bears(self, site: Site, place: Place) -> bool:
        """Whether a place speaks of the part that sits here."""
        row, layout = self.bench.row(place), self.bench.job.sheet.layout
        return bears_on(site.part, site.instance, row, place.instance, layout)

    def bearing(self, site: Site, keys: Iterable[str]) -> list[Verdict]:
        """The verdicts on these rows that speak of the part that sits here."""
        return [v for key in keys for v in self.by_row.get(key, ()) if self.bears(site, v.place)]

    def sound(self, site: Site) -> bool:
        """Whether the part was measured, and every reading of it is in order."""
        judged = [v for v in self.bearing(site, site.part.limits) if v.status in JUDGED]
        return bool(judged) and all(v.status in FINE for v in judged)


def together(one: str, other: str) -> bool:
    """Whether one place lies in the other: "1" and "1.in.2"."""
    first, second = one.split("."), other.split(".")
    shorter = min(len(first), len(second))
    return first[:shorter] == second[:shorter]


def renewed_at(bench: Bench, site: Site) -> str | None:
    """Since when another part stands here than the one taken out; what was seen before was of that one."""
    key, instance = site.part.key, site.instance
    here = [one for one in bench.job.parts if (one.part, one.instance) == (key, instance)]
    new = {one.id for one in here if one.removed_hours is None and one.origin != "found"}
    if not new or all(one.removed_hours is None for one in here):
        return None
    times = [reading.at for reading in bench.job.readings if reading.part in new]
    times += [
        one.at
        for one in bench.job.decisions
        if (one.part, one.instance, one.choice) == (key, instance, "replace")
    ]
    return min(times, default=None)
