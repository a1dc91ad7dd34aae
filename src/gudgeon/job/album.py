"""The photographs of a job as they are shown: which, and in which order."""

from collections.abc import Iterable

from gudgeon.job.history import in_force
from gudgeon.job.photographs import Photograph


def photographs_in_order(facts: Iterable[Photograph]) -> tuple[Photograph, ...]:
    """The photographs in the job now, each as last described, in the order chosen."""
    return tuple(sorted((one for one in in_force(facts) if not one.out), key=_turn))


def photographs_taken_out(facts: Iterable[Photograph]) -> tuple[Photograph, ...]:
    """The photographs that were taken out and not put back."""
    return tuple(sorted((one for one in in_force(facts) if one.out), key=_turn))


def _turn(photograph: Photograph) -> tuple[int, str, str]:
    return photograph.place, photograph.at, photograph.id
