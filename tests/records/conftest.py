"""A real shop in a folder of its own, made once by the command itself; tests work on copies."""

import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from django.db import connection
from tests.records.jobs import a_job

from gudgeon.job.file import write_job

Gudgeon = Callable[..., subprocess.CompletedProcess[str]]


def run(
    folder: Path, *words: str, settings: str = "gudgeon.config.settings"
) -> subprocess.CompletedProcess[str]:
    """One command on a shop's folder."""
    environment = {**os.environ, "GUDGEON_DATA": str(folder), "DJANGO_SETTINGS_MODULE": settings}
    environment.pop("DATABASE_URL", None)
    return subprocess.run(
        [sys.executable, "-m", "gudgeon", *words],
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.fixture(scope="session")
def made_shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("made") / "shop"
    file = folder.parent / "17.json"
    file.write_bytes(write_job(a_job()))
    done = run(folder, "job", "import", str(file))
    assert done.returncode == 0, done.stderr
    return folder


@pytest.fixture
def shop(made_shop: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(made_shop, tmp_path / "shop"))


@pytest.fixture
def gudgeon(shop: Path) -> Gudgeon:
    return lambda *words, **options: run(shop, *words, **options)


@pytest.fixture
def sqlite() -> None:
    """Asked for by tests of what only SQLite has."""


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """On PostgreSQL run what goes through its database; elsewhere what is not its alone."""
    on_postgresql = connection.vendor == "postgresql"

    def wanted(item: pytest.Item) -> bool:
        if "records" not in item.path.parts:
            return True
        if not on_postgresql:
            return item.get_closest_marker("postgres") is None
        fixtures = getattr(item, "fixturenames", ())
        return item.get_closest_marker("django_db") is not None and "sqlite" not in fixtures

    left = [item for item in items if not wanted(item)]
    if left:
        config.hook.pytest_deselected(items=left)
        items[:] = [item for item in items if wanted(item)]
