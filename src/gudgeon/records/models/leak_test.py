"""Leak-down tests, with their repeats."""

from typing import ClassVar

from django.db import models

from gudgeon.job.readings import Typed
from gudgeon.job.tests import LeakReading, Outlet, PathFlow, Strength
from gudgeon.records.fields import MaybeField, StructField
from gudgeon.records.models.entry import Entry
from gudgeon.records.models.fact import FactManager
from gudgeon.records.models.instrument import Tester


class LeakTest(Entry):
    """One leak-down test of one cylinder. The percentage is worked out, never stored."""

    cylinder = models.CharField(max_length=32)
    occasion = models.CharField(max_length=16)
    turn = models.PositiveSmallIntegerField(default=1)
    warm = models.BooleanField()
    tester = models.ForeignKey(
        Tester, on_delete=models.PROTECT, to_field="key", related_name="leak_tests", db_column="tester"
    )
    readings = StructField(tuple[LeakReading, ...])
    outlets = StructField(dict[Outlet, Strength], default=dict)
    ambient_pressure = MaybeField(Typed)
    ambient_temperature = MaybeField(Typed)
    flows = StructField(tuple[PathFlow, ...], default=tuple)
    note = models.TextField(default="", blank=True)

    objects: ClassVar[FactManager["LeakTest"]] = FactManager()

    class Meta(Entry.Meta):
        db_table = "leak_test"
