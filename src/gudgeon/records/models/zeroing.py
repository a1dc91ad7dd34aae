"""Gauges set to zero on something: a ring, a micrometer, the mating part."""

from typing import ClassVar

from django.db import models

from gudgeon.records.models.fact import Fact, FactManager
from gudgeon.records.models.instrument import Instrument
from gudgeon.records.models.job import Job


class Zeroing(Fact):
    """A gauge set to zero on something, for one job."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="zeroings")
    key = models.CharField(max_length=64)
    instrument = models.ForeignKey(
        Instrument,
        on_delete=models.PROTECT,
        to_field="key",
        related_name="zeroings",
        db_column="instrument",
    )
    against = models.CharField(max_length=80)
    size = models.CharField(max_length=40, default="", blank=True)
    half_width = models.CharField(max_length=40, default="", blank=True)

    objects: ClassVar[FactManager["Zeroing"]] = FactManager()

    class Meta(Fact.Meta):
        db_table = "zeroing"
        constraints = [models.UniqueConstraint(fields=["job", "key"], name="zeroing_once")]
