"""The ``gudgeon`` command. Each command has a file of its own, imported when it is called."""

import importlib
import os
import sys
from typing import Any

import click

from gudgeon import __version__

# command -> where it lives: "module:attribute"
COMMANDS = {
    "assess": "gudgeon.cli.assess:assess_command",
    "backup": "gudgeon.cli.backup:backup",
    "datasheet": "gudgeon.cli.datasheet:datasheet",
    "demo": "gudgeon.cli.demo:demo",
    "diagnose": "gudgeon.cli.diagnose:diagnose_command",
    "job": "gudgeon.cli.job:job",
    "record": "gudgeon.cli.record:record",
    "serve": "gudgeon.cli.serve:serve",
    "sum": "gudgeon.cli.sum:sum_command",
}

USER_ERROR, WRONG_USAGE, UNREADABLE = 1, 2, 3


class Commands(click.Group):
    """A group that knows its commands' names and loads only the one asked for."""

    def list_commands(self, _ctx: click.Context) -> list[str]:
        """Names, in the order of the alphabet."""
        return sorted(COMMANDS)

    def get_command(self, _ctx: click.Context, name: str) -> click.Command | None:
        """Load one command."""
        if name not in COMMANDS:
            return None
        module, attribute = COMMANDS[name].split(":")
        found: Any = getattr(importlib.import_module(module), attribute)
        return found if isinstance(found, click.Command) else None


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="gudgeon")
def main() -> None:
    """Gudgeon: the whole job of rebuilding a four-stroke engine, from its readings to its record."""
    for stream in (sys.stdout, sys.stderr):
        # A Windows console or a pipe may not speak UTF-8; sentences carry µ, ° and dashes.
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")


def start_django() -> None:
    """Make tables and services usable from a command; called only by commands that need them."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "gudgeon.config.settings")
    import django

    django.setup()
