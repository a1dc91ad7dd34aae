"""What a gauge can be set to zero on: a micrometer, a ring, or the mating part itself."""

from collections.abc import Iterator, Sequence

from gudgeon.catalog import Characteristic, catalog, instances, words_for
from gudgeon.job import Instrument, Job, Part
from gudgeon.records.services.job import PartTyped, add_part

STANDARDS = frozenset({"micrometer", "setting_ring", "gauge_blocks", "caliper"})
# The size of the mate, and which part of the engine that is. A gauge zeroed there reads the clearance itself.
MATES = {
    "piston_skirt_diameter": "piston",
    "piston_pin_od": "piston_pin",
    "rocker_shaft_od": "rocker_shaft",
    "bucket_od": "valve_buckets",
}
MATE = "mate:"


def offered(
    rows: tuple[Characteristic, ...], job: Job, gauges: Sequence[Instrument]
) -> list[tuple[str, str]]:
    """Key and words of everything a gauge of this page can be set on."""
    standards = [(gauge.key, gauge.name) for gauge in gauges if gauge.tool in STANDARDS]
    return standards + list(dict(_mates(rows, job)).items())


def _mates(rows: tuple[Characteristic, ...], job: Job) -> Iterator[tuple[str, str]]:
    for row in rows:
        part = next((MATES[name] for name in row.inputs if name in MATES), None)
        if part is None or "direct_clearance" not in row.reads:
            continue
        for instance in instances(job.sheet.layout, row.per):
            where = words_for(job.sheet.layout, row.per, instance)
            words = f"the {catalog().parts[part].name.lower()} itself"
            yield f"{MATE}{part}|{instance}", f"{words}, {where}" if where else words


def settled(against: str, job: Job) -> str:
    """The mating part as the job knows it, written down when it is met for the first time."""
    if not against.startswith(MATE):
        return against
    key, _, instance = against.removeprefix(MATE).partition("|")
    found = staying(job, key, instance) or add_part(job.engine.key, PartTyped(part=key, instance=instance))
    return f"part:{found.id}"


def staying(job: Job, key: str, instance: str) -> Part | None:
    """The part of this kind that is in the engine, the newest first."""
    fitting = [part for part in job.parts if (part.part, part.instance) == (key, instance)]
    return next((part for part in reversed(fitting) if part.removed_hours is None), None)
