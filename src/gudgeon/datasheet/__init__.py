"""The numbers of one engine type: layout, geometry, limits with their page, torques, capacities."""

from gudgeon.datasheet.checks import faults, slips
from gudgeon.datasheet.completeness import Missing, completeness
from gudgeon.datasheet.faults import Fault, SheetErrors
from gudgeon.datasheet.revisions import empty_sheet, with_limit, with_torque
from gudgeon.datasheet.sheet import Capacity, DataSheet, LeakNotes, Limit, LimitRow, Material, TorqueRow
from gudgeon.datasheet.text import content_hash, read, read_file, schema, write

__all__ = [
    "Capacity",
    "DataSheet",
    "Fault",
    "LeakNotes",
    "Limit",
    "LimitRow",
    "Material",
    "Missing",
    "SheetErrors",
    "TorqueRow",
    "completeness",
    "content_hash",
    "empty_sheet",
    "faults",
    "read",
    "read_file",
    "schema",
    "slips",
    "with_limit",
    "with_torque",
    "write",
]
