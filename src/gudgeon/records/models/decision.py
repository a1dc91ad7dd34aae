"""A person's word on one part."""

from typing import ClassVar

from django.db import models

from gudgeon.job.objects import Snapshot
from gudgeon.records.fields import StructField
from gudgeon.records.models.entry import Entry
from gudgeon.records.models.fact import FactManager


class Decision(Entry):
    """What the builder decided, and what the builder saw when deciding."""

    part = models.CharField(max_length=64)  # key of a catalog part
    instance = models.CharField(max_length=32)
    choice = models.CharField(max_length=16)
    reason = models.TextField(default="", blank=True)
    snapshot = StructField(Snapshot)
    apprentice = models.BooleanField(default=False)  # waits for a builder's approval

    objects: ClassVar[FactManager["Decision"]] = FactManager()

    class Meta(Entry.Meta):
        db_table = "decision"
