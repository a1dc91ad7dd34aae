"""A server that finishes what it has begun: told to stop, it answers the requests under way first."""

import queue
import signal
import ssl
import threading
import time
from collections.abc import Callable
from concurrent.futures import Future
from typing import Any

from waitress import wasyncore
from waitress.server import create_server

from gudgeon.cli.encryption import encrypted_channels
from gudgeon.quantities import Refused

THREADS = 4  # one writer at a time is SQLite's nature; more threads were slower
PATIENCE = 10.0  # how long requests under way may take after the word to stop [s]
LARGEST_BODY = 450 * 2**20  # ten photographs of 40 MB and their form, before any view is asked
OPTIONS = {
    "threads": THREADS,
    "ident": None,
    "clear_untrusted_proxy_headers": True,
    "max_request_body_size": LARGEST_BODY,
}


def listen(application: Callable[..., Any], host: str, port: int) -> Any:
    """Bind the address; a taken port gives way to any free one."""
    try:
        return create_server(application, host=host, port=port, **OPTIONS)
    except OSError:
        return create_server(application, host=host, port=0, **OPTIONS)


class SecondDoor:
    """A second address of a running server, opened and shut while it runs.

    Both share the loop and the threads. Sockets belong to the loop's thread, so a page that wants the door
    moved leaves an errand and waits until the loop has done it.
    """

    def __init__(
        self, server: Any, application: Callable[..., Any], encrypted: ssl.SSLContext | None = None
    ) -> None:
        self.first, self.application, self.encrypted = server, application, encrypted
        self.second: Any = None
        self._gone: list[Any] = []  # doors that were shut; their last answers may still be on the way
        self._errands: queue.SimpleQueue[tuple[Callable[[], None], Future[None]]] = queue.SimpleQueue()
        self._loop = threading.current_thread()

    @property
    def servers(self) -> list[Any]:
        """Every server, with those whose door is shut."""
        return [self.first, *([self.second] if self.second else []), *self._gone]

    def open(self, address: str) -> int:
        """Answer at this address too, at the same port; gives the port."""
        self._in_the_loop(lambda: self._open(address))
        return int(self.first.effective_port)

    def shut(self) -> None:
        """Answer there no more; whoever is inside is answered and sent away."""
        self._in_the_loop(self._shut)

    def do_errands(self) -> None:
        """What the pages have asked for; called by the loop."""
        while True:
            try:
                errand, done = self._errands.get_nowait()
            except queue.Empty:
                return
            try:
                errand()
            except Exception as error:  # noqa: BLE001  told to the page that asked, which answers it
                done.set_exception(error)
            else:
                done.set_result(None)

    def _in_the_loop(self, errand: Callable[[], None]) -> None:
        if threading.current_thread() is self._loop:
            errand()
            return
        done: Future[None] = Future()
        self._errands.put((errand, done))
        self.first.pull_trigger()
        done.result(timeout=PATIENCE)

    def _open(self, address: str) -> None:
        port = self.first.effective_port
        scheme = "https" if self.encrypted else "http"
        try:
            self.second = create_server(
                self.application,
                map=self.first._map,
                _dispatcher=self.first.task_dispatcher,
                host=address,
                port=port,
                url_scheme=scheme,
                **OPTIONS,
            )
        except OSError as error:
            raise Refused(
                f"The port {port} of {address} is taken by another program or not to be had "
                f"({error.strerror}); choose another by --port."
            ) from error
        if self.encrypted:
            self.second.channel_class = encrypted_channels(self.encrypted)

    def _shut(self) -> None:
        if self.second is None:
            return
        wasyncore.dispatcher.close(self.second)  # its trigger stays and wakes the loop for its last answers
        self._gone.append(self.second)
        for channel in list(self.second.active_channels.values()):
            channel.close_when_flushed = not channel.requests
        self.second = None


def run_until_told(door: SecondDoor) -> None:
    """Serve until SIGTERM or Ctrl-C, then take no new connection and finish those under way."""
    told = threading.Event()

    def tell(*_: object) -> None:
        told.set()
        door.first.pull_trigger()

    for name in ("SIGTERM", "SIGINT", "SIGBREAK"):
        if hasattr(signal, name):
            signal.signal(getattr(signal, name), tell)
    while not told.is_set():
        wasyncore.loop(timeout=1.0, map=door.first._map, count=1)
        door.do_errands()
    finish(door)


def finish(door: SecondDoor) -> None:
    """Close the doors, answer whoever is inside, stop the threads."""
    servers = door.servers
    for server in servers:
        wasyncore.dispatcher.close(server)  # the listening socket only; the trigger still wakes the loop
    last = time.monotonic() + PATIENCE
    while any(map(under_way, servers)) and time.monotonic() < last:
        wasyncore.loop(timeout=0.1, map=door.first._map, count=1)
    door.first.task_dispatcher.shutdown(cancel_pending=True, timeout=1)
    for server in servers:
        server.trigger.close()


def under_way(server: Any) -> bool:
    """Whether any connection has a request that is not answered, or an answer that is not sent."""
    return any(
        channel.requests or channel.request or channel.total_outbufs_len
        for channel in list(server.active_channels.values())
    )
