"""How often a code may be tried: a short code must not be guessed."""

import time
from collections import deque
from collections.abc import Callable
from threading import Lock

EACH, ALL = 5, 20  # tries from one address, and from all together
WINDOW = 300.0  # within this time [s]


class Tries:
    """The tries of the last few minutes. Every try counts, right or wrong, so that none slips in between."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._lately: deque[tuple[float, str]] = deque()
        self._one_at_a_time = Lock()

    def may(self, address: str) -> bool:
        """Count one more try from this address, unless there were too many."""
        with self._one_at_a_time:
            moment = self._clock()
            while self._lately and self._lately[0][0] <= moment - WINDOW:
                self._lately.popleft()
            mine = sum(1 for _, other in self._lately if other == address)
            if mine >= EACH or len(self._lately) >= ALL:
                return False
            self._lately.append((moment, address))
            return True

    def forget(self) -> None:
        """Begin anew: a fresh code was asked for at the laptop itself."""
        with self._one_at_a_time:
            self._lately.clear()


TRIES = Tries()
