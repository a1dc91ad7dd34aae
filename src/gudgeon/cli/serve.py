"""``gudgeon serve``: the shop on this machine, for its own browser, and for paired phones if so wished."""

import importlib
import os
import sys
import webbrowser
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from gudgeon.cli import USER_ERROR, serving, start_django
from gudgeon.cli.phones import Phones, attend, phones_options

HOST = "127.0.0.1"
PORT = 8471


@click.command()
@click.option(
    "--port",
    default=PORT,
    show_default=True,
    type=click.IntRange(1024, 65535),
    help="A port of this machine.",
)
@click.option("--no-browser", is_flag=True, help="Print the address only.")
@phones_options
def serve(
    port: int, no_browser: bool, phones: bool | None, address: str, cert: Path | None, key: Path | None
) -> None:
    """Serve the shop on this machine; makes what it needs on the first start."""
    start_django()
    serve_shop(port, not no_browser, Phones(phones, address, cert, key))


def serve_shop(port: int, open_browser: bool, phones: Phones | None = None) -> None:
    """Bring the data up to date, take the folder, serve until told to stop. Django must be started."""
    from django.conf import settings

    from gudgeon.assess.warm import warm
    from gudgeon.records.lock import AlreadyServing, acquire_lock
    from gudgeon.records.worker import Worker

    folder, phones = Path(settings.DATA_FOLDER), phones or Phones()
    encrypted = phones.encrypted()
    try:
        with acquire_lock(folder) as lock:
            prepare_shop()
            server = serving.listen(application(), HOST, port)
            door = serving.SecondDoor(server, application(), encrypted)
            attend(door, phones)
            lock.serving_on(server.effective_port, HOST)
            greet(f"http://{HOST}:{server.effective_port}/", folder, open_browser)
            worker = Worker(first=warm).start()
            serving.run_until_told(door)
            worker.stop()
    except AlreadyServing as already:
        click.echo(str(already))
        show(already.address, open_browser)


def prepare_shop() -> None:
    """Copy, update, gather the static files; what must not be used is refused in one sentence."""
    from django.core.management import call_command

    from gudgeon.quantities import Refused
    from gudgeon.records.startup import prepare

    try:
        prepared = prepare()
    except Refused as refused:
        click.echo(str(refused), err=True)
        sys.exit(USER_ERROR)
    for warning in prepared.warnings:
        click.echo(warning, err=True)
    call_command("collectstatic", interactive=False, verbosity=0)


def application() -> Callable[..., Any]:
    """The web application, by its name: the settings stand above the commands and are never imported here."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "gudgeon.config.settings")
    found: Callable[..., Any] = importlib.import_module("gudgeon.config.wsgi").application
    return found


def greet(address: str, folder: Path, open_browser: bool) -> None:
    """Say where the shop answers and where its data are."""
    click.echo(f"Gudgeon answers at {address}")
    click.echo(f"Its data are in {folder}. Stop it with Ctrl-C; nothing is lost.")
    show(address, open_browser)


def show(address: str, open_browser: bool) -> None:
    """Open the page where there is a screen to open it on."""
    if not (address and open_browser):
        return
    if sys.platform.startswith("linux") and not (
        os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY")
    ):
        return
    webbrowser.open(address)
