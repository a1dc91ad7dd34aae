"""A data sheet is never changed: what is asked for at the bench makes its next revision."""

import re

import msgspec

from gudgeon.datasheet.checks import faults
from gudgeon.datasheet.faults import SheetErrors
from gudgeon.datasheet.sheet import DataSheet, LimitRow, TorqueRow


def empty_sheet(name: str, key: str = "") -> DataSheet:
    """A sheet that knows nothing yet; everything works with it, and asks when it needs to know."""
    return DataSheet(key=key or _key(name), name=name)


def with_limit(sheet: DataSheet, characteristic: str, row: LimitRow) -> DataSheet:
    """The next revision, with this limit added or put in the place of the one for the same places."""
    kept = tuple(old for old in sheet.limits.get(characteristic, ()) if old.place != row.place)
    limits = {**sheet.limits, characteristic: (*kept, row)}
    return _next(msgspec.structs.replace(sheet, limits=limits))


def with_torque(sheet: DataSheet, joint: str, row: TorqueRow) -> DataSheet:
    """The next revision, with this torque added or put in the place of the one for the same joint."""
    kept = tuple(old for old in sheet.torques.get(joint, ()) if old.where != row.where)
    return _next(msgspec.structs.replace(sheet, torques={**sheet.torques, joint: (*kept, row)}))


def _next(sheet: DataSheet) -> DataSheet:
    raised = msgspec.structs.replace(sheet, revision=sheet.revision + 1)
    found = faults(raised)
    if found:
        raise SheetErrors(found)
    return raised


def _key(name: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-") or "engine"
