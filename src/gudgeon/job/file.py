"""The job file: one whole job as canonical JSON, with a version and a way up from every earlier one."""

from collections.abc import Callable, Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

import msgspec

from gudgeon.job.checks import faults
from gudgeon.job.objects import Job
from gudgeon.job.plainly import JobFileError, explain

FORMAT = "gudgeon job"
VERSION = 1
LIMIT_BYTES = 20_000_000

Document = dict[str, Any]  # JSON as it was written by an earlier version, before its shape is known
Upgrader = Callable[[Document], Document]

# One entry for each version ever shipped but the newest: takes that version's document, gives the next.
UPGRADERS: Mapping[int, Upgrader] = {}


class _Heading(msgspec.Struct):
    format: str = ""
    version: int = 0


class _JobFile(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    format: str
    version: int
    job: Job


_heading = msgspec.json.Decoder(_Heading)
_whole = msgspec.json.Decoder(_JobFile)


def write_job(job: Job) -> bytes:
    """The job as canonical JSON: equal jobs give the same bytes."""
    # Read back once: a whole number held where a decimal one belongs would else be written as 8, not 8.0.
    job = _whole.decode(_packed(job)).job
    return msgspec.json.format(_packed(job), indent=1) + b"\n"


def _packed(job: Job) -> bytes:
    document = {"format": FORMAT, "version": VERSION, "job": _plain(job)}
    return msgspec.json.encode(document, order="deterministic")


def _plain(value: Any) -> Any:
    """Structs as their entries. What equals its default is left out; msgspec itself would only leave out
    the very same object, so that a job from elsewhere would differ by words it need not say."""
    if isinstance(value, msgspec.Struct):
        brief = type(value).__struct_config__.omit_defaults
        entries = [(field, getattr(value, field.name)) for field in _fields(type(value))]
        kept = [(field, held) for field, held in entries if not (brief and _usual(held, field))]
        return {field.encode_name: _plain(held) for field, held in kept}
    if isinstance(value, tuple):
        return [_plain(one) for one in value]
    if isinstance(value, dict):
        return {key: _plain(one) for key, one in value.items()}
    return value


_fields = lru_cache(msgspec.structs.fields)


def _usual(held: Any, field: msgspec.structs.FieldInfo) -> bool:
    if field.default is not msgspec.NODEFAULT:
        return bool(held == field.default)
    return field.default_factory is not msgspec.NODEFAULT and bool(held == field.default_factory())


def read_job_file(path: Path) -> Job:
    """The job in a file; its size is looked at before anything is read."""
    size = path.stat().st_size
    _check_size(size)
    return read_job(path.read_bytes())


def read_job(data: bytes, upgraders: Mapping[int, Upgrader] = UPGRADERS, version: int = VERSION) -> Job:
    """The job in these bytes, brought up from an earlier version where needed, and checked as a whole."""
    _check_size(len(data))
    found = _version(data, version)
    try:
        if found == version:
            job = _whole.decode(data).job
        else:
            job = msgspec.convert(_upgraded(data, found, version, upgraders), _JobFile).job
    except (msgspec.MsgspecError, RecursionError, UnicodeDecodeError) as error:
        raise explain(error, len(data)) from error
    wrong = faults(job)
    if wrong:
        raise JobFileError(*wrong)
    return job


def _check_size(size: int) -> None:
    if size > LIMIT_BYTES:
        raise JobFileError(
            f"This file has {size / 1e6:.0f} MB; a job file may have at most {LIMIT_BYTES / 1e6:.0f} MB."
        )
    if size == 0:
        raise JobFileError("This file is empty; a job file was expected.")


def _version(data: bytes, newest: int) -> int:
    try:
        heading = _heading.decode(data)
    except (msgspec.MsgspecError, RecursionError, UnicodeDecodeError) as error:
        raise explain(error, len(data)) from error
    if heading.format != FORMAT:
        raise JobFileError(
            f'This is not a Gudgeon job file: one begins with "format": "{FORMAT}", "version": {VERSION}.'
        )
    if heading.version > newest:
        raise JobFileError(
            f"This job file was made by a newer Gudgeon (file version {heading.version}; this program reads "
            f"versions up to {newest}): bring the program up to date, then open it again."
        )
    return heading.version


def _upgraded(data: bytes, found: int, newest: int, upgraders: Mapping[int, Upgrader]) -> Document:
    document: Document = msgspec.json.decode(data)
    for step in range(found, newest):
        if step not in upgraders:
            raise JobFileError(f"This job file says version {step}, and no such version was ever made.")
        document = {**upgraders[step](document), "version": step + 1}
    return document
