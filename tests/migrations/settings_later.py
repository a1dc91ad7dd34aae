"""Settings of a program one migration ahead of this one."""

from gudgeon.config.settings import *  # noqa: F403  these settings are those, but for what follows

MIGRATION_MODULES = {"records": "tests.migrations.later"}
