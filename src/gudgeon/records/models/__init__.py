"""Every table of the shop."""

from gudgeon.records.models.approval import Approval
from gudgeon.records.models.decision import Decision
from gudgeon.records.models.device import Device, PairingCode
from gudgeon.records.models.engine import Engine, EngineType, Part, SheetRevision, Visit
from gudgeon.records.models.entry import Entry
from gudgeon.records.models.fact import Fact, FactIsFinal
from gudgeon.records.models.finding import Finding
from gudgeon.records.models.instrument import Check, Instrument, Tester
from gudgeon.records.models.issued import IssuedPaper, IssuedRecord, OwnerAnswer, StoredFile
from gudgeon.records.models.job import Job
from gudgeon.records.models.leak_test import LeakTest
from gudgeon.records.models.person import Customer, Person
from gudgeon.records.models.photograph import Photograph
from gudgeon.records.models.reading import Reading
from gudgeon.records.models.shop import Shop
from gudgeon.records.models.work import Work
from gudgeon.records.models.zeroing import Zeroing

__all__ = [
    "Approval",
    "Check",
    "Customer",
    "Decision",
    "Device",
    "Engine",
    "EngineType",
    "Entry",
    "Fact",
    "FactIsFinal",
    "Finding",
    "Instrument",
    "IssuedPaper",
    "IssuedRecord",
    "Job",
    "LeakTest",
    "OwnerAnswer",
    "PairingCode",
    "Part",
    "Person",
    "Photograph",
    "Reading",
    "SheetRevision",
    "Shop",
    "StoredFile",
    "Tester",
    "Visit",
    "Work",
    "Zeroing",
]
