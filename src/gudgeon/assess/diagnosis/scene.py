"""What is known of an engine, laid out so that a clue can be held against it."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

from gudgeon.assess.bench import Bench
from gudgeon.assess.diagnosis.air import HEARD, MUCH, Air, airs
from gudgeon.assess.results import Verdict
from gudgeon.assess.wording import diagnosis as words
from gudgeon.assess.wording import simulated as gauge_words
from gudgeon.catalog import Characteristic, applies
from gudgeon.catalog.reasoning import Clue, Rule
from gudgeon.job import LeakTest
from gudgeon.job.asked import Asked, asked
from gudgeon.quantities import UNITS, parse

if TYPE_CHECKING:
    from gudgeon.assess.diagnosis.gauge import Expected

FINE = frozenset({"within", "in_band", "near_edge", "in_order"})
WRONG = frozenset({"outside", "beyond"})
GAUGE, LEAK_DOWN = "cranking_compression", "leak_down"
GAPS = frozenset({"valve_clearance_in", "valve_clearance_ex"})
NO_GAP = 5e-6  # m: a gap no blade is thin enough for
BENCH = "bench"  # the stage of what is read off the engine
ROWS_OF_AN_OPEN_ENGINE = 3  # one or two may be got at from outside; our own reading
LAST_TENTH = 0.9 - 1e-9  # of the way to a limit (common practice, no source), less what rounding takes
WALL = ("bore_look", "plating_defects")  # the same look, in an iron liner and in a plated bore
SAME = {"turn_by_hand": ("turns",), "oil_debris_grade": ("debris",)}  # a reading and the question it answers


@dataclass(frozen=True, slots=True)
class Met:
    """A clue that holds: what was read, in words, what it is about, and whether it was seen at the bench."""

    reading: str
    about: tuple[str, ...]
    seen: bool = True


@dataclass(frozen=True)
class Scene:
    """One job as the rules look at it."""

    bench: Bench
    verdicts: tuple[Verdict, ...]
    closed: frozenset[str] = field(default_factory=frozenset)

    @cached_property
    def asked(self) -> Asked:
        """What was told and looked at."""
        return asked(self.bench.job.facts)

    @cached_property
    def air(self) -> Mapping[str, Air]:
        """What the leak-downs of each cylinder say now."""
        return airs(self.bench.job)

    @cached_property
    def cylinders(self) -> tuple[str, ...]:
        """The cylinders that were tested; the first where none was."""
        return tuple(self.air) or ("1",)

    @cached_property
    def by_row(self) -> Mapping[str, tuple[Verdict, ...]]:
        """Verdicts by what was read; a slip says nothing until it is confirmed."""
        found: dict[str, list[Verdict]] = {}
        for verdict in self.verdicts:
            if verdict.status not in ("slip", "not_measured"):
                found.setdefault(verdict.place.characteristic, []).append(verdict)
        return {key: tuple(rows) for key, rows in found.items()}

    @property
    def looked_at(self) -> bool:
        """Whether anything at all was found at the bench; what is only told opens nothing."""
        turns = self.asked.plain.get("turns") == "no"
        return bool(self.air or self.by_row or self.ticked or self.bench.job.not_possible or turns)

    @property
    def opened(self) -> bool:
        """Whether something was read that only an open engine shows."""
        rows = self.bench.catalog.characteristics
        return sum(rows[key].stage == BENCH for key in self.by_row) >= ROWS_OF_AN_OPEN_ENGINE

    @property
    def leak_tests(self) -> tuple[LeakTest, ...]:
        """Every test that stands."""
        return tuple(test for air in self.air.values() for test in air.tests)

    def holds(self, clue: Clue, cylinder: str, air: bool = True) -> Met | None:
        """What makes a clue hold on this cylinder; None where it does not. ``air``: whether air counts."""
        match clue.kinds[0]:
            case "symptom":
                return self._symptom(clue)
            case "fact":
                return self._fact(clue)
            case "found":
                return self._found(clue)
            case "reads":
                return self._reads(clue, cylinder)
            case "gauge":
                return self._gauge(clue, cylinder)
        here = self.air.get(cylinder)
        return _air_met(here, clue, self.bench) if here is not None and air else None

    def lost_beside(self, rule: Rule, cylinder: str) -> list[Met]:
        """The figure beside air that is plainly heard, where the rule does not name it itself."""
        air = self.air.get(cylinder)
        heard = [clue.air_at for clue in rule.when if clue.air_at]
        if air is None or air.loss not in MUCH or any(clue.loss for clue in rule.when):
            return []
        if not any(air.heard.get(outlet) in HEARD for outlet in heard):
            return []
        return [Met(words.loss(air.share, air.more_than_shown), ("leakdown_pct",))]

    def _symptom(self, clue: Clue) -> Met | None:
        if clue.symptom not in self.asked.symptoms:
            return None
        told = self.bench.catalog.reasoning.symptoms[clue.symptom].words
        return Met(words.told(told), (clue.symptom,), seen=False)

    def _fact(self, clue: Clue) -> Met | None:
        if self.asked.plain.get(clue.fact) != clue.is_:
            return None
        return Met(words.fact(clue.fact, clue.is_), (clue.fact,))

    def _found(self, clue: Clue) -> Met | None:
        check, _, finding = clue.found.partition(".")
        if finding not in self.asked.found.get(check, ()):
            return None
        row = self.bench.catalog.diagnosis.prechecks[check]
        return Met(words.looked_at(row.name, row.findings[finding].finding), (check, clue.found))

    def _reads(self, clue: Clue, cylinder: str) -> Met | None:
        row = self.bench.catalog.characteristics[clue.reads]
        here = [verdict for verdict in self.by_row.get(clue.reads, ()) if self._here(verdict, cylinder)]
        if clue.at == ("in_order",):
            met = here if here and all(verdict.status in FINE for verdict in here) else []
        else:
            met = [verdict for verdict in here if self._as_wanted(verdict, clue, row)]
        if not met:
            return self._amounts_to(clue)
        return Met(words.reading(met[0]), (clue.reads, *SAME.get(clue.reads, ())))

    def _gauge(self, clue: Clue, cylinder: str) -> Met | None:
        read = self.gauge_reading(cylinder)
        if read is None or read.measured is None or self.sound_on_gauge is None:
            return None
        from gudgeon.assess.diagnosis.gauge import gauge_says

        if gauge_says(read.measured.value, self.sound_on_gauge) != clue.gauge:
            return None
        return Met(gauge_words.on_gauge(words.reading(read), self.sound_in_words), (GAUGE,))

    def gauge_reading(self, cylinder: str) -> Verdict | None:
        """The compression last read on a cylinder."""
        read = [one for one in self.by_row.get(GAUGE, ()) if self._here(one, cylinder) and one.measured]
        return read[-1] if read else None

    @cached_property
    def sound_on_gauge(self) -> "Expected | None":
        """What a compression gauge would show of this engine if it were sound."""
        from gudgeon.assess.diagnosis.gauge import expected  # brings NumPy; asked for only beside a reading

        return expected(self.bench.job)

    @cached_property
    def sound_in_words(self) -> str:
        """The same in words."""
        sound = self.sound_on_gauge
        if sound is None:
            return ""
        acting = (sound.acting.low, sound.acting.high) if sound.acting else None
        return gauge_words.sound_on_gauge((sound.free.low, sound.free.high), acting, self.bench.units)

    def _amounts_to(self, clue: Clue) -> Met | None:
        """A pre-check's finding that says as much as the reading would."""
        for check, finding in self.ticked:
            row = self.bench.catalog.diagnosis.prechecks[check]
            if row.findings[finding].reads.get(clue.reads) in (*clue.word, *clue.at):
                told = words.looked_at(row.name, row.findings[finding].finding)
                return Met(told, (clue.reads, check, *SAME.get(clue.reads, ())))
        return None

    @cached_property
    def ticked(self) -> tuple[tuple[str, str], ...]:
        """Every finding of a pre-check that was ticked, as the catalog knows it."""
        rows = self.bench.catalog.diagnosis.prechecks
        return tuple(
            (check, finding)
            for check, findings in self.asked.found.items()
            for finding in findings
            if check in rows and finding in rows[check].findings
        )

    def said(self, row: str) -> str:
        """The word last chosen of a row, by reading or by a pre-check's finding; empty where none was."""
        read = self.by_row.get(row, ())
        if read:
            return self.word(read[-1])
        rows = self.bench.catalog.diagnosis.prechecks
        told = [rows[check].findings[finding].reads.get(row, "") for check, finding in self.ticked]
        return next((word for word in reversed(told) if word), "")

    def _here(self, verdict: Verdict, cylinder: str) -> bool:
        place = verdict.place.instance
        if len(self.cylinders) < 2 or not place[:1].isdigit():
            return True
        return place == cylinder or place.startswith(f"{cylinder}.")

    def _as_wanted(self, verdict: Verdict, clue: Clue, row: Characteristic) -> bool:
        if clue.word:
            return self.word(verdict) in clue.word
        if clue.above or clue.below:
            return _between(verdict, clue, row)
        return bool({*self._at(verdict)} & {*clue.at})

    def word(self, verdict: Verdict) -> str:
        """The word that was chosen there; empty for a number."""
        now = self.bench.now(verdict.place)
        return (now.readings[-1].word or "") if now is not None else ""

    def _at(self, verdict: Verdict) -> Iterator[str]:
        """How a reading stands against its limit."""
        if self._none_enters(verdict):
            yield "none_enters"
        elif verdict.status in FINE:
            yield "in_order"
        elif verdict.status == "finding":
            yield "finding"
        elif verdict.status in WRONG:
            yield _side(verdict)
        if verdict.status not in WRONG and _last_tenth(verdict):
            yield "last_tenth"

    def _none_enters(self, verdict: Verdict) -> bool:
        now, measured = self.bench.now(verdict.place), verdict.measured
        if verdict.place.characteristic in GAPS and measured is not None and measured.value <= NO_GAP:
            return True
        return now is not None and any(
            one.how == "bracket" and one.goes is None and one.does_not is not None for one in now.readings
        )

    def fits(self, check: str) -> bool:
        """Whether this engine has what the check looks at."""
        trade = self.bench.catalog
        row = trade.diagnosis.prechecks.get(check) or trade.characteristics[check]
        return applies(row.applies_if, self.bench.job.sheet.layout)

    def known(self, check: str) -> bool:
        """Whether a check was made, or its finding written down."""
        if check == LEAK_DOWN:
            return bool(self.air)
        row = self.bench.catalog.diagnosis.prechecks.get(check)
        if row is None:
            alike = WALL if check in WALL else (check,)
            return any(one in self.by_row or self.said(one) for one in alike)
        return check in self.asked.found or any(key in self.by_row for key in row.characteristics)

    def places_left(self, row: str) -> int:
        """At how many places of the engine this has not been read yet."""
        known = self.bench.catalog.characteristics[row]
        places = len(self.bench.instances(known)) * max(len(known.positions), 1)
        return max(places - len({verdict.place for verdict in self.by_row.get(row, ())}), 0)


