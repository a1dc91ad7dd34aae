"""Every sentence of an assessment is made in this room and nowhere else."""

from gudgeon.assess.wording.rows import (
    blades_row,
    check_row,
    checked_later,
    day,
    expansion_row,
    gauge_unnamed,
    mark_row,
    never_checked,
    no_bench_temperature,
    no_temperature,
    overdue,
    repeats_row,
    room_row,
    thermometer_row,
    zero_not_said,
    zeroing_row,
)

__all__ = [
    "blades_row",
    "check_row",
    "checked_later",
    "day",
    "expansion_row",
    "gauge_unnamed",
    "mark_row",
    "never_checked",
    "no_bench_temperature",
    "no_temperature",
    "overdue",
    "repeats_row",
    "room_row",
    "thermometer_row",
    "zero_not_said",
    "zeroing_row",
]
