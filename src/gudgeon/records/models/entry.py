"""What is entered on a form of a job: a fact that can be followed by a correction."""

from django.db import models

from gudgeon.records.models.fact import Fact
from gudgeon.records.models.job import Job


class Entry(Fact):
    """A fact entered on a form of one job.

    ``key`` comes from what was posted, so the same post twice is one row. ``replaces`` is unique in the job
    and only the first entry of a ``slot`` may replace nothing, so a history cannot fork.
    """

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="%(class)ss")
    key = models.CharField(max_length=64)
    token = models.CharField(max_length=64, default="", blank=True)  # of the form; empty when from a file
    slot = models.CharField(max_length=200)
    replaces = models.CharField(max_length=64, null=True)  # noqa: DJ001  a key of this job, or none

    class Meta(Fact.Meta):
        abstract = True
        indexes = [models.Index(fields=["job", "token"], name="%(class)s_token")]
        constraints = [
            models.UniqueConstraint(fields=["job", "key"], name="%(class)s_once"),
            models.UniqueConstraint(fields=["job", "replaces"], name="%(class)s_no_fork"),
            models.UniqueConstraint(
                fields=["job", "slot"], condition=models.Q(replaces=None), name="%(class)s_one_start"
            ),
        ]
