"""The one-file runner: what it counts, and the two commands on a clean clone."""

import importlib.util
import os
import subprocess
import sys
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def runner() -> ModuleType:
    """run.py as a module."""
    spec = importlib.util.spec_from_file_location("gudgeon_run", ROOT / "run.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["gudgeon_run"] = module
    spec.loader.exec_module(module)
    return module


def test_the_closing_line_of_pytest_is_counted(runner: ModuleType) -> None:
    output = "....\n2 failed in the middle of a line\n3 failed, 41 passed, 2 skipped in 12.30s\n"
    assert [runner.count(word, output) for word in ("passed", "failed", "skipped", "error")] == [41, 3, 2, 0]


def test_output_without_tests_counts_nothing(runner: ModuleType) -> None:
    assert runner.count("passed", "All checks passed!") == 0


def test_a_skipped_test_turns_a_ci_run_red(runner: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    step = runner.Step("unit", [], output="5 passed, 1 skipped in 0.10s")
    monkeypatch.setenv("CI", "false")
    assert runner.finish([[step]]) == 0
    monkeypatch.setenv("CI", "true")
    assert runner.finish([[step]]) == 1


def test_a_step_that_fails_turns_the_run_red(runner: ModuleType) -> None:
    step = runner.Step("breaks", [sys.executable, "-c", "raise SystemExit(3)"])
    runner.run_lane([step])
    assert step.code == 3
    assert runner.finish([[step]]) == 1


@pytest.mark.clone
def test_a_clean_clone_assesses_the_demo_with_one_command(tmp_path: Path) -> None:
    clone = tmp_path / "clone"
    subprocess.run(["git", "clone", "-q", str(ROOT), str(clone)], check=True)
    environment = {
        name: value for name, value in os.environ.items() if not name.startswith(("GUDGEON", "DJANGO"))
    }
    command = ["python3", "run.py", "demo", "--no-serve"]
    first = subprocess.run(command, cwd=clone, env=environment, check=True, capture_output=True, text=True)
    assert "Leak-down" in first.stdout
    record = next(word for word in first.stdout.split() if word.endswith(".pdf"))
    assert (clone / record).read_bytes().startswith(b"%PDF")
    second = subprocess.run(command, cwd=clone, env=environment, check=True, capture_output=True, text=True)
    assert "Setting up" not in second.stdout
    assert "Leak-down" in second.stdout
