"""A limit is asked for at the moment of measuring, once for an engine type."""

from dataclasses import dataclass, field

from gudgeon.catalog import Characteristic
from gudgeon.datasheet import Limit
from gudgeon.job import Job
from gudgeon.quantities import UNITS, show, shown_unit

FIELDS = ("band_low", "band_high", "lower", "upper", "page")


@dataclass(frozen=True, slots=True)
class LimitAsked:
    """What the sheet says, or the question."""

    ask: bool
    words: str
    unit: str
    band: bool
    service: bool
    band_words: str
    wrong: str = ""
    typed: dict[str, str] = field(default_factory=lambda: dict.fromkeys(FIELDS, ""))


def limit_asked(row: Characteristic, job: Job, measured: bool, units: str) -> LimitAsked | None:
    """The limit in words, or the question once something was read; None where there is nothing to judge."""
    if row.kind != "number" or row.limit_kind in ("none", "words") or row.purpose in ("record", "diagnosis"):
        return None
    rows = job.sheet.limits.get(row.key, ())
    known = [job.sheet.limit(row.key, one.instance, one.position) for one in rows]
    words = "; ".join(limit_words(limit, row, units) for limit in known if limit and not limit.empty)
    if rows and not words:
        words = "the manual gives none"
    return LimitAsked(
        ask=measured and not rows,
        words=words,
        unit=UNITS[shown_unit(row.unit, units)].shown,
        band=row.purpose in ("setting", "both") or row.limit_kind == "new_and_service",
        service=row.purpose in ("condemning", "both"),
        band_words="Set between" if row.purpose == "setting" else "New",
    )


def limit_words(limit: Limit, row: Characteristic, units: str) -> str:
    """ "at most 77.05 mm (manual p. 4-12)"."""
    unit = shown_unit(row.unit, units)
    step = row.step / 10 if row.step and unit != row.unit else None  # in its own unit: as the sheet has it
    said = []
    if limit.lower is not None:
        said.append(f"at least {show(limit.lower, unit, step)}")
    if limit.upper is not None:
        said.append(f"at most {show(limit.upper, unit, step)}")
    band = [show(end, unit, step) for end in (limit.band_low, limit.band_high) if end is not None]
    if band:
        said.append(f"{'set' if row.purpose == 'setting' else 'new'} {' to '.join(band)}")
    page = f" (page {limit.page})" if limit.page else ""
    place = ", ".join(word for word in (limit.row.instance, limit.row.position) if word)
    return f"{', '.join(said)}{page}{f' for {place}' if place else ''}"
