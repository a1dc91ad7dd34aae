"""What every table shares: text too long for its column is refused in one sentence, on either database."""

from typing import Any

from django.db import models

from gudgeon.quantities import Refused


class Row(models.Model):
    """A row. SQLite would take any length and PostgreSQL would fail: both are asked first."""

    class Meta:
        abstract = True

    def save(self, **options: Any) -> None:
        """Keep the row."""
        self.fits()
        super().save(**options)

    def fits(self) -> None:
        """Refuse text that the column does not take."""
        for field in self._meta.concrete_fields:
            text = getattr(self, field.attname)
            if not isinstance(text, str):
                continue
            if field.max_length and len(text) > field.max_length:
                raise Refused(
                    f"“{text[:32]}…” has {len(text)} characters; here at most {field.max_length} are allowed."
                )
            if "\x00" in text:
                raise Refused(f"“{text[:32]}” holds a character that no text may hold (number 0).")
