"""Whether a data sheet makes sense: names, units, sides and layout, judged by the catalog."""

import re
from collections.abc import Iterator, Mapping
from typing import Final

from gudgeon.catalog import catalog
from gudgeon.catalog.characteristic import Characteristic
from gudgeon.catalog.layout import Condition, Layout, LayoutRows, applies
from gudgeon.catalog.places import instances
from gudgeon.datasheet.faults import Fault
from gudgeon.datasheet.shape import unknown
from gudgeon.datasheet.sheet import DataSheet, LimitRow, TorqueRow, fits, resolved
from gudgeon.datasheet.vocabulary import CAPACITIES, FLUIDS, GEOMETRY, MATERIALS
from gudgeon.quantities import UNITS, Refused, parse

_KEY: Final = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_SIDES: Final = ("band_low", "band_high", "service_min", "service_max")
_NEW: Final = "a new part would be condemned; the service limit is allowed on the worn side."
_MOST: Final = 64  # places of any kind an engine on a bench can have


def faults(sheet: DataSheet, file: str = "") -> tuple[Fault, ...]:
    """Everything that is wrong with the sheet."""
    return tuple(_Checks(sheet, file).all())


def slips(sheet: DataSheet, file: str = "") -> tuple[Fault, ...]:
    """Limits outside what the trade knows: worth a second look, never refused."""
    return tuple(_Checks(sheet, file).slips())


