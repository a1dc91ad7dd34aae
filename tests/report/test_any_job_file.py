"""A job file with anything in it is refused in sentences, or everything that is worked out from it can be."""

import copy
import json
import random
from pathlib import Path
from typing import Any

import pytest

from gudgeon.assess import assess
from gudgeon.assess.diagnosis import diagnose
from gudgeon.assess.diagnosis.history import history
from gudgeon.assess.diagnosis.simulated import what_compression_shows
from gudgeon.job import Job
from gudgeon.job.file import read_job
from gudgeon.job.plainly import JobFileError
from gudgeon.report import condition_content, record_content

EXAMPLES = sorted((Path(__file__).parents[2] / "examples" / "jobs").glob("*[dy].json"))  # seized, half way
NOW = "2031-01-01T00:00:00Z"
ANYTHING = (
    *("", "x", "1", "-1", "0 mm", "12 h", "NaN", "yes", "1.in.1", "99", "é" * 300, "2031-02-30", NOW, "plug"),
    *("value", "bracket", "as_found", None, 0, -1, 1e300, True, [], {}),
)
Path_ = tuple[str | int, ...]


def places(there: Any, way: Path_ = ()) -> list[Path_]:
    """Every place of a document."""
    inner = there.items() if isinstance(there, dict) else enumerate(there) if isinstance(there, list) else ()
    return [way, *(place for key, value in inner for place in places(value, (*way, key)))]


def at(document: Any, way: Path_) -> Any:
    for key in way:
        document = document[key]
    return document


def spoiled(document: Any, chance: random.Random) -> Any:
    """The document with one to three places taken out, replaced, or filled from elsewhere."""
    made = copy.deepcopy(document)
    for _ in range(chance.randint(1, 3)):
        every = [place for place in places(made) if place]
        way = chance.choice(every)
        holder, key = at(made, way[:-1]), way[-1]
        match chance.randrange(4):
            case 0:
                holder.pop(key)
            case 1:
                holder[key] = copy.deepcopy(at(made, chance.choice(every)))
            case _:
                holder[key] = chance.choice(ANYTHING)
    return made


def worked_out(job: Job) -> None:
    judged = assess(job)
    found = diagnose(job, "metric", judged)
    condition_content(job, found, judged.leaks, issued_at=NOW)
    record_content(job, judged, 1, NOW)
    history([job])
    what_compression_shows(job)


def read_or_none(data: bytes) -> Job | None:
    """The job, or none where it is refused; anything but a refusal goes through."""
    try:
        return read_job(data)
    except JobFileError:
        return None


@pytest.mark.parametrize("file", EXAMPLES, ids=lambda file: file.stem)
def test_it_is_refused_in_sentences_or_works_out(file: Path) -> None:
    document, chance, accepted = json.loads(file.read_text("utf-8")), random.Random(file.stem), 0
    for _ in range(ROUNDS):
        job = read_or_none(json.dumps(spoiled(document, chance)).encode())
        if job is not None:
            worked_out(job)
            accepted += 1
    assert 0 < accepted < ROUNDS


ROUNDS = 60
