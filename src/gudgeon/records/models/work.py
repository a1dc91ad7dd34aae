"""Work that takes long: what, how far, what came of it, why it failed."""

from django.db import models

from gudgeon.records.models.row import Row


class Work(Row):
    """One piece of work for the worker thread."""

    kind = models.CharField(max_length=24)
    subject = models.CharField(max_length=80)
    what = models.CharField(max_length=200)
    state = models.CharField(max_length=12, default="waiting")  # waiting running done failed interrupted
    progress = models.PositiveSmallIntegerField(default=0)  # percent
    result = models.TextField(default="", blank=True)
    why = models.TextField(default="", blank=True)
    asked = models.DateTimeField()
    ended = models.DateTimeField(null=True)

    class Meta:
        db_table = "work"
        indexes = [models.Index("state", "id", name="work_state")]
