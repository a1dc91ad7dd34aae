"""A notebook that takes readings of true sizes the way a bench does: gauges, scatter, marks, temperature."""

import random
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Any
from uuid import NAMESPACE_URL, uuid5

from gudgeon.catalog import catalog
from gudgeon.datasheet import DataSheet
from gudgeon.job.objects import Finding
from gudgeon.job.readings import How, Occasion, Reading, Typed
from gudgeon.quantities import UNITS, parse, parse_feeler

SEED = 349
NAMESPACE = uuid5(NAMESPACE_URL, "gudgeon examples")
STEEL = 11.5e-6
ALUMINIUM = 21e-6


@dataclass(frozen=True)
class Gauge:
    """How a gauge really behaves: its marks, its scatter, and what is still wrong after its correction."""

    key: str
    marks: float  # smallest step, in the row's unit
    scatter: float = 0.0
    error: float = 0.0
    decimals: int = 3


@dataclass
class Notebook:
    """One job's pages. Time moves on a little with each line."""

    job: str
    sheet: DataSheet
    by: str = "MH"
    clock: datetime = datetime(2026, 2, 9, 8, 30, tzinfo=UTC)
    occasion: Occasion = "as_found"
    turn: int = 1
    device: str = "bench phone"
    room: float | None = None  # temperature of part and gauge, where somebody wrote it down
    parts: dict[str, str] = field(default_factory=dict)  # what is in the hand: catalog part and place -> id
    readings: list[Reading] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.chance = random.Random(f"{SEED} {self.job}")
        self.line = 0

    def new_id(self, kind: str) -> str:
        """The id of the next line."""
        self.line += 1
        return str(uuid5(NAMESPACE, f"{self.job} {kind} {self.line}"))

    def at(self) -> str:
        """The time of the next line."""
        self.clock += timedelta(seconds=self.chance.randrange(25, 90))
        return self.clock.strftime("%Y-%m-%dT%H:%M:%SZ")

    def day(self, when: str, **changes: Any) -> None:
        """Begin again on another day, with what is different then."""
        self.clock = datetime.fromisoformat(f"{when}+00:00")
        for name, value in changes.items():
            setattr(self, name, value)

    def typed(self, text: str, characteristic: str) -> Typed:
        """A text as the row's entry field understands it."""
        row = catalog().characteristics[characteristic]
        read = parse(text, UNITS[row.unit].kind, row.unit, signed=row.signed)
        return Typed(read.text, read.unit, read.si)

    def write(self, characteristic: str, instance: str, position: str, how: How, **given: Any) -> Reading:
        """One line. A position may be given by its number among those the row names."""
        named = catalog().characteristics[characteristic].positions
        if position.isdigit() and position not in named and named:
            position = named[int(position) - 1]
        reading = Reading(
            id=self.new_id("reading"),
            characteristic=characteristic,
            instance=instance,
            position=position,
            occasion=self.occasion,
            turn=self.turn,
            how=how,
            by=self.by,
            at=self.at(),
            device=self.device,
            **given,
        )
        self.readings.append(reading)
        return reading

    def text(self, characteristic: str, instance: str, position: str, text: str, **given: Any) -> Reading:
        """A number exactly as somebody typed it."""
        how = given.pop("how", "value")
        return self.write(
            characteristic, instance, position, how, value=self.typed(text, characteristic), **given
        )

    def size(
        self,
        characteristic: str,
        instance: str,
        position: str,
        true: float,
        gauge: Gauge,
        *,
        times: int = 1,
        expands: float = STEEL,
        **given: Any,
    ) -> None:
        """Read a true size (in the row's unit, at 20 °C) with a gauge, so many times."""
        row = catalog().characteristics[characteristic]
        warm = {}
        if self.room is not None and row.temperature == "to_20":
            both = Typed(f"{self.room:g} °C", "°C", parse(f"{self.room:g} °C", "temperature").si)
            warm = {"part_temperature": both, "gauge_temperature": both}
            true *= 1 + (expands - STEEL) * (self.room - 20)
        for _ in range(times):
            seen = self.chance.gauss(true + gauge.error, gauge.scatter)
            text = self.figures(round(seen / gauge.marks) * gauge.marks, gauge.decimals)
            self.text(characteristic, instance, position, text, instrument=gauge.key, **warm, **given)

    def figures(self, number: float, decimals: int) -> str:
        """Figures as this person types them: one of the two uses the comma."""
        text = f"{number:.{decimals}f}"
        return text.replace(".", ",") if self.by == "TA" else text

    def feel(self, characteristic: str, instance: str, position: str, answer: str, **given: Any) -> Reading:
        """A feeler's two answers."""
        read = parse_feeler(answer, "mm", blades=given.pop("blades", ()))
        sides = {
            name: Typed(side.text, side.unit, side.si)
            for name, side in (("goes", read.goes), ("does_not", read.does_not))
            if side is not None
        }
        given.setdefault("instrument", "feeler")
        return self.write(characteristic, instance, position, "bracket", **sides, **given)

    def look(
        self, characteristic: str, instance: str, position: str, word: str, text: str = "", **given: Any
    ) -> Reading:
        """Something seen, felt or graded."""
        row = catalog().characteristics[characteristic]
        how: How = "grade" if row.kind == "grade" else "observation"
        return self.write(characteristic, instance, position, how, word=word, text=text, **given)

    def find(self, text: str, failure: str | None = None, part: str | None = None) -> None:
        """Something seen that no gauge reads."""
        self.findings.append(
            Finding(
                id=self.new_id("finding"), text=text, failure=failure, part=part, by=self.by, at=self.at()
            )
        )
