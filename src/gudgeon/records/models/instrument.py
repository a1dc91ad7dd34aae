"""Gauges and leak-down testers of the shop."""

from typing import ClassVar

from django.db import models

from gudgeon.records.fields import StructField
from gudgeon.records.models.fact import Fact, FactManager
from gudgeon.records.models.row import Row


class Instrument(Row):
    """A gauge: a series of checks, and how it repeats."""

    key = models.CharField(max_length=64, unique=True)
    name = models.CharField(max_length=120)
    tool = models.CharField(max_length=64)  # key of a catalog tool
    step = models.CharField(max_length=40)
    repeat_sd = models.CharField(max_length=40, null=True)  # noqa: DJ001  none: the class's own is used
    repeat_dof = models.FloatField(default=4.0)
    expansion = models.FloatField(default=11.5e-6)
    blades = StructField(tuple[str, ...], default=tuple)
    in_use = models.BooleanField(default=True)

    class Meta:
        db_table = "instrument"


class Check(Fact):
    """One check of an instrument. A wrong one is followed by a right one."""

    instrument = models.ForeignKey(
        Instrument,
        on_delete=models.PROTECT,
        to_field="key",
        related_name="checks",
        db_column="instrument",
    )
    date = models.DateField()
    correction = models.CharField(max_length=40)
    expanded_uncertainty = models.CharField(max_length=40)
    coverage = models.FloatField(default=2.0)
    due = models.DateField(null=True)
    checked_by = models.CharField(max_length=120, default="", blank=True)
    replaces = models.OneToOneField(
        "self", on_delete=models.PROTECT, null=True, related_name="replaced_by", db_column="replaces"
    )

    objects: ClassVar[FactManager["Check"]] = FactManager()

    class Meta(Fact.Meta):
        db_table = "instrument_check"


class Tester(Row):
    """A leak-down tester. No restrictor: it is not known, and percentages compare with this tester only."""

    key = models.CharField(max_length=64, unique=True)
    name = models.CharField(max_length=120)
    restrictor = models.CharField(max_length=40, null=True)  # noqa: DJ001  none: not known
    discharge = models.FloatField(default=0.8)
    percent_only = models.BooleanField(default=False)
    gauge_match = models.CharField(max_length=40, default="", blank=True)
    gauge_step = models.CharField(max_length=40, default="", blank=True)
    gauge_scale = models.FloatField(default=0.01)
    in_use = models.BooleanField(default=True)

    class Meta:
        db_table = "tester"
