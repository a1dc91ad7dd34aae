"""The scene, built once for all paper tests."""

import pytest
from tests.report import scene

from gudgeon.assess.results import Assessment
from gudgeon.job import Job


@pytest.fixture(scope="session")
def job() -> Job:
    """An invented job with about 250 readings."""
    return scene.job()


@pytest.fixture(scope="session")
def assessment() -> Assessment:
    """What its readings come to."""
    return scene.assessment()
