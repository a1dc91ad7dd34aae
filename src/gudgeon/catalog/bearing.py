"""Which readings bear on which part: the top ring of cylinder 2 bears on the ring set of cylinder 2."""

from gudgeon.catalog.characteristic import Characteristic
from gudgeon.catalog.layout import Layout, counts
from gudgeon.catalog.rows import Part

WHOLE_ENGINE = ("engine", "head")
OF_A_CYLINDER = frozenset(
    {"cylinder", "piston", "piston_boss", "compression_ring", "oil_rail", "valve", "intake_valve"}
    | {"exhaust_valve", "valve_spring", "rod", "crankpin", "web", "rod_bolt", "plug"}
)


def bears_on(part: Part, instance: str, characteristic: Characteristic, place: str, layout: Layout) -> bool:
    """Whether a reading of ``characteristic`` at ``place`` speaks of the part fitted at ``instance``.

    One key within the other ("1.in.2" in "1") speaks of it; a part or a row of the whole engine takes all.
    """
    if part.side and counts(layout)["cams"] > 1 and {"in", "ex"} & set(place.split(".")):
        return part.side in place.split(".")
    if part.per in WHOLE_ENGINE or characteristic.per in WHOLE_ENGINE:
        return True
    return instance == place or _within(place, instance) or _within(instance, place)


def cylinder_of(part: Part, instance: str) -> str:
    """The cylinder a part belongs to; empty for what belongs to none, or to all."""
    return instance.partition(".")[0] if part.per in OF_A_CYLINDER else ""


def _within(inner: str, outer: str) -> bool:
    return inner.startswith(f"{outer}.")