def _last_tenth(verdict: Verdict) -> bool:
    """Nine tenths of what the limit allows are used, where it is one from zero up."""
    bounds, measured = verdict.bounds, verdict.measured
    if bounds is None or measured is None or bounds.upper is None or bounds.lower is not None:
        return False
    return measured.value >= LAST_TENTH * bounds.upper


def _side(verdict: Verdict) -> str:
    bounds, measured = verdict.bounds, verdict.measured
    if bounds is None or measured is None:
        return "finding"
    return "low" if bounds.lower is not None and measured.value < bounds.lower else "high"


def _between(verdict: Verdict, clue: Clue, row: Characteristic) -> bool:
    if verdict.measured is None:
        return False
    kind, value = UNITS[row.unit].kind, abs(verdict.measured.value)
    low, high = (parse(text, kind, unit=row.unit).si if text else None for text in (clue.above, clue.below))
    return (low is None or value > low) and (high is None or value <= high)


def _air_met(air: Air, clue: Clue, bench: Bench) -> Met | None:
    """A clue of the leak-down, where it holds."""
    names = {key: outlet.name.lower() for key, outlet in bench.catalog.diagnosis.outlets.items()}
    cylinder = air.cylinder if len(bench.instances(bench.catalog.characteristics["leakdown_pct"])) > 1 else ""
    met = _air_reading(air, clue, names)
    if met is None:
        return None
    reading, about = met
    return Met(words.of_cylinder(reading, cylinder), about)


