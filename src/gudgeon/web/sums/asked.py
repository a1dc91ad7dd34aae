"""A sum's form: what was typed, what the job has, what is usual, and which field is wrong."""

from collections.abc import Mapping
from dataclasses import dataclass

from gudgeon.fitting import Bound, Field, Sum
from gudgeon.quantities import UNITS, show


@dataclass(frozen=True, slots=True)
class Asked:
    """One field as the page shows it."""

    field: Field
    typed: str
    from_job: str  # the figure the job has
    where: str  # and where it stands
    wrong: str

    @property
    def hint(self) -> str:
        """The unit a bare number is taken in, what helps, whether it may stay empty."""
        parts = [f"in {self.unit}"] if self.unit else []
        parts += [self.field.help.rstrip(".")] if self.field.help else []
        if self.field.optional and not self.from_job:
            parts.append("may stay empty")
        return " · ".join(parts)

    @property
    def unit(self) -> str:
        """The unit, as it is said."""
        shown = UNITS[self.field.unit].shown if self.field.unit else ""
        return "degrees" if shown == "°" else shown

    @property
    def placeholder(self) -> str:
        """What holds while nothing is typed."""
        if self.from_job:
            return self.from_job
        return f"usually {self.field.default}" if self.field.default else ""

    @property
    def chosen(self) -> str:
        """The chosen word of several."""
        return self.typed or self.field.default


def asked(
    declared: Sum, typed: Mapping[str, str], bound: Bound | None, wrong: tuple[str, str]
) -> list[Asked]:
    """The fields in their order; those a job fills come with its figures."""
    return [
        Asked(
            field,
            typed.get(field.key, ""),
            "" if bound is None else _figure(field, bound),
            "" if bound is None else bound.where.get(field.key, ""),
            wrong[1] if wrong[0] == field.key else "",
        )
        for field in declared.fields
    ]


def _figure(field: Field, bound: Bound) -> str:
    given = bound.given
    if field.key in given.numbers:
        return show(given.numbers[field.key].value, field.unit, field.step_si)
    if field.key in given.lists:
        return "  ".join(show(value, field.unit, field.step_si) for value in given.lists[field.key])
    return given.words.get(field.key, "")
