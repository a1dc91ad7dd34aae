"""A column that holds one plain job object as JSON text, and hands it back as that object."""

from typing import TYPE_CHECKING, Any, Generic, TypeVar

import msgspec
from django.db import models

T = TypeVar("T")

if TYPE_CHECKING:

    class _Column(models.TextField[T, T], Generic[T]):
        """For the type checker: what goes in is what comes out."""
else:

    class _Column(models.TextField):
        def __class_getitem__(cls, _shape: object) -> type:
            return cls


class StructField(_Column[T]):
    """Text holding a value of ``shape``; floats keep every digit, order is kept.

    Migrations see plain text, so that they never depend on what the shape is today.
    """

    def __init__(self, shape: type[T], **options: Any) -> None:
        self.shape = shape
        super().__init__(**options)

    def deconstruct(self) -> tuple[str, str, list[Any], dict[str, Any]]:
        name, _path, _args, options = super().deconstruct()
        return name, "django.db.models.TextField", [], {k: v for k, v in options.items() if k != "default"}

    def clone(self) -> "StructField[T]":
        options = super().deconstruct()[3]
        return type(self)(self.shape, **options)

    def from_db_value(self, value: str | None, *_: object) -> T | None:
        return None if value is None else msgspec.json.decode(value, type=self.shape)

    def to_python(self, value: Any) -> Any:
        return msgspec.json.decode(value, type=self.shape) if isinstance(value, str) else value

    def get_prep_value(self, value: Any) -> str | None:
        return None if value is None else msgspec.json.encode(value).decode()


class MaybeField(StructField[T | None]):
    """The same, which may be empty."""

    def __init__(self, shape: type[T], **options: Any) -> None:
        super().__init__(shape, **{**options, "null": True, "blank": True})
