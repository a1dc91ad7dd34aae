"""What commands on a job file share: reading it, and writing a paper beside it."""

import sys
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from gudgeon.cli import UNREADABLE, USER_ERROR
from gudgeon.job import Job
from gudgeon.job.file import read_job_file
from gudgeon.job.plainly import JobFileError

if TYPE_CHECKING:
    from gudgeon.report import Content


def read_or_leave(file: Path) -> Job:
    """The job of a file; leaves with 3 and a sentence where it cannot be read."""
    try:
        return read_job_file(file)
    except OSError as error:
        click.echo(f"{file} cannot be opened: {error.strerror}.", err=True)
    except JobFileError as error:
        click.echo(str(error), err=True)
    sys.exit(UNREADABLE)


def write_paper(path: Path, made: "Callable[[str], Content]") -> None:
    """A paper as it would be issued now, as a PDF; leaves with 1 and a sentence where that cannot be."""
    from gudgeon.report import PaperError, typeset  # half a second that plain text does without

    now = datetime.now(UTC).replace(microsecond=0, tzinfo=None).isoformat() + "Z"
    try:
        path.write_bytes(typeset(made(now)))
    except OSError as error:
        click.echo(f"{path} cannot be written: {error.strerror}.", err=True)
        sys.exit(USER_ERROR)
    except PaperError as error:
        click.echo(str(error), err=True)
        sys.exit(USER_ERROR)