def _air_reading(air: Air, clue: Clue, names: Mapping[str, str]) -> tuple[str, tuple[str, ...]] | None:
    if clue.air_at or clue.air_alike or clue.air_gone:
        return _heard(air, clue, names)
    if clue.loss and air.loss in clue.loss:
        return words.loss(air.share, air.more_than_shown), ("leakdown_pct",)
    if clue.silent and air.silent:
        return words.silent(air.share), ("leakdown_pct", "leakdown_path")
    return _tester(air, clue)


def _heard(air: Air, clue: Clue, names: Mapping[str, str]) -> tuple[str, tuple[str, ...]] | None:
    if clue.air_at and air.heard.get(clue.air_at) in clue.heard:
        return words.air_at(air.heard[clue.air_at], names[clue.air_at]), _path(clue.air_at)
    if clue.air_alike and air.alike(clue.air_alike):
        return words.air_alike([names[one] for one in clue.air_alike]), _path(*clue.air_alike)
    if clue.air_gone in air.gone:
        return words.air_gone(names[clue.air_gone]), _path(clue.air_gone)
    return None


def _tester(air: Air, clue: Clue) -> tuple[str, tuple[str, ...]] | None:
    if clue.test == "reversed" and air.reversed_gauges:
        return words.reversed_gauges(), ("leakdown_pct", "tester_zero")
    if clue.test == "unlike" and air.unlike:
        return words.unlike(air.unlike), ("leakdown_pct",)
    if clue.test == "rose" and air.rise is not None:
        return words.rose(air.rise), ("leakdown_pct",)
    return None


def _path(*outlets: str) -> tuple[str, ...]:
    return ("leakdown_path", *outlets)


def only_heard(about: Iterable[str]) -> bool:
    """Whether something rests on the leak-down at all."""
    return bool({"leakdown_path", "leakdown_pct"} & set(about))
