"""Phones and tablets that may come in, and the codes by which they were let in."""

from django.db import models

from gudgeon.records.models.job import Job
from gudgeon.records.models.person import Person
from gudgeon.records.models.row import Row


class Device(Row):
    """A paired device. What it proves itself with is kept as a hash only."""

    mark = models.CharField(max_length=16, unique=True)  # stands on the facts it sent
    proof = models.CharField(max_length=64, unique=True)  # SHA-256 of what its cookie holds
    person = models.ForeignKey(
        Person, on_delete=models.PROTECT, to_field="initials", null=True, related_name="+", db_column="person"
    )
    role = models.CharField(max_length=16)  # builder, apprentice or visitor
    job = models.ForeignKey(Job, on_delete=models.PROTECT, null=True, related_name="+")  # of a visitor
    paired = models.DateTimeField()
    seen = models.DateTimeField()
    revoked = models.DateTimeField(null=True)

    class Meta:
        db_table = "device"


class PairingCode(Row):
    """A code shown on the laptop: good once, for a few minutes."""

    code = models.CharField(max_length=64, unique=True)  # its keyed hash
    role = models.CharField(max_length=16)
    job = models.ForeignKey(Job, on_delete=models.CASCADE, null=True, related_name="+")
    until = models.DateTimeField()
    used = models.DateTimeField(null=True)

    class Meta:
        db_table = "pairing_code"
