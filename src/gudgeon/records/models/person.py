"""Who works at the bench, and whose engine it is."""

from django.db import models

from gudgeon.records.models.row import Row


class Person(Row):
    """Somebody who works at the bench. The initials are what every fact is signed with, so they stay."""

    initials = models.CharField(max_length=8, unique=True)
    name = models.CharField(max_length=120)
    working = models.BooleanField(default=True)  # false: has left; still on the old records
    folded = models.BooleanField(default=False)  # explanations folded away for this person

    class Meta:
        db_table = "person"


class Customer(Row):
    """Somebody who brings an engine."""

    name = models.CharField(max_length=200, unique=True)

    class Meta:
        db_table = "customer"
