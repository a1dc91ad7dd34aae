"""Photographs on their way in: each goes straight to the disk, and no further than it may."""

import logging
import tempfile
from pathlib import Path
from typing import IO, Any

from django.conf import settings
from django.core.files.uploadedfile import UploadedFile
from django.core.files.uploadhandler import FileUploadHandler, SkipFile
from django.http import HttpRequest

from gudgeon.records.developing import MOST_BYTES, TOO_LARGE

log = logging.getLogger(__name__)
MOST_AT_ONCE = 20
AROUND = 100_000  # bytes of a form beside its files
MOST_OF_A_POST = MOST_AT_ONCE * MOST_BYTES // 2


class PhotographUpload(FileUploadHandler):
    """Writes each file to one without a name, which goes with the process; memory holds a piece at a time.

    A file that grows past the limit is let go of at once, and the rest of the post goes on.
    """

    def __init__(self, request: HttpRequest | None = None) -> None:
        super().__init__(request)
        self.left_out: list[str] = []
        self.file: IO[bytes]
        self._count = 0
        self._size = 0

    def new_file(self, *args: Any, **options: Any) -> None:
        """Another file begins."""
        super().new_file(*args, **options)
        self._count += 1
        self._size = 0
        self.file = tempfile.TemporaryFile(dir=incoming())  # noqa: SIM115  closed by the request's end
        if self._count > MOST_AT_ONCE:
            self._leave_out(f"At most {MOST_AT_ONCE} are taken at once; send the others after these.")

    def receive_data_chunk(self, raw_data: bytes, start: int) -> None:  # noqa: ARG002  Django passes it
        """A piece of it."""
        self._size += len(raw_data)
        if self._size > MOST_BYTES:
            log.warning("a photograph was refused: too large")
            self._leave_out(TOO_LARGE)
        self.file.write(raw_data)

    def _leave_out(self, sentence: str) -> None:
        self.left_out.append(f"{shown_name(self.file_name)}: {sentence}")
        raise SkipFile

    def file_complete(self, file_size: int) -> "UploadedFile[Any]":
        """All of it is there."""
        self.file.seek(0)
        return UploadedFile(self.file, self.file_name or "photograph", self.content_type, file_size)


def incoming() -> Path:
    """Where files are while they come in: on the disk the store is on."""
    place = Path(settings.DATA_FOLDER) / "incoming"
    place.mkdir(parents=True, exist_ok=True)
    return place


def shown_name(name: str | None) -> str:
    """A file's name as a sentence shows it; it is used for nothing else and kept nowhere."""
    return (name or "").replace("\\", "/").rpartition("/")[2][:60] or "A file"
