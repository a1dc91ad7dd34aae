"""Before the first page: the data are looked at, copied where they will change, and brought up to date."""

import os
import shutil
import subprocess
from dataclasses import dataclass
from pathlib import Path

from django.conf import settings
from django.core import checks
from django.core.management import call_command
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

from gudgeon.quantities import Refused
from gudgeon.records import backup, models


@dataclass(frozen=True, slots=True)
class Prepared:
    """What was done: migrations gone through, the backup made before them, and what should be known."""

    migrated: tuple[str, ...]
    saved: Path | None
    warnings: tuple[str, ...]


def prepare() -> Prepared:
    """Make the shop's database ready. Raises Refused, with nothing touched, when it must not be used."""
    warnings = _checked()
    executor = MigrationExecutor(connection)
    _refuse_newer(executor)
    plan = executor.migration_plan(executor.loader.graph.leaf_nodes())
    steps = tuple(migration.name for migration, _ in plan)
    saved = _saved_before(executor) if steps else None
    if steps:
        call_command("migrate", verbosity=0, interactive=False, skip_checks=True)
    models.Shop.objects.get_or_create(pk=1)
    return Prepared(steps, saved, warnings)


def _checked() -> tuple[str, ...]:
    found = checks.run_checks(tags=[checks.Tags.database], databases=["default"])
    errors = [message for message in found if message.level >= checks.ERROR]
    if errors:
        raise Refused(" ".join(f"{error.msg} {error.hint or ''} ({error.id})" for error in errors))
    return tuple(str(message.msg) for message in found if message.level >= checks.WARNING)


def _refuse_newer(executor: MigrationExecutor) -> None:
    known = set(executor.loader.disk_migrations)
    unknown = sorted(
        name
        for app, name in executor.loader.applied_migrations
        if app == "records" and (app, name) not in known
    )
    if unknown:
        raise Refused(
            f"These data were written by a newer Gudgeon (it knows “{unknown[-1]}”, this one does not): "
            "bring the program up to date; nothing was touched."
        )


def _saved_before(executor: MigrationExecutor) -> Path | None:
    if not any(app == "records" for app, _ in executor.loader.applied_migrations):
        return None  # nothing there yet
    folder = Path(settings.DATA_FOLDER)
    if connection.vendor == "sqlite":
        connection.close()
        return backup.make(folder, why="before-update").path
    return _dump(backup.default_target(folder))


def _dump(target: Path) -> Path:
    """PostgreSQL's own copy of itself; without its program nothing is changed."""
    program = shutil.which("pg_dump")
    if program is None:
        raise Refused(
            "This update changes the database, and it is copied first: pg_dump was not found. "
            "Put PostgreSQL's programs on the search path, then start again."
        )
    target.mkdir(parents=True, exist_ok=True)
    place = target / f"{backup.stamp()}-before-update.pgdump"
    given = connection.settings_dict
    command = [program, "--format=custom", f"--file={place}", f"--dbname={given['NAME']}"]
    for option, name in (("--host", "HOST"), ("--port", "PORT"), ("--username", "USER")):
        command += [f"{option}={given[name]}"] if given[name] else []
    done = subprocess.run(  # noqa: S603  the program found above, with this shop's own settings
        command, capture_output=True, text=True, check=False, env=_with_password(str(given["PASSWORD"]))
    )
    if done.returncode:
        place.unlink(missing_ok=True)
        raise Refused(f"The database could not be copied before its update: {done.stderr.strip()}")
    return place


def _with_password(password: str) -> dict[str, str]:
    return {**os.environ, **({"PGPASSWORD": password} if password else {})}
