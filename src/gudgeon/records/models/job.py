"""A job: one engine on one visit."""

from django.db import models

from gudgeon.job.readings import Typed
from gudgeon.records.fields import MaybeField, StructField
from gudgeon.records.models.engine import Engine, SheetRevision
from gudgeon.records.models.instrument import Instrument, Tester
from gudgeon.records.models.person import Customer, Person
from gudgeon.records.models.row import Row


class Job(Row):
    """One job. It pins a revision of the data sheet; what was found is in the facts that point here."""

    number = models.CharField(max_length=40, unique=True)
    token = models.CharField(max_length=64, unique=True, null=True)  # noqa: DJ001  of the form; none from a file
    title = models.CharField(max_length=200)
    customer = models.ForeignKey(Customer, on_delete=models.PROTECT, null=True, related_name="jobs")
    words = models.TextField(default="", blank=True)
    arrival = models.CharField(max_length=16)
    opened = models.DateField()
    closed = models.DateField(null=True)
    stage = models.CharField(max_length=24, default="book_in")
    facts = StructField(dict[str, str], default=dict)
    not_possible = StructField(dict[str, str], default=dict)
    scope = StructField(tuple[str, ...], default=tuple)
    disturbed = StructField(tuple[str, ...], default=tuple)
    altitude = MaybeField(Typed)
    rules = StructField(dict[str, str], default=dict)
    engine = models.ForeignKey(Engine, on_delete=models.PROTECT, related_name="jobs")
    sheet = models.ForeignKey(SheetRevision, on_delete=models.PROTECT, related_name="jobs")
    # Who and what took part, in the order in which they came to the job.
    people = models.ManyToManyField(Person, related_name="jobs")
    instruments = models.ManyToManyField(Instrument, related_name="jobs")
    testers = models.ManyToManyField(Tester, related_name="jobs")

    class Meta:
        db_table = "job"
        indexes = [
            models.Index("opened", "id", condition=models.Q(closed=None), name="job_open"),
            models.Index("closed", "id", name="job_closed"),
            models.Index("engine", "opened", name="job_engine"),
        ]
