"""A server that finishes what it has begun: told to stop, it answers the requests under way first."""

import signal
import threading
import time
from collections.abc import Callable
from typing import Any

from waitress import wasyncore
from waitress.server import create_server

THREADS = 4  # one writer at a time is SQLite's nature; more threads were slower
PATIENCE = 10.0  # how long requests under way may take after the word to stop [s]


def listen(application: Callable[..., Any], host: str, port: int) -> Any:
    """Bind the address; a taken port gives way to any free one."""
    options = {"threads": THREADS, "ident": None, "clear_untrusted_proxy_headers": True}
    try:
        return create_server(application, host=host, port=port, **options)
    except OSError:
        return create_server(application, host=host, port=0, **options)


def run_until_told(server: Any) -> None:
    """Serve until SIGTERM or Ctrl-C, then take no new connection and finish those under way."""
    told = threading.Event()

    def tell(*_: object) -> None:
        told.set()
        server.pull_trigger()

    for name in ("SIGTERM", "SIGINT", "SIGBREAK"):
        if hasattr(signal, name):
            signal.signal(getattr(signal, name), tell)
    while not told.is_set():
        wasyncore.loop(timeout=1.0, map=server._map, count=1)
    finish(server)


def finish(server: Any) -> None:
    """Close the door, answer whoever is inside, stop the threads."""
    wasyncore.dispatcher.close(server)  # the listening socket only; the trigger still wakes the loop
    last = time.monotonic() + PATIENCE
    while under_way(server) and time.monotonic() < last:
        wasyncore.loop(timeout=0.1, map=server._map, count=1)
    server.task_dispatcher.shutdown(cancel_pending=True, timeout=1)
    server.trigger.close()


def under_way(server: Any) -> bool:
    """Whether any connection has a request that is not answered, or an answer that is not sent."""
    return any(
        channel.requests or channel.request or channel.total_outbufs_len
        for channel in list(server.active_channels.values())
    )
