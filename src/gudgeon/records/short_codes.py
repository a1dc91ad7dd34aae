"""What stands on a label: the job's number, and a running number for a part of its engine."""

import re
from dataclasses import dataclass

from gudgeon.records import models
from gudgeon.records.queries import NoSuch

_CODE = re.compile(r"(?P<job>.+?)(?:[.\s]+(?P<part>[1-9][0-9]{0,3}))?")


@dataclass(frozen=True, slots=True)
class Found:
    """Where a short code leads: a job, and a part of it where one is named."""

    job: str
    part: str = ""  # catalog key
    instance: str = ""


def code_of_job(number: str) -> str:
    """The code of a job: its number."""
    return number


def code_of_part(number: str, part_id: str) -> str:
    """The code of a part: the job's number and the part's place in the engine's list, "17.3"."""
    keys = [part.key for part in _parts(number)]
    if part_id not in keys:
        raise NoSuch("part", part_id)
    return f"{number}.{keys.index(part_id) + 1}"


def found_by(code: str) -> Found:
    """What was meant by a code as it was scanned or typed."""
    typed = code.strip()
    number = models.Job.objects.filter(number__iexact=typed).values_list("number", flat=True).first()
    if number is not None:
        return Found(number)
    match = _CODE.fullmatch(typed)
    number = (
        match
        and models.Job.objects.filter(number__iexact=match["job"]).values_list("number", flat=True).first()
    )
    if not match or not number or not match["part"]:
        raise NoSuch("job or part", typed)
    parts = _parts(number)
    if int(match["part"]) > len(parts):
        raise NoSuch("job or part", typed)
    part = parts[int(match["part"]) - 1]
    return Found(number, part.part, part.instance)


def _parts(number: str) -> list[models.Part]:
    """In the order in which they were written down; none is ever taken away, so a number stays."""
    return list(models.Part.objects.filter(engine__jobs__number=number).order_by("pk"))
