"""For every test: generators are programs, and what needs a live library waits to be asked."""

import os

import pytest
from hypothesis import settings

# A busy machine is slow, not wrong; and a run for a landing finds what the run before it found.
settings.register_profile("bench", deadline=None, derandomize=os.environ.get("CI") == "true")
settings.load_profile("bench")

collect_ignore_glob = ["**/generate_*.py", "**/make_*.py", "**/pictures.py"]


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Live reference libraries and long studies run only with GUDGEON_FULL=1 (run.py test --full)."""
    if os.environ.get("GUDGEON_FULL"):
        return
    waiting = [item for item in items if item.get_closest_marker("full")]
    config.hook.pytest_deselected(items=waiting)
    items[:] = [item for item in items if item not in waiting]
