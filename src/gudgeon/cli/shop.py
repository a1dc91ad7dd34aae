"""Commands that open the shop: Django is started for them; trouble becomes a sentence and an exit code."""

import contextlib
import os
import sys
from collections.abc import Iterator
from typing import TYPE_CHECKING, NoReturn

import click

from gudgeon.cli import UNREADABLE, USER_ERROR, start_django

if TYPE_CHECKING:
    from gudgeon.records.services.entry import Who


@contextlib.contextmanager
def opened_shop() -> Iterator[None]:
    """The shop's database, made ready; what goes wrong inside is told in one sentence."""
    with plainly():
        from gudgeon.records.startup import prepare

        prepared = prepare()
        for sentence in prepared.warnings:
            click.echo(sentence, err=True)
        yield


@contextlib.contextmanager
def plainly() -> Iterator[None]:
    """Django started; exit 1 for what the user can mend, 3 for what cannot be read, else a fault of ours."""
    from gudgeon.datasheet import SheetErrors
    from gudgeon.job.plainly import JobFileError
    from gudgeon.quantities import Refused

    try:
        start_django()
        yield
    except (JobFileError, SheetErrors) as error:
        leave(str(error), UNREADABLE)
    except Refused as refused:
        leave(str(refused), USER_ERROR)
    except Exception as error:
        sentence, code = _told(error)
        if sentence:
            leave(sentence, code)
        raise


def _told(error: Exception) -> tuple[str, int]:
    """The sentence for an error met on the way, and how the command leaves; no sentence: a fault of ours."""
    from gudgeon.records.faults import BackupFault, DamagedFile
    from gudgeon.records.trouble import DISK_FULL, sentence_for

    if isinstance(error, BackupFault | DamagedFile):
        return str(error), UNREADABLE
    sentence = sentence_for(error)
    if isinstance(error, OSError) and sentence != DISK_FULL:
        sentence = _of_the_system(error)
    return sentence or "", USER_ERROR


def _of_the_system(error: OSError) -> str:
    said = os.strerror(error.errno) if error.errno else str(error)
    return f"{error.filename}: {said}." if error.filename else f"{said}."


def leave(sentence: str, code: int) -> NoReturn:
    """Tell it and go."""
    click.echo(sentence, err=True)
    sys.exit(code)


def whoever(initials: str) -> "Who":
    """The person a command is signed with."""
    from gudgeon.records.services.entry import Who

    return Who(initials, "command line")
