"""The second door, for phones: which address it has, and whether it is open.

The pages ask for it and the running server opens it; the two never meet but here.
"""

from collections.abc import Callable
from dataclasses import dataclass
from threading import Lock

from django.conf import settings

from gudgeon.quantities import Refused
from gudgeon.records import models, network


@dataclass(frozen=True, slots=True)
class Door:
    """An open door: where phones come in, and whether what they send is encrypted."""

    address: str
    port: int
    encrypted: bool = False

    @property
    def url(self) -> str:
        """What a phone's browser is given."""
        return f"{'https' if self.encrypted else 'http'}://{self.address}:{self.port}"


Opens = Callable[[str], Door]
Shuts = Callable[[], None]


class Switch:
    """Opens and shuts the second door. Without a server that can do it, it stays shut."""

    def __init__(self) -> None:
        self.door: Door | None = None
        self._by: tuple[Opens, Shuts] | None = None
        self._one_at_a_time = Lock()

    @property
    def works(self) -> bool:
        """Whether a server runs that can open the door."""
        return self._by is not None

    def belongs_to(self, opens: Opens, shuts: Shuts) -> None:
        """The running server says how the door is opened and shut."""
        self._by = (opens, shuts)

    def turn_on(self, wanted: str = "") -> Door:
        """Let phones in at this address, or at the usual one; remembered for the next start."""
        if self._by is None:
            raise Refused("This server cannot let phones in; start it by: gudgeon serve.")
        with self._one_at_a_time:
            address = network.chosen(wanted)
            if self.door and self.door.address == address:
                return self.door
            self._shut()
            self.door = self._by[0](address)
            settings.ALLOWED_HOSTS.append(address)
        remember(address)
        return self.door

    def turn_off(self) -> None:
        """Let no phone in any more; remembered too."""
        with self._one_at_a_time:
            self._shut()
        remember("")

    def _shut(self) -> None:
        if self.door and self._by:
            settings.ALLOWED_HOSTS.remove(self.door.address)
            self.door = None
            self._by[1]()


SWITCH = Switch()


def remember(address: str) -> None:
    """Keep the address by which phones come in, so that it is the same after a restart."""
    models.Shop.objects.get_or_create(pk=1)
    models.Shop.objects.filter(pk=1).update(phones=address)


def remembered() -> str:
    """The address kept; empty when phones were not let in."""
    row = models.Shop.objects.filter(pk=1).first()
    return row.phones if row else ""
