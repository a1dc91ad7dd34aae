"""Papers as issued: content that no longer changes, the paper made from it, the owner's answer to it."""

from typing import ClassVar

from django.db import models

from gudgeon.records.models.fact import Fact, FactManager
from gudgeon.records.models.job import Job


class StoredFile(Fact):
    """A file in the store, named by its SHA-256."""

    sha256 = models.CharField(max_length=64, unique=True)
    size = models.PositiveBigIntegerField()
    media_type = models.CharField(max_length=80)
    name = models.CharField(max_length=200)

    objects: ClassVar[FactManager["StoredFile"]] = FactManager()

    class Meta(Fact.Meta):
        db_table = "stored_file"


class IssuedRecord(Fact):
    """A paper as issued: canonical content and its hash, which every page carries.

    ``kind`` is that of the content: the build record, or the condition report; each counts its own revisions.
    """

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="issued")
    kind = models.CharField(max_length=40, default="record")
    revision = models.PositiveIntegerField()
    content = models.TextField()
    sha256 = models.CharField(max_length=64)
    program = models.CharField(max_length=40)

    objects: ClassVar[FactManager["IssuedRecord"]] = FactManager()

    class Meta(Fact.Meta):
        db_table = "issued_record"
        constraints = [models.UniqueConstraint(fields=["job", "kind", "revision"], name="issued_revision")]


class IssuedPaper(Fact):
    """The PDF of an issued record, as made, with what it was made by."""

    record = models.OneToOneField(IssuedRecord, on_delete=models.PROTECT, related_name="paper")
    file = models.ForeignKey(StoredFile, on_delete=models.PROTECT, related_name="+")
    made_by = models.TextField()  # versions of typst, template and fonts, in words

    objects: ClassVar[FactManager["IssuedPaper"]] = FactManager()

    class Meta(Fact.Meta):
        db_table = "issued_paper"


class OwnerAnswer(Fact):
    """What the owner said to a kept report; the newest one holds, the earlier ones stay."""

    report = models.ForeignKey(IssuedRecord, on_delete=models.PROTECT, related_name="answers")
    key = models.CharField(max_length=64)  # of what was posted, so the same post twice is one row
    answer = models.CharField(max_length=20)
    given = models.DateField()
    words = models.TextField(default="", blank=True)

    objects: ClassVar[FactManager["OwnerAnswer"]] = FactManager()

    class Meta(Fact.Meta):
        db_table = "owner_answer"
        constraints = [models.UniqueConstraint(fields=["report", "key"], name="owner_answer_once")]
