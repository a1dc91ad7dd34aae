"""The shop's settings: one row."""

from django.db import models

from gudgeon.job.readings import Typed
from gudgeon.records.fields import MaybeField, StructField
from gudgeon.records.models.row import Row


class Shop(Row):
    """What holds for the whole shop. Changing the units shown never changes a stored value."""

    name = models.CharField(max_length=120, default="", blank=True)
    units = models.CharField(max_length=10, default="metric")  # metric or inch
    paper = models.CharField(max_length=10, default="A4")  # A4 or Letter
    currency = models.CharField(max_length=3, default="EUR")  # ISO 4217
    altitude = MaybeField(Typed)
    zone = models.CharField(max_length=64, default="UTC")  # a name of the IANA time zone database
    # Scope -> hours of work the shop reckons with, from and to.
    hours = StructField(dict[str, tuple[Typed, Typed]], default=dict)
    phones = models.CharField(max_length=40, default="", blank=True)  # address they come in by; empty: none
    next_job_number = models.PositiveIntegerField(default=1)

    class Meta:
        db_table = "shop"
        constraints = [models.CheckConstraint(condition=models.Q(pk=1), name="one_shop")]
