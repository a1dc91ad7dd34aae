"""Photographs of a job."""

from typing import ClassVar

from django.db import models

from gudgeon.records.models.entry import Entry
from gudgeon.records.models.fact import FactManager


class Photograph(Entry):
    """A photograph with its caption and place in the order; the pictures lie in the store under these hashes.

    No foreign key to the stored files: a job file brings the list before anything brings the pictures.
    """

    sha256 = models.CharField(max_length=64)
    screen = models.CharField(max_length=64)
    thumbnail = models.CharField(max_length=64)
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()
    taken = models.CharField(max_length=32, default="", blank=True)
    caption = models.CharField(max_length=300, default="", blank=True)
    place = models.IntegerField(default=0)
    part = models.CharField(max_length=64, null=True)  # noqa: DJ001  none: of the whole job
    instance = models.CharField(max_length=32, default="", blank=True)
    step = models.CharField(max_length=64, null=True)  # noqa: DJ001  none: of no step
    finding = models.CharField(max_length=64, null=True)  # noqa: DJ001  none: of no finding
    out = models.BooleanField(default=False)

    objects: ClassVar[FactManager["Photograph"]] = FactManager()

    class Meta(Entry.Meta):
        db_table = "photograph"
