"""Killed while readings are posted: what was acknowledged is there, once; nothing is damaged."""

import http.client
import os
import random
import signal
import sqlite3
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from urllib.parse import urlencode

import pytest
from tests.records.conftest import run

from gudgeon.records import backup

pytestmark = pytest.mark.process

ROUNDS = int(os.environ.get("GUDGEON_KILLS", "10"))
POSTERS = 3
COOKIE = b'{"device":"ab12","person":"MK","units":"metric"}'.hex()
SEAL = "k" * 32  # any cookie and header that agree pass the check against foreign pages


class Nursery:
    """Makes servers to be killed."""

    def __init__(self, folder: Path) -> None:
        environment = {**os.environ, "GUDGEON_DATA": str(folder)}
        environment.pop("DATABASE_URL", None)
        self.process = subprocess.Popen(
            [sys.executable, "-m", "tests.records.nursery"],
            env=environment,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )

    def server(self) -> tuple[int, int]:
        """Process id and port of a fresh server."""
        assert self.process.stdin is not None
        assert self.process.stdout is not None
        self.process.stdin.write("start\n")
        self.process.stdin.flush()
        pid, port = self.process.stdout.readline().split()
        return int(pid), int(port)

    def close(self) -> None:
        """No more servers."""
        self.process.kill()
        self.process.communicate()


@pytest.fixture
def nursery(shop: Path) -> Iterator[Nursery]:
    found = Nursery(shop)
    yield found
    found.close()


def post(port: int, token: str, repeat: int) -> bool:
    """One reading; true when the server said it is saved."""
    fields = {
        "characteristic": "bore_diameter",
        "instance": "1",
        "position": "bottom/pin",
        # Never the same twice running: that would be a bouncing button, taken once.
        "value": f"79.{repeat % 1000:03d}",
        "token": token,
        "n": str(repeat),
        "csrfmiddlewaretoken": SEAL,
    }
    headers = {
        "Content-Type": "application/x-www-form-urlencoded",
        "Cookie": f"bench={COOKIE}; csrftoken={SEAL}",
        "Origin": f"http://127.0.0.1:{port}",
    }
    link = http.client.HTTPConnection("127.0.0.1", port, timeout=20)
    try:
        link.request("POST", "/jobs/17/reading/", urlencode(fields), headers)
        return link.getresponse().status < 400
    except (OSError, http.client.HTTPException):
        return False
    finally:
        link.close()


class Posting:
    """Several people posting until the server is gone; remembers what was acknowledged."""

    def __init__(self) -> None:
        self.sent: dict[str, int] = {}
        self.acknowledged: set[str] = set()
        self._count = 0
        self._guard = threading.Lock()

    def until_gone(self, port: int) -> None:
        """Post until a post is not answered."""
        while True:
            with self._guard:
                self._count += 1
                token, repeat = f"kill-{self._count}", self._count
                self.sent[token] = repeat
            if not post(port, token, repeat):
                return
            self.acknowledged.add(token)


def tokens(folder: Path) -> list[str]:
    """What is on the disk."""
    with closing(sqlite3.connect(folder / backup.DATABASE)) as database:
        assert database.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert database.execute("PRAGMA foreign_key_check").fetchall() == []
        found = database.execute("SELECT token FROM reading WHERE token LIKE 'kill-%'")
        return [token for (token,) in found]


@pytest.mark.skipif(not hasattr(os, "fork"), reason="servers are forked to start quickly")
def test_what_was_acknowledged_survives_being_killed(shop: Path, nursery: Nursery) -> None:
    posting, chance = Posting(), random.Random(20260314)
    for _ in range(ROUNDS):
        pid, port = nursery.server()
        people = [threading.Thread(target=posting.until_gone, args=(port,)) for _ in range(POSTERS)]
        for person in people:
            person.start()
        time.sleep(chance.uniform(0.1, 0.9))
        os.kill(pid, signal.SIGKILL)
        for person in people:
            person.join()
        kept = tokens(shop)
        assert len(kept) == len(set(kept))
        assert posting.acknowledged <= set(kept)
    assert len(posting.acknowledged) >= ROUNDS, "too little was posted to tell anything"
    # What got no answer is sent once more, as the page does it: now it is there, once.
    pid, port = nursery.server()
    for token in posting.sent.keys() - posting.acknowledged:
        assert post(port, token, posting.sent[token])
    os.kill(pid, signal.SIGKILL)
    assert sorted(tokens(shop)) == sorted(posting.sent)
    assert run(shop, "job", "list").returncode == 0
