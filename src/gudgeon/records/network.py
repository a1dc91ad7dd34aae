"""The addresses of this machine on its local network, found without sending anything."""

import ipaddress
import socket
import struct
import sys
from contextlib import closing

from gudgeon.quantities import Refused

# Connecting a datagram socket sends nothing: the system only says by which of its addresses it would go.
# The first is kept for documents by RFC 5737 and leads nowhere; the others lie in the private ranges of
# RFC 1918.
OUTSIDE = "192.0.2.1"
INSIDE = ("10.255.255.254", "172.31.255.254", "192.168.255.254")
SIOCGIFADDR = 0x8915  # Linux: the address of an interface


def is_local(address: str) -> bool:
    """Whether this is an IPv4 address of a private network, not of the machine alone."""
    try:
        found = ipaddress.IPv4Address(address)
    except ValueError:
        return False
    return found.is_private and not (found.is_loopback or found.is_unspecified or found.is_reserved)


def default_address() -> str:
    """The address by which the machine would leave its network; empty where there is no such way."""
    return _towards(OUTSIDE)


def candidates() -> tuple[str, ...]:
    """Every private address of this machine, the usual one first."""
    found = [default_address(), *map(_towards, INSIDE), *_of_interfaces()]
    return tuple(dict.fromkeys(one for one in found if is_local(one)))


def chosen(wanted: str = "") -> str:
    """The address for the phones: the one wanted, the usual one, or the only one; else a sentence."""
    if wanted:
        return _wanted(wanted)
    found = candidates()
    usual = default_address()
    if usual in found:
        return usual
    if len(found) == 1:
        return found[0]
    if not found:
        raise Refused("This machine has no address on a local network: join one first, then let phones in.")
    raise Refused(f"This machine has several addresses; choose one by --address: {', '.join(found)}.")


def _wanted(address: str) -> str:
    if not is_local(address):
        raise Refused(
            f"“{address[:40]}” is no address of a local network; "
            f"allowed here: {', '.join(candidates()) or 'none, this machine has joined no network'}."
        )
    try:
        with closing(socket.socket(socket.AF_INET, socket.SOCK_STREAM)) as trial:
            trial.bind((address, 0))
    except OSError:
        raise Refused(
            f"“{address}” is not an address of this machine; "
            f"allowed here: {', '.join(candidates()) or 'none, this machine has joined no network'}."
        ) from None
    return address


def _towards(there: str) -> str:
    with closing(socket.socket(socket.AF_INET, socket.SOCK_DGRAM)) as asked:
        try:
            asked.connect((there, 9))
            return str(asked.getsockname()[0])
        except OSError:
            return ""


def _of_interfaces() -> list[str]:
    if sys.platform.startswith("linux"):
        return [found for _, name in socket.if_nameindex() if (found := _of_interface(name))]
    try:
        return [str(one[4][0]) for one in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)]
    except OSError:
        return []


def _of_interface(name: str) -> str:
    import fcntl

    with closing(socket.socket(socket.AF_INET, socket.SOCK_DGRAM)) as asked:
        try:
            answer = fcntl.ioctl(asked.fileno(), SIOCGIFADDR, struct.pack("256s", name.encode()[:15]))
        except OSError:
            return ""
    return socket.inet_ntoa(answer[20:24])
