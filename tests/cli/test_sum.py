"""The command as a person or a program calls it: real process, real exit code."""

import json
import subprocess
import sys
from pathlib import Path

from click.testing import CliRunner, Result

from gudgeon.cli.sum import sum_command
from gudgeon.fitting import sums

JOB = Path(__file__).resolve().parents[2] / "examples" / "jobs" / "whinmoor-complete.json"


def call(*arguments: str) -> Result:
    return CliRunner().invoke(sum_command, list(arguments))


def test_it_lists_every_question() -> None:
    listed = call()
    assert listed.exit_code == 0
    for key, declared in sums().items():
        assert f"  {key} " in listed.output
        assert declared.question in listed.output


def test_a_name_alone_says_what_is_asked_for() -> None:
    asked = call("ring-gap")
    assert asked.exit_code == 0
    assert "bore" in asked.output
    assert "(20 mm to 200 mm)" in asked.output
    assert "usually 150 K" in asked.output


def test_an_answer_in_words_with_its_reasons() -> None:
    answered = call("bore-from-gaps", "worn=0.45 ± 0.01 mm", "unworn=0.42", "--why")
    assert answered.exit_code == 0
    first, *rest = answered.output.splitlines()
    assert first == "Where the ring turns the bore is 0.010 mm wider than below its travel."
    assert any("difference in gap / π" in line for line in rest)
    assert any("± 0.0031 mm" in line for line in rest)


def test_an_answer_for_a_program() -> None:
    answer = json.loads(
        call("wrench-extension", "torque=50", "wrench_length=400", "extension=50", "--json").output
    )
    assert answer["sum"] == "wrench-extension"
    setting = next(figure for figure in answer["figures"] if figure["key"] == "setting")
    assert abs(setting["si"] - 50 * 400 / 450) < 1e-9
    assert setting["shown"] == "44.4 N·m"


def test_inches_when_asked_for() -> None:
    assert (
        "lb·ft"
        in call(
            "hold-crank", "angle=5", "bore=3.6 in", "stroke=59.7", "rod_length=103.4", "--units", "inch"
        ).output
    )


def test_a_job_file_fills_what_it_knows() -> None:
    answered = call("thinner-gasket", "volume_now=34.1", "--job", str(JOB))
    assert answered.exit_code == 0
    assert "stroke: data sheet" in answered.output


def test_refusals_are_one_sentence_and_leave_with_one() -> None:
    for arguments, says in (
        (("ring-gap", "bore=abc"), "bore (bore): “abc” is not a number"),
        (("ring-gap", "bore"), "“bore” is no field with a value; write it as field=value"),
        (("ring-gap", "bore=80", "bore=81"), "bore was given twice"),
        (("ring-gap", "wibble=1"), "“wibble” is not asked for here"),
        (("no-such-sum",), "“no-such-sum” is no sum here"),
        (
            ("depth-for-degrees", "degrees=9", "stroke=100", "rod_length=45"),
            "Rod length is 45 mm; allowed is",
        ),
    ):
        refused = call(*arguments)
        assert refused.exit_code == 1
        assert refused.stdout == ""
        assert refused.stderr.startswith(says)
        assert refused.stderr.count("\n") == 1


def test_a_program_is_told_which_field() -> None:
    refused = call("ring-gap", "bore=abc", "--json")
    assert refused.exit_code == 1
    assert json.loads(refused.stdout)["field"] == "bore"


def test_a_job_that_cannot_be_read_leaves_with_three(tmp_path: Path) -> None:
    assert call("ring-gap", "--job", str(tmp_path / "none.json")).exit_code == 3
    torn = tmp_path / "torn.json"
    torn.write_bytes(JOB.read_bytes()[:500])
    assert call("ring-gap", "--job", str(torn)).exit_code == 3


def test_the_command_is_known_by_its_name() -> None:
    process = subprocess.run(
        [sys.executable, "-m", "gudgeon", "sum", "iso-limits", "size=25"],
        capture_output=True,
        check=True,
        text=True,
    )
    assert process.stdout.startswith("H7/p6 at 25.000 mm is a press fit")
    unknown = subprocess.run(
        [sys.executable, "-m", "gudgeon", "sum", "--nonsense"], capture_output=True, check=False
    )
    assert unknown.returncode == 2
