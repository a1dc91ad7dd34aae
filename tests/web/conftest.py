"""The shop of the tests: one person, a few gauges, the invented examples."""

from pathlib import Path

import msgspec
import pytest
from django.test import Client

from gudgeon.records.services.entry import Who
from gudgeon.records.services.job import JobTyped, open_job
from gudgeon.records.services.person import add_person
from gudgeon.records.services.transfer import import_job
from gudgeon.web.device import COOKIE, Kept
from gudgeon.web.measure import doubles

JOBS = Path(__file__).resolve().parents[2] / "examples" / "jobs"


@pytest.fixture(autouse=True)
def nothing_sent_before() -> None:
    """The device of the tests is the same in each, and so are its readings."""
    doubles.forget()


@pytest.fixture
def client(db: None) -> Client:
    """A browser held by Kit Marlow."""
    add_person("KM", "Kit Marlow")
    browser = Client()
    kept = Kept(device="0a1b2c3d", person="KM")
    browser.cookies[COOKIE] = msgspec.json.encode(kept).hex()
    return browser


@pytest.fixture
def number(client: Client) -> str:
    """A job just booked in to measure on."""
    return open_job(JobTyped(arrival="measure_only", engine_name="Whinmoor 349"), Who("KM"))


@pytest.fixture
def example(client: Client) -> str:
    """The example job that is half way."""
    return import_job((JOBS / "billhook-half-way.json").read_bytes(), Who("KM")).number


@pytest.fixture
def complete(client: Client) -> str:
    """The example job that is complete."""
    return import_job((JOBS / "whinmoor-complete.json").read_bytes(), Who("KM")).number
