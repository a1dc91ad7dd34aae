"""Data sheets kept as text: read back once for each content."""

from functools import lru_cache

from gudgeon.datasheet import DataSheet, read
from gudgeon.records import models


@lru_cache(maxsize=64)
def _read_once(_content_hash: str, text: str) -> DataSheet:
    return read(text)


def sheet_of(row: models.SheetRevision) -> DataSheet:
    """The data sheet of a revision."""
    return _read_once(row.content_hash, row.text)
