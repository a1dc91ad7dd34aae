"""How ``gudgeon serve`` lets phones in."""

import sys
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from gudgeon.cli import USER_ERROR
from gudgeon.cli.encryption import encryption
from gudgeon.quantities import Refused

if TYPE_CHECKING:
    import ssl

    from gudgeon.cli.serving import SecondDoor


@dataclass(frozen=True, slots=True)
class Phones:
    """What was said on the command line: let them in or not (or as the last time), where, and how."""

    wanted: bool | None = None
    address: str = ""
    certificate: Path | None = None
    key: Path | None = None

    def encrypted(self) -> "ssl.SSLContext | None":
        """The certificate, where one is given; half of it is refused."""
        if (self.certificate is None) != (self.key is None):
            raise click.UsageError("--cert and --key belong together: give both files or none.")
        if self.certificate is None or self.key is None:
            return None
        try:
            return encryption(self.certificate, self.key)
        except Refused as refused:
            click.echo(str(refused), err=True)
            sys.exit(USER_ERROR)


def phones_options(command: Any) -> Any:
    """The options of a command that serves."""
    file = click.Path(exists=True, dir_okay=False, path_type=Path)
    for option in (
        click.option("--key", type=file, help="The certificate's key, a PEM file without a password."),
        click.option(
            "--cert", type=file, help="A certificate (PEM), so that the link to phones is encrypted."
        ),
        click.option("--address", default="", help="The address of this machine that phones come in by."),
        click.option(
            "--phones/--no-phones", default=None, help="Let paired phones in; remembered for the next start."
        ),
    ):
        command = option(command)
    return command


def attend(door: "SecondDoor", phones: Phones) -> None:
    """Let the pages open and shut the door, and open it now where that is wanted or was so the last time."""
    from gudgeon.records.phones import SWITCH, Door, remembered

    def opens(address: str) -> Door:
        return Door(address, door.open(address), door.encrypted is not None)

    SWITCH.belongs_to(opens, door.shut)
    if phones.wanted is False:
        SWITCH.turn_off()
        return
    before = remembered()
    if phones.wanted or phones.address or before:
        _open(phones, before)


def _open(phones: Phones, before: str) -> None:
    from gudgeon.records.phones import SWITCH

    try:
        opened = _as_before(before) if before and not phones.address else SWITCH.turn_on(phones.address)
    except Refused as refused:
        click.echo(str(refused), err=True)
        if phones.wanted or phones.address:
            sys.exit(USER_ERROR)
        return
    click.echo(f"Paired phones come in at {opened.url}")
    if before and before != opened.address:
        click.echo(f"That was {before} before: phones have to be paired anew.")
    if not opened.encrypted:
        click.echo(
            "The link to them is not encrypted; --cert and --key with a certificate of yours make it so."
        )


def _as_before(before: str) -> Any:
    """The address of the last time, or the usual one when this machine has it no longer."""
    from gudgeon.records.network import candidates
    from gudgeon.records.phones import SWITCH

    return SWITCH.turn_on(before if before in candidates() else "")
