"""Work that takes long: one thread, one row for each piece, never inside a request or a write transaction."""

import logging
import math
import threading
import time
from collections.abc import Callable
from datetime import UTC, datetime

from django.db import close_old_connections, connections, transaction

from gudgeon.quantities import Refused
from gudgeon.records import models
from gudgeon.records.trouble import sentence_for

log = logging.getLogger(__name__)
PAUSE = 5.0  # how long the thread sleeps when nobody wakes it [s]
AN_HOUR = 3600.0  # how often it looks whether a backup is due [s]
INTERRUPTED = "It was interrupted when the program stopped; start it again."

Progress = Callable[[int], None]
Doing = Callable[[models.Work, Progress], str]  # gives the result in words (or a hash)
_handlers: dict[str, Doing] = {}
_wake = threading.Event()


def does(kind: str) -> Callable[[Doing], Doing]:
    """Register what does one kind of work."""

    def register(doing: Doing) -> Doing:
        _handlers[kind] = doing
        return doing

    return register


def ask(kind: str, subject: str, what: str) -> int:
    """Put work on the list, once its transaction is through; gives its row number."""
    if kind not in _handlers:
        raise ValueError(f"nobody does work called {kind}")
    row = models.Work.objects.create(kind=kind, subject=subject, what=what, asked=datetime.now(UTC))
    transaction.on_commit(_wake.set)
    return row.pk


def again(work: int) -> int:
    """The same work once more, after it failed or was interrupted."""
    row = models.Work.objects.filter(pk=work).first()
    if row is None:
        raise Refused("There is no such work.")
    return ask(row.kind, row.subject, row.what)


def run_waiting() -> int:
    """Do everything on the list here and now; gives how much was done."""
    done = 0
    while row := _next():
        _do(row)
        done += 1
    return done


def interrupted() -> None:
    """After a restart: what was waiting or under way says so."""
    models.Work.objects.filter(state__in=("waiting", "running")).update(
        state="interrupted", why=INTERRUPTED, ended=datetime.now(UTC)
    )


class Worker:
    """The one thread; started with the server and stopped with it. ``first`` is done before any work."""

    def __init__(self, first: Callable[[], None] | None = None) -> None:
        self._first = first
        self._stop = threading.Event()
        self._thread = threading.Thread(target=self._run, name="gudgeon-worker", daemon=True)

    def start(self) -> "Worker":
        """Begin; what an earlier run left undone is marked first."""
        from gudgeon.records.services import record  # noqa: F401  importing it tells how papers are made

        interrupted()
        self._thread.start()
        return self

    def stop(self, patience: float = 10.0) -> None:
        """Finish the piece in hand, then end."""
        self._stop.set()
        _wake.set()
        self._thread.join(patience)

    def _run(self) -> None:
        from gudgeon.records.services import safekeeping

        self._begin()
        looked = -math.inf
        while not self._stop.is_set():
            _wake.clear()
            try:
                close_old_connections()
                if time.monotonic() - looked > AN_HOUR:
                    looked = time.monotonic()
                    safekeeping.ask_when_due()
                while not self._stop.is_set() and (row := _next()):
                    _do(row)
            except Exception:
                log.exception("the list of work could not be read")
            connections.close_all()
            _wake.wait(PAUSE)

    def _begin(self) -> None:
        try:
            if self._first:
                self._first()
        except Exception:
            log.exception("what comes first could not be done")


def _next() -> models.Work | None:
    row = models.Work.objects.filter(state="waiting").order_by("pk").first()
    if row is None:
        return None
    taken = models.Work.objects.filter(pk=row.pk, state="waiting").update(state="running")
    return row if taken else _next()


def _do(row: models.Work) -> None:
    def progress(percent: int) -> None:
        models.Work.objects.filter(pk=row.pk).update(progress=percent)

    try:
        result = _handlers[row.kind](row, progress)
    except Exception as error:
        log.exception("work %s failed", row.pk)
        _end(row, state="failed", why=_why(error))
    else:
        _end(row, state="done", progress=100, result=result)


def _why(error: Exception) -> str:
    plain = sentence_for(error) or (str(error) if isinstance(error, ValueError) else "")
    return plain or "Something unexpected went wrong; the log file has the details."


def _end(row: models.Work, **values: object) -> None:
    models.Work.objects.filter(pk=row.pk).update(**values, ended=datetime.now(UTC))
