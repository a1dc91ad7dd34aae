"""What was read at the bench."""

from typing import ClassVar

from django.db import models

from gudgeon.job.readings import Typed
from gudgeon.records.fields import MaybeField
from gudgeon.records.models.engine import Part
from gudgeon.records.models.entry import Entry
from gudgeon.records.models.fact import FactManager
from gudgeon.records.models.instrument import Instrument
from gudgeon.records.models.zeroing import Zeroing


class Reading(Entry):
    """One reading of one place on one occasion."""

    characteristic = models.CharField(max_length=64)
    instance = models.CharField(max_length=32)
    position = models.CharField(max_length=64, default="", blank=True)
    occasion = models.CharField(max_length=16)
    turn = models.PositiveSmallIntegerField(default=1)
    part = models.ForeignKey(Part, on_delete=models.PROTECT, null=True, related_name="readings")
    how = models.CharField(max_length=24)
    value = MaybeField(Typed)
    goes = MaybeField(Typed)
    does_not = MaybeField(Typed)
    word = models.CharField(max_length=64, null=True)  # noqa: DJ001  none and empty differ in a job file
    text = models.TextField(default="", blank=True)
    instrument = models.ForeignKey(
        Instrument,
        on_delete=models.PROTECT,
        to_field="key",
        null=True,
        related_name="readings",
        db_column="instrument",
    )
    zeroing = models.ForeignKey(Zeroing, on_delete=models.PROTECT, null=True, related_name="readings")
    part_temperature = MaybeField(Typed)
    gauge_temperature = MaybeField(Typed)
    slip_confirmed = models.BooleanField(default=False)
    note = models.TextField(default="", blank=True)

    objects: ClassVar[FactManager["Reading"]] = FactManager()

    class Meta(Entry.Meta):
        db_table = "reading"
        indexes = [
            *Entry.Meta.indexes,
            models.Index(fields=["characteristic", "job"], name="reading_history"),
        ]
