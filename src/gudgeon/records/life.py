"""An engine's life over all its jobs: what is followed over the hours, in a fixed number of queries."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from typing import TypeVar, cast

import msgspec

from gudgeon.assess.diagnosis.history import FOLLOWED
from gudgeon.job import Tester, objects
from gudgeon.records import models, shapes
from gudgeon.records.queries import engine_of, job_row, with_checks
from gudgeon.records.sheets import sheet_of


def life_of(number: str) -> tuple[objects.Job, ...]:
    """Every job of the engine of this one, oldest first, each holding only its leak-downs and valve gaps."""
    engine = job_row(number).engine
    rows = list(models.Job.objects.filter(engine=engine).select_related("sheet").order_by("opened", "pk"))
    keys = [row.pk for row in rows]
    parts = list(engine.parts.order_by("pk"))
    links = shapes.links(parts, ())
    tests = _by_job(models.LeakTest.objects.filter(job__in=keys).order_by("pk"))
    gaps = _by_job(models.Reading.objects.filter(job__in=keys, characteristic__in=FOLLOWED).order_by("pk"))
    used = {row.instrument_id for found in gaps.values() for row in found if row.instrument_id}
    gauges = with_checks(list(models.Instrument.objects.filter(key__in=used)))
    testers = _testers({row.tester_id for found in tests.values() for row in found})
    alive = engine_of(engine)
    return tuple(
        objects.Job(
            number=row.number,
            title=row.title,
            arrival=cast(objects.Arrival, row.arrival),
            opened=row.opened.isoformat(),
            closed=shapes.day(row.closed),
            altitude=row.altitude,
            engine=alive,
            sheet=sheet_of(row.sheet),
            parts=tuple(map(shapes.part, parts)),
            instruments=gauges,
            testers=testers,
            leak_tests=tuple(shapes.leak_test(one, links) for one in tests[row.pk]),
            readings=tuple(
                msgspec.structs.replace(shapes.reading(one, links), zeroing=None) for one in gaps[row.pk]
            ),
        )
        for row in rows
    )


def _testers(keys: Iterable[str]) -> tuple[Tester, ...]:
    return tuple(map(shapes.tester, models.Tester.objects.filter(key__in=list(keys))))


E = TypeVar("E", bound=models.Entry)


def _by_job(rows: Iterable[E]) -> Mapping[int, list[E]]:
    found: dict[int, list[E]] = defaultdict(list)
    for row in rows:
        found[row.job_id].append(row)
    return found
