# noqa: N999  Django finds and orders migrations by such names
"""A migration of the future."""

from pathlib import Path

from django.db import migrations

from gudgeon.records import migrations as today

NEWEST = max(file.stem for place in today.__path__ for file in Path(place).glob("[0-9]*.py"))


class Migration(migrations.Migration):
    """One more table."""

    dependencies = [("records", NEWEST)]
    operations = [migrations.RunSQL("CREATE TABLE later (id integer PRIMARY KEY)")]
