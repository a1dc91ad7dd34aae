"""Eight paired phones post readings while a record of forty photographs is made and large ones come in.

    python -m benchmarks.phones [SECONDS] [PAUSE]

Each phone sends a reading, waits PAUSE seconds (1 unless said otherwise; 0: as fast as answers come) and asks
for the readings of others as its page does. Everything goes over a network address of this machine, not over
its loopback. Prints how long the answers took.
"""

import http.client
import itertools
import os
import re
import secrets
import statistics
import sys
import tempfile
import threading
import time
import urllib.parse
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import partial
from http.cookies import SimpleCookie
from pathlib import Path

from tests.records.camera import TWELVE, photograph
from tests.web.networks import second_network
from tests.web.test_second_address import Served, free_port

PHONES, SHOTS = 8, 40
EVERY = {"record": 15, "photograph": 5}  # [s]
EXAMPLE = Path(__file__).resolve().parents[1] / "examples" / "jobs" / "whinmoor-complete.json"
BUSY = 503  # photographs wait for each other; the page asks again


@dataclass
class Visitor:
    """Keeps its cookies and its connection, as a browser does."""

    host: str
    port: int
    cookies: dict[str, str] = field(default_factory=dict)
    link: http.client.HTTPConnection | None = None

    def ask(self, path: str, body: bytes | None = None, **headers: str) -> tuple[int, bytes]:
        """One question; a broken link is made anew."""
        if self.link is None:
            self.link = http.client.HTTPConnection(self.host, self.port, timeout=60)
        headers["Cookie"] = "; ".join(f"{name}={value}" for name, value in self.cookies.items())
        self.link.request("GET" if body is None else "POST", path, body, headers)
        answer = self.link.getresponse()
        text = answer.read()
        for line in answer.headers.get_all("Set-Cookie", []):
            self.cookies |= {name: morsel.value for name, morsel in SimpleCookie(line).items()}
        if answer.headers.get("Connection") == "close":
            self.link = None
        return answer.status, text

    def post(self, path: str, fields: dict[str, str], **headers: str) -> tuple[int, bytes]:
        """A form."""
        kind = {"Content-Type": "application/x-www-form-urlencoded", "X-CSRFToken": self.seal}
        return self.ask(path, urllib.parse.urlencode(fields).encode(), **kind, **headers)

    def send_photograph(self, path: str, data: bytes) -> int:
        """A photograph, as the page's script sends it."""
        edge = secrets.token_hex(12)
        form = (
            f'--{edge}\r\nContent-Disposition: form-data; name="token"\r\n\r\n{secrets.token_hex(8)}\r\n'
            f'--{edge}\r\nContent-Disposition: form-data; name="photographs"; filename="a.jpg"\r\n'
            "Content-Type: image/jpeg\r\n\r\n"
        )
        body = form.encode() + data + f"\r\n--{edge}--\r\n".encode()
        kind = {"Content-Type": f"multipart/form-data; boundary={edge}", "X-CSRFToken": self.seal}
        return self.ask(path, body, **kind, **{"Gudgeon-One": "yes"})[0]

    @property
    def seal(self) -> str:
        """What a form of ours carries."""
        return self.cookies.get("csrftoken", "")


@dataclass
class Told:
    """How long answers took [ms], and what was no answer."""

    took: dict[str, list[float]] = field(default_factory=dict)
    errors: list[str] = field(default_factory=list)

    def time(self, what: str, call: Callable[[], int], allowed: tuple[int, ...]) -> None:
        """One question, timed."""
        began = time.perf_counter()
        try:
            status = call()
        except OSError as error:
            self.errors.append(f"{what}: {error}")
            return
        self.took.setdefault(what, []).append(1000 * (time.perf_counter() - began))
        if status not in allowed:
            self.errors.append(f"{what}: {status}")

    def print(self) -> None:
        """The figures."""
        for what, took in sorted(self.took.items()):
            cut = statistics.quantiles(took, n=100, method="inclusive") if len(took) > 1 else took * 99
            shown = "  ".join(f"p{n} {cut[n - 1]:7.1f}" for n in (50, 95, 99))
            print(f"{what:22} {len(took):5}  {shown}  slowest {max(took):7.1f} ms")
        print(f"errors: {len(self.errors)} {sorted(set(self.errors))[:5]}")


