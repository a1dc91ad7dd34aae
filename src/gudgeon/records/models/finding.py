"""Something seen, heard or felt that no gauge reads."""

from typing import ClassVar

from django.db import models

from gudgeon.records.models.engine import Part
from gudgeon.records.models.entry import Entry
from gudgeon.records.models.fact import FactManager


class Finding(Entry):
    """A finding in the builder's words; ``failure`` names the catalog row where it fits."""

    text = models.TextField()
    failure = models.CharField(max_length=64, null=True)  # noqa: DJ001  none and empty differ in a job file
    part = models.ForeignKey(Part, on_delete=models.PROTECT, null=True, related_name="findings")
    kind = models.CharField(max_length=64, null=True)  # noqa: DJ001  catalog part, where no physical one is named

    objects: ClassVar[FactManager["Finding"]] = FactManager()

    class Meta(Entry.Meta):
        db_table = "finding"
