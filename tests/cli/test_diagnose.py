"""``gudgeon diagnose`` as a person or a program calls it."""

import json
from io import BytesIO
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from pypdf import PdfReader
from tests.assess.scenes import machine_words

from gudgeon.cli import main

EXAMPLES = Path(__file__).parents[2] / "examples" / "jobs"
SMOKER, SEIZED = EXAMPLES / "billhook-half-way.json", EXAMPLES / "tussock-seized.json"


def run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(main, ["diagnose", *map(str, arguments)])


def test_it_says_what_is_likely_why_how_deep_and_what_to_check() -> None:
    answer = run(SMOKER)
    lines = answer.stdout.splitlines()
    assert answer.exit_code == 0
    assert lines[1].startswith("Likely: rings worn, stuck or upside down; bore worn or scored. Proposed:")
    assert lines.index("Likely") < lines.index("  rings worn, stuck or upside down") < lines.index("Possible")
    assert any(line.startswith("    + Ring gap, top") and line.endswith("That proves it.") for line in lines)
    assert "The check worth most now: Big-end side clearance" in lines
    assert "Not checked" in lines
    assert machine_words(lines) == []


def test_what_cannot_be_checked_stands_with_its_reason() -> None:
    said = run(SEIZED).stdout
    assert "leak-down. Not possible, because the crank does not turn." in said
    assert "Ruled out" in said


def test_a_program_reads_the_same_as_json() -> None:
    answer = json.loads(run(SMOKER, "--json").stdout)
    causes = {one["cause"]: one["standing"] for one in answer["diagnosis"]["causes"]}
    assert (causes["rings"], causes["seized"]) == ("likely", "ruled_out")
    assert answer["diagnosis"]["scope"]["scopes"] == ["top_end"]
    assert answer["pdf"] is None


def test_the_condition_report_is_written_as_a_draft(tmp_path: Path) -> None:
    paper = tmp_path / "report.pdf"
    answer = run(SMOKER, "--pdf", paper)
    assert f"Condition report: {paper}" in answer.stdout
    pages = PdfReader(BytesIO(paper.read_bytes())).pages
    assert all("draft, not kept" in page.extract_text() for page in pages)


@pytest.mark.parametrize(
    ("arguments", "code", "says"),
    [
        (["nowhere.json"], 3, "cannot be opened"),
        ([str(SMOKER), "--pdf", "/nowhere/at/all.pdf"], 1, "cannot be written"),
    ],
)
def test_what_cannot_be_done_is_one_sentence(arguments: list[str], code: int, says: str) -> None:
    answer = run(*arguments)
    assert answer.exit_code == code
    assert says in answer.stderr
    assert answer.stderr.count("\n") == 1
