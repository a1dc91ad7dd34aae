"""Engine types with their data sheets; engines, their hour meters and their parts."""

from typing import ClassVar

from django.db import models

from gudgeon.job.readings import Typed
from gudgeon.records.fields import StructField
from gudgeon.records.models.fact import Fact, FactManager
from gudgeon.records.models.row import Row


class EngineType(Row):
    """What a data sheet is about."""

    key = models.CharField(max_length=64, unique=True)
    name = models.CharField(max_length=200)

    class Meta:
        db_table = "engine_type"


class SheetRevision(Fact):
    """One revision of a data sheet, as canonical TOML text. Its hash says what it says."""

    type = models.ForeignKey(EngineType, on_delete=models.PROTECT, related_name="revisions")
    number = models.PositiveIntegerField()  # the order in which this shop got them; the text has its own
    content_hash = models.CharField(max_length=64, unique=True)
    text = models.TextField()

    objects: ClassVar[FactManager["SheetRevision"]] = FactManager()

    class Meta(Fact.Meta):
        db_table = "sheet_revision"
        constraints = [models.UniqueConstraint(fields=["type", "number"], name="sheet_revision_number")]


class Engine(Row):
    """An engine, which keeps its life across jobs."""

    key = models.CharField(max_length=64, unique=True)
    name = models.CharField(max_length=200)
    number = models.CharField(max_length=80, default="", blank=True)
    use = models.CharField(max_length=8, default="trail")
    type = models.ForeignKey(EngineType, on_delete=models.PROTECT, null=True, related_name="engines")

    class Meta:
        db_table = "engine"


class Visit(Row):
    """The hour meter as read on one day."""

    engine = models.ForeignKey(Engine, on_delete=models.PROTECT, related_name="visits")
    date = models.DateField()
    meter = StructField(Typed)
    meter_changed = models.BooleanField(default=False)

    class Meta:
        db_table = "visit"


class Part(Row):
    """A physical part in (or out of) an engine."""

    engine = models.ForeignKey(Engine, on_delete=models.PROTECT, related_name="parts")
    key = models.CharField(max_length=64)
    part = models.CharField(max_length=64)  # key of a catalog part
    instance = models.CharField(max_length=32)
    origin = models.CharField(max_length=12, default="found")
    fitted_hours = models.FloatField(null=True)
    removed_hours = models.FloatField(null=True)
    note = models.TextField(default="", blank=True)

    class Meta:
        db_table = "part"
        constraints = [models.UniqueConstraint(fields=["engine", "key"], name="part_once")]
