"""Facts are appended, never edited. A wrong one is followed by a right one that names it."""

from collections.abc import Iterable
from typing import Any, ClassVar, NoReturn, TypeVar

from django.db import models

from gudgeon.records.models.person import Person
from gudgeon.records.models.row import Row

F_co = TypeVar("F_co", bound=models.Model, covariant=True)


class FactIsFinal(TypeError):  # noqa: N818  a sentence reads "except FactIsFinal"
    """Somebody tried to change or remove a fact."""

    def __init__(self) -> None:
        super().__init__("A fact is never changed or removed; append one that replaces it.")


class FactQuerySet(models.QuerySet[F_co]):
    """A query that can read and append, nothing else."""

    def update(self, **_values: Any) -> NoReturn:
        """Refused."""
        raise FactIsFinal

    def delete(self) -> NoReturn:
        """Refused."""
        raise FactIsFinal

    def bulk_update(self, *_args: Any, **_options: Any) -> NoReturn:
        """Refused."""
        raise FactIsFinal

    def bulk_create(self, objs: Iterable[F_co], *args: Any, **options: Any) -> list[F_co]:
        """Append many; never over existing ones."""
        if options.get("update_conflicts"):
            raise FactIsFinal
        return super().bulk_create(objs, *args, **options)

    def _raw_delete(self, using: str | None) -> NoReturn:  # noqa: ARG002  Django passes it by name
        raise FactIsFinal


class FactManager(models.Manager[F_co]):
    """The only manager of a fact."""

    def get_queryset(self) -> FactQuerySet[F_co]:
        """Read and append."""
        return FactQuerySet(self.model, using=self._db)


class Fact(Row):
    """Something that was so, at a time, from a device, by a person."""

    at = models.DateTimeField()  # UTC
    by = models.ForeignKey(
        Person, on_delete=models.PROTECT, to_field="initials", null=True, related_name="+", db_column="by"
    )
    device = models.CharField(max_length=64, default="", blank=True)

    objects: ClassVar[FactManager[Any]] = FactManager()

    class Meta:
        abstract = True
        base_manager_name = "objects"
        default_manager_name = "objects"

    def save(self, **options: Any) -> None:
        """Append; a second save is refused."""
        if not self._state.adding:
            raise FactIsFinal
        super().save(**{**options, "force_insert": True})

    def delete(self, *_args: Any, **_options: Any) -> NoReturn:
        """Refused."""
        raise FactIsFinal
