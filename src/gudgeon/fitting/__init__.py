"""The sums of the trade, each declared once: used alone, or bound to what a job already knows."""

from gudgeon.fitting.binding import Bound, bind
from gudgeon.fitting.declared import Field, Given, Out, Sum
from gudgeon.fitting.reading import BadField, read
from gudgeon.fitting.registry import sum_named, sums
from gudgeon.fitting.working import Answer, CannotBeWorked, Figure, work_out

__all__ = [
    "Answer",
    "BadField",
    "Bound",
    "CannotBeWorked",
    "Field",
    "Figure",
    "Given",
    "Out",
    "Sum",
    "bind",
    "read",
    "sum_named",
    "sums",
    "work_out",
]
