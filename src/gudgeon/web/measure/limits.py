"""A limit is asked for at the moment of measuring, once for an engine type."""

import re
from dataclasses import dataclass, field

from gudgeon.catalog import Characteristic, Layout, instances, position_words, words_for
from gudgeon.datasheet import Limit
from gudgeon.datasheet.sheet import fits
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
    least: bool
    most: bool
    band_words: str
    wrong: str = ""
    typed: dict[str, str] = field(default_factory=lambda: dict.fromkeys(FIELDS, ""))


def limit_asked(row: Characteristic, job: Job, measured: bool, units: str) -> LimitAsked | None:
    """The limit in words, or the question once something was read; None where there is nothing to judge."""
    if row.kind != "number" or row.limit_kind in ("none", "words") or row.purpose in ("record", "diagnosis"):
        return None
    rows = job.sheet.limits.get(row.key, ())
    known = [job.sheet.limit(row.key, one.instance, one.position) for one in rows]
    words = "; ".join(
        limit_words(limit, row, units, job.sheet.layout) for limit in known if limit and not limit.empty
    )
    if rows and not words:
        words = "the manual gives none"
    return LimitAsked(
        ask=measured and not rows,
        words=words,
        unit=UNITS[shown_unit(row.unit, units)].shown,
        band=row.purpose in ("setting", "both") or row.limit_kind == "new_and_service",
        least=row.purpose in ("condemning", "both") and row.limit_kind != "upper",
        most=row.purpose in ("condemning", "both") and row.limit_kind != "lower",
        band_words="Set between" if row.purpose == "setting" else "New",
    )


def limit_words(limit: Limit, row: Characteristic, units: str, layout: Layout) -> str:
    """ "at most 77.05 mm (page 4-12): exhaust valve 1 and exhaust valve 2"."""
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
    place = ", ".join(
        word
        for word in (
            limit.row.instance and _which(limit, row, layout),
            limit.row.position and _where(limit, row),
        )
        if word
    )
    return f"{', '.join(said)}{page}{f': {place}' if place else ''}"


def _which(limit: Limit, row: Characteristic, layout: Layout) -> str:
    """The ones a limit is for, by name; empty where it is for all of them."""
    meant = limit.row.instance
    named = [words_for(layout, row.per, one) for one in instances(layout, row.per) if fits(meant, one, ".")]
    if meant.startswith("*."):  # the same of each cylinder is named once
        named = list(dict.fromkeys(re.sub(r"^cylinder \d+, ", "", words) for words in named))
    return _all_of(named)


def _where(limit: Limit, row: Characteristic) -> str:
    meant = limit.row.position
    return _all_of([position_words(one, row) for one in row.positions if fits(meant, one, "/")])


def _all_of(named: list[str]) -> str:
    return " and ".join([", ".join(named[:-1]), named[-1]] if len(named) > 1 else named)
