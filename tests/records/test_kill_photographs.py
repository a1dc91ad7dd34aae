"""Killed while photographs come in: what was acknowledged is there, once; what was not can be sent again."""

import http.client
import json
import os
import random
import signal
import sqlite3
import subprocess
import sys
import threading
import time
from contextlib import closing
from pathlib import Path

import pytest
from tests.records.camera import photograph
from tests.records.conftest import run
from tests.records.test_kill import COOKIE, SEAL, Nursery, nursery

from gudgeon.job.file import read_job
from gudgeon.records import backup, store

pytestmark = pytest.mark.process
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


def test_in_the_backup_and_back_from_it(shop: Path, tmp_path: Path) -> None:
    """A real shop on the disk: a photograph put in by a process of its own, the copy read by another."""
    kept = put_in(shop)
    made = json.loads(run(shop, "backup", "make", "--json").stdout)
    assert made["files"] == 3
    fresh = tmp_path / "fresh"
    assert run(fresh, "backup", "restore", made["path"]).returncode == 0
    assert store.get(kept, fresh / "store")
    (next((Path(made["path"]).parent / "files").glob("??/*"))).unlink()
    refused = run(tmp_path / "other", "backup", "restore", made["path"])
    assert refused.returncode == 3
    assert "missing" in refused.stderr


PUT_IN = """
import os, sys
from io import BytesIO
import django
django.setup()
from tests.records.camera import photograph
from gudgeon.records.services import photograph as services
from gudgeon.records.services.entry import Form, Who
if len(sys.argv) > 1:
    services._note = lambda *_: os.kill(os.getpid(), 9)
kept = services.add_photograph(
    "17", BytesIO(photograph((640, 480))), services.PhotographTyped(), Form("the form"), Who("MK"))
print(kept.fact.sha256)
"""


def put_in(folder: Path, *words: str) -> str:
    """A photograph put into a shop by a process of its own; with a word, killed between file and row."""
    environment = {
        **os.environ,
        "GUDGEON_DATA": str(folder),
        "DJANGO_SETTINGS_MODULE": "gudgeon.config.settings",
    }
    environment.pop("DATABASE_URL", None)
    done = subprocess.run(
        [sys.executable, "-c", PUT_IN, *words], env=environment, capture_output=True, text=True, check=False
    )
    assert done.returncode == (-9 if words else 0), done.stderr
    return done.stdout.strip()


def photographs_on_disk(folder: Path) -> tuple[int, int]:
    """Files in the store, and photographs in the job as its file tells it."""
    exported = run(folder, "job", "export", "17")
    job = read_job(exported.stdout.encode())
    added = [one for one in job.photographs if one.id not in ("p1", "p2")]
    return len(list(store.every_file(folder / "store"))), len(added)


def test_killed_between_file_and_row_nothing_is_acknowledged_and_the_next_try_keeps_it(shop: Path) -> None:
    assert put_in(shop, "killed") == ""
    assert photographs_on_disk(shop) == (3, 0)
    assert run(shop, "backup", "make").returncode == 0
    for _ in range(2):
        kept = put_in(shop)
        assert store.get(kept, shop / "store")
        assert photographs_on_disk(shop) == (3, 1)
