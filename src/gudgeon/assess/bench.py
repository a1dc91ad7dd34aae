"""One job laid out for judging: places, gauges, limits and materials, each found by its name once."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from gudgeon.assess.gauges import Gauge, gauge
from gudgeon.assess.materials import Stuff, material
from gudgeon.assess.results import Bounds, Place
from gudgeon.assess.rules import LIMIT, SETTING, rule_for
from gudgeon.catalog import Catalog, Characteristic, applies, catalog, instances, words_for
from gudgeon.datasheet import Limit
from gudgeon.job import (
    Instrument,
    Job,
    Occasion,
    Part,
    Round,
    Zeroing,
    of_the_part_that_stays,
    rounds_by_place,
)
from gudgeon.quantities import UNITS, shown_unit

ASSEMBLED: frozenset[Occasion] = frozenset({"new_part", "assembled", "proved"})


@dataclass(frozen=True)
class Bench:
    """What the assessment looks things up in; made once for a job."""

    job: Job
    units: str = "metric"

    @cached_property
    def catalog(self) -> Catalog:
        """The trade."""
        return catalog()

    @cached_property
    def rounds(self) -> Mapping[Place, tuple[Round, ...]]:
        """The rounds of readings of every place, oldest first."""
        found = rounds_by_place(self.job.readings)
        return {self.place(*key): rounds for key, rounds in sorted(found.items())}

    @cached_property
    def read_at(self) -> frozenset[tuple[str, str]]:
        """What was read, and where: row and instance."""
        return frozenset((place.characteristic, place.instance) for place in self.rounds)

    @cached_property
    def instruments(self) -> Mapping[str, Instrument]:
        """The gauges by key."""
        return {one.key: one for one in self.job.instruments}

    @cached_property
    def zeroings(self) -> Mapping[str, Zeroing]:
        """The zeroings by key."""
        return {one.key: one for one in self.job.zeroings}

    @cached_property
    def parts(self) -> Mapping[str, Part]:
        """The physical parts by id."""
        return {one.id: one for one in self.job.parts}

    def place(self, characteristic: str, instance: str, position: str = "") -> Place:
        """The place; where there is only one position it goes by no name."""
        row = self.catalog.characteristics[characteristic]
        return Place(characteristic, instance, position if len(row.positions) > 1 else "")

    def row(self, place: Place) -> Characteristic:
        """What is measured there."""
        return self.catalog.characteristics[place.characteristic]

    def where(self, place: Place) -> str:
        """The place's own words: "cylinder 1, intake valve 2"."""
        return words_for(self.job.sheet.layout, self.row(place).per, place.instance)

    def instances(self, row: Characteristic) -> tuple[str, ...]:
        """The places there is a reading set for on this engine."""
        return instances(self.job.sheet.layout, row.per)

    def applies(self, row: Characteristic) -> bool:
        """Whether this engine has what the row measures."""
        return applies(row.applies_if, self.job.sheet.layout)

    def now(self, place: Place) -> Round | None:
        """The newest round of the part that stays."""
        staying = of_the_part_that_stays(self.rounds.get(place, ()), self.job.parts)
        return staying[-1] if staying else None

    def gauge(self, key: str | None, row: Characteristic) -> Gauge | None:
        """A gauge in SI for what this row measures."""
        instrument = self.instruments.get(key or "")
        return gauge(instrument, UNITS[row.unit].kind) if instrument else None

    def unit(self, row: Characteristic) -> str:
        """The unit a row is shown in."""
        return shown_unit(row.unit, self.units) if row.unit else ""

    def stuff(self, row: Characteristic, instance: str = "") -> Stuff:
        """What the measured part is made of."""
        return material(row, instance, self.job.sheet)

    def limit(self, place: Place) -> Limit | None:
        """The limit on the engine's own sheet."""
        found = self.job.sheet.limit(place.characteristic, place.instance, place.position)
        return None if found is None or found.empty else found

    def none_given(self, place: Place) -> bool:
        """Whether the manual was looked up and gives no limit."""
        found = self.job.sheet.limit(place.characteristic, place.instance, place.position)
        return found is not None and found.row.not_given

    def bounds(self, place: Place, occasion: Occasion | None) -> Bounds | None:
        """The limit this place is judged by on this occasion: condemning, or a band to be set."""
        limit, row = self.limit(place), self.row(place)
        if limit is None:
            return None
        service, band = (limit.lower, limit.upper), (limit.band_low, limit.band_high)
        setting = row.purpose in ("setting", "record") or (row.purpose == "both" and occasion in ASSEMBLED)
        if setting:
            low, high = band if band != (None, None) else service
            return Bounds(low, high, limit.page, "", "band")
        if service != (None, None):
            return Bounds(*service, limit.page, "", "service")
        return Bounds(*band, limit.page, "", "band")

    def rule(self, bounds: Bounds) -> str:
        """The rule the builder judges this kind of limit by."""
        return rule_for(self.job.rules, LIMIT if bounds.kind == "service" else SETTING)
