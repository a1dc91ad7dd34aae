"""``gudgeon assess`` as a person or a program calls it: a process of its own, its words, its exit code."""

import json
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from tests.assess.scenes import job, leak, machine_words, read

from gudgeon.cli import main
from gudgeon.job.file import write_job

EXAMPLE = Path(__file__).parents[2] / "examples" / "jobs" / "whinmoor-complete.json"


def run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(main, ["assess", *map(str, arguments)])


def run_apart(*arguments: str | Path) -> subprocess.CompletedProcess[str]:
    """The command as a process of its own."""
    command = [sys.executable, "-c", "from gudgeon.cli import main; main()", "assess", *map(str, arguments)]
    return subprocess.run(command, capture_output=True, text=True, encoding="utf-8", check=False, timeout=60)


@pytest.fixture
def small(tmp_path: Path) -> Path:
    file = tmp_path / "small.json"
    one = job(
        read("bore_diameter 1 top/thrust", "77.470", instrument="bore", zeroing="z1"),
        read("crank_runout_left 1 near", "0.40", instrument="dial"),
        leak_tests=(leak("600", "603", "598", outlets={"intake": "clear", "case": "none"}),),
        disturbed=("head_gasket",),
    )
    file.write_bytes(write_job(one))
    return file


def test_it_says_leak_down_verdicts_counted_and_parts_with_reasons(small: Path) -> None:
    answer = run_apart(small)
    assert answer.returncode == 0, answer.stderr
    lines = answer.stdout.splitlines()
    assert (
        "  A leaking intake valve or seat; the rings are in order; the bottom end cannot be judged from this."
        in lines
    )
    assert "     1 beyond the service limit" in lines
    assert "     1 like a slip: confirm or correct" in lines
    assert lines.index("Proposed: replace") < lines.index("  Cylinder")
    assert lines.index("Proposed: rework, or work sent out") < lines.index("  Replating and honing service")
    assert "    New because the cylinder is new." in lines
    assert lines.index("Always new") < lines.index("  Head gasket")
    assert machine_words(lines) == []


def test_a_program_reads_the_same_as_json(small: Path) -> None:
    answer = json.loads(run(small, "--json").stdout)
    assert answer["count"] == {"beyond": 1, "slip": 1}
    assert answer["assessment"]["leaks"][0]["outlets"][0] == ["intake", "clear"]
    assert {one["part"] for one in answer["assessment"]["proposals"]} >= {"cylinder", "piston", "head_gasket"}


def test_the_record_is_written_where_it_is_asked_for(tmp_path: Path) -> None:
    pdf = tmp_path / "record.pdf"
    answer = run_apart(EXAMPLE, "--pdf", pdf)
    assert answer.returncode == 0, answer.stderr
    assert answer.stdout.splitlines()[-1] == f"Build record: {pdf}"
    assert pdf.read_bytes().startswith(b"%PDF-")


def test_inches_are_shown_where_they_are_asked_for(small: Path) -> None:
    assert "3.05000 in is beyond the service limit" in run(small, "--units", "inch").stdout


def test_wrong_calls_leave_with_their_own_code(small: Path, tmp_path: Path) -> None:
    cut = tmp_path / "cut.json"
    cut.write_bytes(small.read_bytes()[:900])
    for arguments, code, says in (
        ((tmp_path / "none.json",), 3, "cannot be opened: No such file"),
        ((cut,), 3, "This job file stops in the middle (after 900 bytes)"),
        ((small, "--pdf", tmp_path / "no" / "r.pdf"), 1, "cannot be written: No such file"),
        ((small, "--loud"), 2, "No such option"),
        ((), 2, "Missing argument"),
    ):
        answer = run(*arguments)
        assert (answer.exit_code, says in answer.stderr) == (code, True), answer.stderr
        assert "Traceback" not in answer.stderr