class _Checks:
    """One pass over a sheet; each method yields the faults of one part."""

    def __init__(self, sheet: DataSheet, file: str) -> None:
        self.sheet = sheet
        self.file = file

    def all(self) -> Iterator[Fault]:
        yield from self.heading()
        wrong_layout = list(self.layout())
        yield from wrong_layout
        yield from self.named_parts()
        yield from self.choices()
        for name, limit_rows in self.sheet.limits.items():
            yield from self.limits(name, limit_rows, places_known=not wrong_layout)
        for joint, torque_rows in self.sheet.torques.items():
            yield from self.torques(joint, torque_rows)
        yield from self.quantity("leakdown", "supply", self.sheet.leakdown.supply, "pressure")

    def fault(self, row: str, key: str, says: str) -> Fault:
        return Fault(self.file, row, key, says)

    def quantity(
        self, row: str, key: str, text: str, kind: str, *, signed: bool = False, needed: bool = False
    ) -> Iterator[Fault]:
        if not text and not needed:
            return
        try:
            parse(text, kind, signed=signed)
        except Refused as reason:
            yield self.fault(row, key, str(reason))

    def heading(self) -> Iterator[Fault]:
        sheet = self.sheet
        if not _KEY.fullmatch(sheet.key):
            says = f"“{sheet.key}” was given; small letters, digits and single dashes are allowed."
            yield self.fault("", "key", says)
        if not sheet.name.strip():
            yield self.fault("", "name", "nothing was given; the engine type's name is needed.")
        if sheet.revision < 1:
            yield self.fault("", "revision", f"{sheet.revision} was given; 1 or more is allowed.")

    def layout(self) -> Iterator[Fault]:
        known = catalog().layout_rows
        found = [*self._answers(known), *self._counts(known)]
        yield from found
        if not found:
            yield from self._impossible(known)

    def _answers(self, known: LayoutRows) -> Iterator[Fault]:
        for name, value in self.sheet.layout.fields.items():
            if name not in known.fields:
                yield self.fault("layout, fields", name, unknown(name, known.fields))
            elif value not in known.fields[name].values:
                allowed = ", ".join(known.fields[name].values)
                yield self.fault("layout, fields", name, f"“{value}” was given; allowed are {allowed}.")

    def _counts(self, known: LayoutRows) -> Iterator[Fault]:
        asked = {name: row for name, row in known.counts.items() if row.asked}
        for name, value in self.sheet.layout.counts.items():
            if name not in asked:
                yield self.fault("layout, counts", name, unknown(name, asked))
            elif asked[name].whole and (value != int(value) or not 0 <= value <= _MOST):
                says = f"{value} was given; a whole number from 0 to {_MOST} is allowed."
                yield self.fault("layout, counts", name, says)
            elif not 0 <= value <= _MOST:
                yield self.fault("layout, counts", name, f"{value} was given; 0 to {_MOST} is allowed.")
        if self.sheet.layout.counts.get("cylinders", 1) < 1:
            yield self.fault("layout, counts", "cylinders", "0 was given; 1 or more is allowed.")

    def _impossible(self, known: LayoutRows) -> Iterator[Fault]:
        layout = self.sheet.layout
        for row in known.impossible:
            met = row.applies_if.keys() <= layout.fields.keys() and applies(row.applies_if, layout)
            if met and not row.soft and not applies(row.then, layout):
                met_words, then_words = _in_words(row.applies_if), _answers(row.then, layout)
                says = f"{row.why.rstrip('.')}; {met_words} was given with {then_words}."
                yield self.fault("layout, fields", ", ".join(row.then), says)

    def named_parts(self) -> Iterator[Fault]:
        sheet = self.sheet
        for name, text in sheet.geometry.items():
            term = GEOMETRY.get(name)
            if term is None:
                yield self.fault("geometry", name, unknown(name, GEOMETRY))
            else:
                yield from self.quantity("geometry", name, text, term.kind, signed=term.signed, needed=True)
        for name, material in sheet.materials.items():
            yield from self.known("materials", name, MATERIALS)
            yield from self.quantity(f"materials, {name}", "expansion", material.expansion, "expansion")
        for name, capacity in sheet.capacities.items():
            yield from self.known("capacities", name, CAPACITIES)
            yield from self.quantity(f"capacities, {name}", "volume", capacity.volume, "volume", needed=True)
        for name in sheet.fluids:
            yield from self.known("fluids", name, FLUIDS)

    def known(self, row: str, name: str, names: Mapping[str, object]) -> Iterator[Fault]:
        if name not in names:
            yield self.fault(row, name, unknown(name, names))

    def choices(self) -> Iterator[Fault]:
        asked = {
            row.definition.field: row.definition
            for row in catalog().characteristics.values()
            if row.definition
        }
        for name, value in self.sheet.choices.items():
            if name not in asked:
                yield self.fault("choices", name, unknown(name, asked))
            elif value not in asked[name].choices:
                allowed = ", ".join(asked[name].choices)
                yield self.fault("choices", name, f"“{value}” was given; allowed are {allowed}.")

    def limits(self, name: str, limit_rows: tuple[LimitRow, ...], places_known: bool) -> Iterator[Fault]:
        described = catalog().characteristics.get(name)
        if described is None:
            yield self.fault("limits", name, unknown(name, catalog().characteristics))
            return
        if described.kind != "number":
            yield self.fault("limits", name, "this is judged by eye in words; it takes no limit in figures.")
            return
        seen: set[tuple[str, str]] = set()
        for number, row in enumerate(limit_rows, 1):
            where = f"limits, {name}, row {number}"
            if row.place in seen:
                yield self.fault(where, "instance", "the same places have a row already; one row is allowed.")
            seen.add(row.place)
            if places_known:
                yield from self._places(where, described, row)
            yield from self._figures(where, described, row)

    def _places(self, where: str, described: Characteristic, row: LimitRow) -> Iterator[Fault]:
        places = instances(self.sheet.layout, described.per)
        if not any(fits(row.instance, place, ".") for place in places):
            says = f"“{row.instance}” is no place on this engine; its places are {', '.join(places)}."
            yield self.fault(where, "instance", says)
        positions = described.positions or ("",)
        if not any(fits(row.position, position, "/") for position in positions):
            says = f"“{row.position}” is no position here; the positions are {', '.join(positions)}."
            yield self.fault(where, "position", says)

    def _figures(self, where: str, described: Characteristic, row: LimitRow) -> Iterator[Fault]:
        kind = UNITS[described.unit].kind
        texts = {side: getattr(row, side) for side in _SIDES}
        found = [
            fault
            for side, text in texts.items()
            for fault in self.quantity(where, side, text, kind, signed=described.signed)
        ]
        yield from found
        if not any(texts.values()) and not row.not_given:
            says = "no limit was given; give one, or not_given = true where the manual gives none."
            yield self.fault(where, "", says)
        if any(texts.values()) and row.not_given:
            yield self.fault(where, "not_given", "true was given beside a limit; one of the two is allowed.")
        if not found:
            out_of_order = list(self._order(where, described, row))
            yield from out_of_order or self._sides(where, described, row)

    def _order(self, where: str, described: Characteristic, row: LimitRow) -> Iterator[Fault]:
        limit = resolved(described.key, row)
        if _above(limit.band_low, limit.band_high):
            says = f"{row.band_low} to {row.band_high} was given; the lower end comes first."
            yield self.fault(where, "band_low", says)
        if _above(limit.lower, limit.upper):
            says = f"at least {row.service_min} and at most {row.service_max}: no size is allowed by both."
            yield self.fault(where, "service_min", says)
        if _above(_first(limit.band_high, limit.band_low), limit.upper):
            says = f"{row.service_max} lies below the new size, {row.band_high or row.band_low}; {_NEW}"
            yield self.fault(where, "service_max", says)
        if _above(limit.lower, _first(limit.band_low, limit.band_high)):
            says = f"{row.service_min} lies above the new size, {row.band_low or row.band_high}; {_NEW}"
            yield self.fault(where, "service_min", says)

    def _sides(self, where: str, described: Characteristic, row: LimitRow) -> Iterator[Fault]:
        one_sided = {"upper": ("service_min", "service_max"), "lower": ("service_max", "service_min")}
        wrong, right = one_sided.get(_wears(described), ("", ""))
        if wrong and getattr(row, wrong) and not getattr(row, right):
            least, most = ("least", "most") if wrong == "service_min" else ("most", "least")
            says = (
                f"{getattr(row, wrong)} was given as the {least} it may be; this wears the other way, "
                f"so the {most} it may be is wanted ({right})."
            )
            yield self.fault(where, wrong, says)

    def torques(self, joint: str, torque_rows: tuple[TorqueRow, ...]) -> Iterator[Fault]:
        yield from self.known("torques", joint, catalog().torque_classes)
        seen: set[str] = set()
        for number, row in enumerate(torque_rows, 1):
            where = f"torques, {joint}, row {number}"
            if row.where in seen:
                yield self.fault(where, "where", f"“{row.where}” has a row already; say which joint this is.")
            seen.add(row.where)
            for stage in row.stages:
                yield from self.quantity(where, "stages", stage, "torque", needed=True)
            yield from self.quantity(where, "angle", row.angle, "angle")
            if bool(row.stages or row.angle) == row.absent:
                says = "give stages or an angle, or absent = true where this engine has no such joint."
                yield self.fault(where, "", says)

    def slips(self) -> Iterator[Fault]:
        for name, limit_rows in self.sheet.limits.items():
            described = catalog().characteristics[name]
            rough = described.rough
            for number, row in enumerate(limit_rows, 1):
                for side in _SIDES if rough else ():
                    text, value = getattr(row, side), _value(described, getattr(row, side))
                    if rough and value is not None and not rough.low <= value <= rough.high:
                        yield self.fault(f"limits, {name}, row {number}", side, _unusual(described, text))


def _value(described: Characteristic, text: str) -> float | None:
    return parse(text, UNITS[described.unit].kind, signed=described.signed).si if text else None


def _unusual(described: Characteristic, text: str) -> str:
    low, high = described.plausible or (0, 0)
    top = f"{high:g} {UNITS[described.unit].shown}".strip()
    return f"{text} was given; usual is {low:g} to {top}: look at the manual once more."


def _wears(described: Characteristic) -> str:
    """The side its service limit lies on: as declared, or as every rough limit of the trade has it."""
    if described.limit_kind != "new_and_service":
        return described.limit_kind
    sides = {rough.side for rough in described.rough_limits if rough.of != "change" and rough.side != "new"}
    return sides.pop() if len(sides) == 1 else ""


def _above(low: float | None, high: float | None) -> bool:
    return low is not None and high is not None and low > high


def _first(*values: float | None) -> float | None:
    return next((value for value in values if value is not None), None)


def _in_words(condition: Condition) -> str:
    return ", ".join(f"{field} = “{value}”" for field, value in condition.items())


def _answers(condition: Condition, layout: Layout) -> str:
    return ", ".join(f"{field} = “{layout.fields[field]}”" for field in condition if field in layout.fields)
