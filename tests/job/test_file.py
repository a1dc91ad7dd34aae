"""The job file: the same job gives the same bytes, and a bad file one clear sentence."""

from pathlib import Path

import msgspec
import pytest
from tests.assess.scenes import gap, job, leak, read

from gudgeon.job.file import LIMIT_BYTES, VERSION, read_job, read_job_file, write_job
from gudgeon.job.plainly import JobFileError

EXAMPLES = sorted((Path(__file__).parents[2] / "examples" / "jobs").glob("*.json"))
JOB = job(
    read("bore_diameter 1 top/thrust", "77,430", instrument="bore", zeroing="z1"),
    gap("valve_clearance_in 1.in.1", "0.10", "0.13"),
    read("plating_defects 1 wall", how="observation", word="polished"),
    leak_tests=(leak("600"),),
)


def refusal(data: bytes) -> str:
    with pytest.raises(JobFileError) as caught:
        read_job(data)
    return str(caught.value)


def altered(old: str, new: str) -> bytes:
    text = write_job(JOB).decode()
    assert old in text
    return text.replace(old, new, 1).encode()


def test_a_job_goes_out_and_comes_back_the_same() -> None:
    written = write_job(JOB)
    assert read_job(written) == JOB
    assert write_job(read_job(written)) == written
    assert written.endswith(b"}\n")


def test_whole_numbers_and_decimal_ones_are_written_alike() -> None:
    whole = msgspec.structs.replace(JOB.instruments[0], repeat_dof=20)
    assert write_job(msgspec.structs.replace(JOB, instruments=(whole, *JOB.instruments[1:]))) == write_job(
        JOB
    )


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_example_is_written_canonically(path: Path) -> None:
    assert write_job(read_job_file(path)) == path.read_bytes()


@pytest.mark.parametrize("share", [0.1, 0.5, 0.9, 0.999])
def test_a_file_cut_short_says_so(share: float) -> None:
    data = write_job(JOB)
    cut = data[: int(len(data) * share)]
    assert refusal(cut) == (
        f"This job file stops in the middle (after {len(cut)} bytes): it was not copied whole, copy it again."
    )


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "This file is empty; a job file was expected."),
        (b"%PDF-1.7 \xff\xfe", "This is not a job file: its text is not JSON, or was damaged on the way."),
        (b'{"format": "gudgeon job", "version": 1} and more', "This is not a job file: its text is not JSON"),
        (b"[1, 2, 3]", "Job file, at its top: a list was given, a group of named entries is allowed."),
        (b'{"format": "gudgeon job", "note": "\xff"}', "This is not a job file: its text is not JSON"),
        (b'{"hello": 1}', "This is not a Gudgeon job file: one begins with"),
        (b'{"job": ' + b'{"a":' * 100_000, "This is not a job file: it is nested far deeper than any job."),
        (b'{"format": "gudgeon job", "version": "one"}', "Job file, version: text was given, a whole number"),
        (b'{"format": "gudgeon job", "version": 0}', "This job file says version 0, and no such version"),
        (b'{"format": "gudgeon job", "version": 1}', "Job file, at its top: “job” is missing."),
    ],
)
def test_what_is_no_job_file_is_told_plainly(data: bytes, says: str) -> None:
    assert refusal(data).startswith(says)


def test_a_newer_file_asks_for_a_newer_program() -> None:
    assert refusal(altered(f'"version": {VERSION}', '"version": 7')) == (
        "This job file was made by a newer Gudgeon (file version 7; this program reads versions up to "
        f"{VERSION}): bring the program up to date, then open it again."
    )


def test_a_huge_file_is_refused_before_it_is_read(tmp_path: Path) -> None:
    huge = tmp_path / "huge.json"
    with huge.open("wb") as file:
        file.truncate(50_000_000)  # zeros, never looked at
    with pytest.raises(JobFileError, match="This file has 50 MB; a job file may have at most 20 MB"):
        read_job_file(huge)
    assert LIMIT_BYTES == 20_000_000


def test_an_unknown_name_and_a_wrong_kind_name_their_place() -> None:
    assert refusal(altered('"number": "12"', '"number": "12",\n  "colour": "red"')) == (
        "Job file, at its top: “colour” is not a name this program knows there."
    )
    assert refusal(altered('"number": "12"', '"number": 12')) == (
        "Job file, number: a whole number was given, text is allowed."
    )
    assert refusal(altered('"how": "bracket"', '"how": "guess"')) == (
        "Job file, readings, number 2, how: 'guess' is not one of the words allowed there."
    )


def test_an_earlier_version_is_brought_up_step_by_step() -> None:
    """Two invented steps: version 1 said "name" for "title"; version 2 kept no scope."""
    older = altered('"title": "Tired and smoky"', '"name": "Tired and smoky"')
    ways = {
        1: lambda document: {
            **document,
            "job": {("title" if key == "name" else key): value for key, value in document["job"].items()},
        },
        2: lambda document: {**document, "job": {**document["job"], "scope": ["top_end"]}},
    }
    assert read_job(older, ways, 3) == msgspec.structs.replace(JOB, scope=("top_end",))


def test_many_faults_come_in_one_answer() -> None:
    bad = job(
        read("bore_diameter 1 top/thrust", "77.430", instrument="lost", zeroing="gone", by="ZZ"),
    )
    said = refusal(write_job(bad))
    assert all(word in said for word in ("“lost”", "“gone”", "“ZZ”"))
