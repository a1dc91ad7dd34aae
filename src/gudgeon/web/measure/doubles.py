"""A gauge whose button bounces sends one reading twice: within half a second it is taken once.

What counts is when it was typed, as the device says: entries that waited for the signal all arrive at once.
"""

import re
import threading
import time
from collections import OrderedDict
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from django.http import HttpRequest

from gudgeon.web.device import device_of

HALF_A_SECOND = 0.5
MOST = 256
WORDS = "Came twice within half a second: taken once."
PLACE = ("characteristic", "instance", "position", "occasion", "turn")
VALUE = ("how", "value", "goes", "does_not", "none_enters", "word", "text")


@dataclass(frozen=True, slots=True)
class Last:
    """What a device sent last for a place."""

    token: str
    value: tuple[str, ...]
    typed: float


_last: OrderedDict[tuple[str, ...], Last] = OrderedDict()
_one_at_a_time = threading.Lock()


class NotTaken(Exception):  # noqa: N818  a sentence reads "except NotTaken"
    """Raised inside ``taken_once`` where nothing was saved, so that the next try is not a second copy."""


@contextmanager
def taken_once(request: HttpRequest, number: str) -> Iterator[bool]:
    """Whether this is a second copy of what the same device has just had saved."""
    sent = request.POST
    key = (device_of(request).device, number, *(sent.get(name, "") for name in PLACE))
    this = Last(sent.get("token", ""), tuple(sent.get(name, "").strip() for name in VALUE), _typed(request))
    if not any(this.value[1:]):
        yield False
        return
    with _one_at_a_time:
        before = _last.get(key)
    twice = before is not None and _same(before, this)
    try:
        yield twice
    except NotTaken:
        return
    if not twice:
        _remember(key, this)


def _remember(key: tuple[str, ...], this: Last) -> None:
    """Only what is on the disk makes the next one a copy: nothing is acknowledged that is not kept."""
    with _one_at_a_time:
        _last[key] = this
        _last.move_to_end(key)
        while len(_last) > MOST:
            _last.popitem(last=False)


def forget() -> None:
    """As after a start."""
    with _one_at_a_time:
        _last.clear()


def _same(before: Last, this: Last) -> bool:
    close = abs(this.typed - before.typed) < HALF_A_SECOND
    return close and this.value == before.value and this.token != before.token


def _typed(request: HttpRequest) -> float:
    """When it was typed, by the device's own clock [s]; without scripts, when it came."""
    typed = request.POST.get("typed", "")
    return int(typed) / 1000 if re.fullmatch(r"[0-9]{10,15}", typed) else time.time()