def shop(folder: Path) -> tuple[str, list[str], list[tuple[str, str, str]]]:
    """A job with forty photographs for the record, four to measure on, and the places of these."""
    os.environ |= {"GUDGEON_DATA": str(folder), "DJANGO_SETTINGS_MODULE": "gudgeon.config.settings"}
    import django

    django.setup()
    from io import BytesIO

    from django.core.management import call_command

    from gudgeon.catalog import catalog
    from gudgeon.records.queries import load_job
    from gudgeon.records.services.entry import Form, Who, new_token
    from gudgeon.records.services.job import JobTyped, open_job
    from gudgeon.records.services.photograph import PhotographTyped, add_photograph
    from gudgeon.records.services.transfer import import_job
    from gudgeon.web.bench.walk import walk
    from gudgeon.web.measure.asked import Asked

    call_command("migrate", verbosity=0)
    shown = import_job(EXAMPLE.read_bytes(), Who("")).number
    for n in range(SHOTS):
        data = BytesIO(photograph((1600, 1200), n))
        add_photograph(shown, data, PhotographTyped(caption=f"Number {n}"), Form(new_token()), Who("MH"))
    jobs = [
        open_job(JobTyped(arrival="measure_only", engine_name=f"Engine {n}"), Who("MH"))
        for n in range(PHONES // 2)
    ]
    rows = catalog().characteristics
    stops = (stop.address for stop in walk(load_job(jobs[0]), (), Asked()))
    return shown, jobs, [at for at in stops if rows[at[0]].reads[0] == "value" and not rows[at[0]].signed]


def pair(laptop: Visitor, address: str) -> Visitor:
    """One more phone, let in and in somebody's hand."""
    laptop.ask("/phones/")
    code = re.search(
        r'typed code">([0-9A-Z-]+)<', laptop.post("/phones/code/", {"role": "builder"})[1].decode()
    )
    assert code
    phone = Visitor(address, laptop.port)
    phone.ask("/pair/")
    assert phone.post("/pair/", {"code": code[1]})[0] == 302
    assert phone.post("/people/working/", {"initials": "MH"})[0] == 302
    phone.ask("/people/")
    return phone


def posted(phone: Visitor, job: str, fields: dict[str, str]) -> int:
    """A reading, as the page's script sends it."""
    return phone.post(f"/jobs/{job}/bench/reading/", fields, **{"HX-Request": "true"})[0]


def measures(
    phone: Visitor, job: str, places: list[tuple[str, str, str]], told: Told, end: float, pause: float
) -> None:
    """One phone's minute."""
    for turn, (key, instance, position) in itertools.product(range(1, 99), places):
        if time.monotonic() > end:
            return
        fields = {
            "characteristic": key, "instance": instance, "position": position, "how": "value",
            "value": f"{secrets.randbelow(9000) / 1000 + 1:.3f}", "token": secrets.token_hex(8),
            "replaces": "", "occasion": "as_found", "turn": str(turn), "n": "1",
        }  # fmt: skip
        told.time("reading posted", partial(posted, phone, job, fields), (200,))
        told.time("others' readings", lambda: phone.ask(f"/jobs/{job}/news/?since=999999999")[0], (204,))
        time.sleep(pause)


def issues(laptop: Visitor, job: str, told: Told, end: float) -> None:
    """The record, made and made again."""
    while time.monotonic() < end:
        told.time("record issued", lambda: laptop.post(f"/jobs/{job}/record/issue/", {})[0], (302,))
        time.sleep(EVERY["record"])


def sends(phone: Visitor, job: str, told: Told, end: float) -> None:
    """Large photographs, one after the other."""
    data, path = photograph(TWELVE), f"/jobs/{job}/photographs/add/"
    while time.monotonic() < end:
        told.time("12 megapixels in", lambda: phone.send_photograph(path, data), (200, BUSY))
        time.sleep(EVERY["photograph"])


def main(seconds: float, pause: float) -> None:
    """Set up, run, tell."""
    with tempfile.TemporaryDirectory() as scratch, second_network() as network:
        folder = Path(scratch) / "shop"
        shown, jobs, places = shop(folder)
        served = Served(folder, free_port(), "--phones", "--address", network.address)
        assert served.process.poll() is None, served.said
        laptop = Visitor("127.0.0.1", served.port)
        laptop.ask("/people/")
        laptop.post("/people/working/", {"initials": "MH"})
        phones = [pair(laptop, network.address) for _ in range(PHONES)]
        camera = pair(laptop, network.address)
        told, end = Told(), time.monotonic() + seconds
        work = [
            threading.Thread(
                target=measures, args=(phone, jobs[n // 2], places[n % 2 :: 2], told, end, pause)
            )
            for n, phone in enumerate(phones)
        ]
        work.append(threading.Thread(target=issues, args=(laptop, shown, told, end)))
        work.append(threading.Thread(target=sends, args=(camera, jobs[0], told, end)))
        for thread in work:
            thread.start()
        for thread in work:
            thread.join()
        served.stop()
        told.print()


if __name__ == "__main__":
    words = [float(word) for word in sys.argv[1:]]
    main(*(words + [60.0, 1.0][len(words) :]))
