"""Killed while photographs come in: what was acknowledged is there, once; what was not can be sent again."""

import http.client
import os
import random
import signal
import sqlite3
import threading
import time
from contextlib import closing
from pathlib import Path

import pytest
from tests.records.camera import photograph
from tests.records.conftest import run
from tests.records.test_kill import COOKIE, SEAL, Nursery, nursery

from gudgeon.records import backup, store

__all__ = ["nursery"]  # a fixture that holds here too
ROUNDS = int(os.environ.get("GUDGEON_KILLS", "10")) // 3
EDGE = "edge-of-no-photograph"
PICTURES = [photograph((640, 480), seed) for seed in range(6)]


def body(token: str, data: bytes) -> bytes:
    """The form as a browser sends it."""
    fields = {"token": token, "about": "", "caption": token, "csrfmiddlewaretoken": SEAL}
    head = "".join(
        f'--{EDGE}\r\nContent-Disposition: form-data; name="{name}"\r\n\r\n{value}\r\n'
        for name, value in fields.items()
    )
    file = f'--{EDGE}\r\nContent-Disposition: form-data; name="photographs"; filename="p.jpg"\r\n\r\n'
    return f"{head}{file}".encode() + data + f"\r\n--{EDGE}--\r\n".encode()


def post(port: int, token: str, data: bytes) -> bool:
    """One photograph; true when the server said that it is taken in."""
    headers = {
        "Content-Type": f"multipart/form-data; boundary={EDGE}",
        "Cookie": f"bench={COOKIE}; csrftoken={SEAL}",
        "Origin": f"http://127.0.0.1:{port}",
        "Gudgeon-One": "yes",
    }
    link = http.client.HTTPConnection("127.0.0.1", port, timeout=20)
    try:
        link.request("POST", "/jobs/17/photographs/add/", body(token, data), headers)
        answer = link.getresponse()
        return answer.status == 200 and answer.read() == b"taken in"
    except (OSError, http.client.HTTPException):
        return False
    finally:
        link.close()


class Sending:
    """Somebody sending photographs until the server is gone; remembers what was acknowledged."""

    def __init__(self) -> None:
        self.sent: dict[str, bytes] = {}
        self.acknowledged: set[str] = set()

    def until_gone(self, port: int) -> None:
        """Send until one is not answered."""
        while True:
            token = f"kill-{len(self.sent)}"
            self.sent[token] = PICTURES[len(self.sent) % len(PICTURES)]
            if not post(port, token, self.sent[token]):
                return
            self.acknowledged.add(token)


def kept(folder: Path) -> list[str]:
    """The tokens in the database; every picture they name is read back and is what its name says."""
    with closing(sqlite3.connect(folder / backup.DATABASE)) as database:
        assert database.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        rows = database.execute(
            "SELECT token, sha256, screen, thumbnail FROM photograph WHERE token LIKE 'kill-%'"
        ).fetchall()
    for _, *pictures in rows:
        for sha256 in pictures:
            assert store.get(sha256, folder / "store")
    return [token for token, *_ in rows]


@pytest.mark.skipif(not hasattr(os, "fork"), reason="servers are forked to start quickly")
def test_what_was_acknowledged_survives_being_killed(shop: Path, nursery: Nursery) -> None:
    sending, chance = Sending(), random.Random(20260314)
    for _ in range(ROUNDS):
        pid, port = nursery.server()
        sender = threading.Thread(target=sending.until_gone, args=(port,))
        sender.start()
        time.sleep(chance.uniform(0.3, 0.9))
        os.kill(pid, signal.SIGKILL)
        sender.join()
        found = kept(shop)
        assert len(found) == len(set(found))
        assert sending.acknowledged <= set(found)
    assert len(sending.acknowledged) >= ROUNDS, "too little was sent to tell anything"
    assert list((shop / "incoming").iterdir()) == []
    pid, port = nursery.server()
    for token in sending.sent.keys() - sending.acknowledged:
        assert post(port, token, sending.sent[token])
    os.kill(pid, signal.SIGKILL)
    assert sorted(kept(shop)) == sorted(sending.sent)
    assert run(shop, "backup", "make").returncode == 0
