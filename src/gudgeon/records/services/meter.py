"""The hour meter of an engine, as it was read on the days it was here."""

from datetime import date

from gudgeon.job import Typed
from gudgeon.records import models
from gudgeon.records.services.entry import BadEntry
from gudgeon.records.services.typed import quantity_or_none


def visit_of(engine: models.Engine, on: date) -> models.Visit | None:
    """The meter as read on a day; none where it was not."""
    return models.Visit.objects.filter(engine=engine, date=on).order_by("pk").last()


def as_text(typed: Typed) -> str:
    """A quantity as it was typed, with its unit."""
    return f"{typed.text} {typed.unit}" if typed.text[-1:].isdigit() else typed.text


def read_meter(engine: models.Engine, text: str, on: date, *, meter_changed: bool = False) -> None:
    """The meter as read on a day; a second reading of that day mends the first, an empty one takes it back.

    It counts on from the visit before, unless it was changed. Raises BadEntry.
    """
    meter, visit = quantity_or_none("meter", text, "time", "h"), visit_of(engine, on)
    if meter is None:
        models.Visit.objects.filter(engine=engine, date=on).delete()
        return
    _went_on(engine, meter, on, changed=meter_changed)
    if visit is None:
        models.Visit.objects.create(engine=engine, date=on, meter=meter, meter_changed=meter_changed)
        return
    visit.meter, visit.meter_changed = meter, meter_changed
    visit.save(update_fields=["meter", "meter_changed"])


def _went_on(engine: models.Engine, meter: Typed, on: date, *, changed: bool) -> None:
    before = models.Visit.objects.filter(engine=engine, date__lt=on).order_by("date", "pk").last()
    if before is None or changed or meter.si >= before.meter.si:
        return
    raise BadEntry(
        f"The hour meter read {as_text(before.meter)} on {before.date.isoformat()}; {as_text(meter)} cannot "
        "come after it unless the meter was changed. Tick that it was, or mend the figure.",
        "meter",
        meter.text,
    )
