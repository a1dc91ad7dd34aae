"""A builder's word on what an apprentice decided."""

from typing import ClassVar

from django.db import models

from gudgeon.records.models.fact import Fact, FactManager
from gudgeon.records.models.job import Job


class Approval(Fact):
    """The decision named stands; an apprentice's decision without one still waits."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="approvals")
    decision = models.CharField(max_length=64)  # key of a decision of this job

    objects: ClassVar[FactManager["Approval"]] = FactManager()

    class Meta(Fact.Meta):
        db_table = "approval"
        constraints = [models.UniqueConstraint(fields=["job", "decision"], name="approval_once")]
