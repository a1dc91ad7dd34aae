"""A second device for tests: a network of its own, joined to this machine by one cable.

Where the tests may not make networks (no root, no tool), this machine's own address on its network serves:
what comes to it does not come by the loopback either.
"""

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

from gudgeon.records import network

HERE, THERE = "10.83.71.1", "10.83.71.2"

# The device's browser, as small as one can be: asks, keeps cookies, gives back what it was told.
BROWSER = r"""
import http.cookiejar, json, ssl, sys, urllib.error, urllib.parse, urllib.request

class Stay(urllib.request.HTTPRedirectHandler):
    def redirect_request(self, *_):
        return None

jar = http.cookiejar.CookieJar()
context = ssl.create_default_context(cafile=sys.argv[1] or None)
opener = urllib.request.build_opener(
    Stay, urllib.request.HTTPCookieProcessor(jar), urllib.request.HTTPSHandler(context=context)
)
for line in sys.stdin:
    url, fields, headers = json.loads(line)
    if fields is not None:
        token = next((c.value for c in jar if c.name == "csrftoken"), "")
        fields = urllib.parse.urlencode({"csrfmiddlewaretoken": token, **fields}).encode()
        headers = {"Referer": url, **headers}
    request = urllib.request.Request(url, fields, headers)
    try:
        answer = opener.open(request, timeout=8)
    except urllib.error.HTTPError as error:
        answer = error
    except (OSError, urllib.error.URLError) as error:
        print(json.dumps([0, {}, str(error)]), flush=True)
        continue
    body = answer.read().decode("utf-8", "replace")
    print(json.dumps([answer.status, dict(answer.headers.items()), body]), flush=True)
"""


@dataclass(frozen=True)
class Answer:
    """What came back; status 0 when nobody answered."""

    status: int
    headers: dict[str, str]
    text: str


class Device:
    """A device on the network, with a browser that remembers its cookies."""

    def __init__(self, before: list[str], certificate: str = "") -> None:
        self.process = subprocess.Popen(
            [*before, sys.executable, "-c", BROWSER, certificate],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )

    def ask(self, url: str, fields: dict[str, str] | None = None, **headers: str) -> Answer:
        """Get a page, or post a form to it."""
        assert self.process.stdin is not None
        assert self.process.stdout is not None
        self.process.stdin.write(json.dumps([url, fields, headers]) + "\n")
        self.process.stdin.flush()
        return Answer(*json.loads(self.process.stdout.readline()))

    def close(self) -> None:
        """Switch it off."""
        assert self.process.stdin is not None
        assert self.process.stdout is not None
        self.process.stdin.close()
        self.process.stdout.close()
        self.process.wait(10)


@dataclass(frozen=True)
class Network:
    """This machine's address on it, and how to run something on the other end."""

    address: str
    before: list[str]
    other_end: bool
    cable: str = ""

    def cut(self) -> None:
        """Pull the cable at the other end."""
        _ip(*self._inside("down"))

    def join(self) -> None:
        """Put it back in."""
        assert _ip(*self._inside("up")).returncode == 0

    def _inside(self, state: str) -> tuple[str, ...]:
        return ("netns", "exec", self.before[3], "ip", "link", "set", self.cable, state)

    def device(self, certificate: str = "") -> Device:
        """One more device on the network."""
        return Device(self.before, certificate)


def _ip(*words: str) -> subprocess.CompletedProcess[Any]:
    return subprocess.run(["ip", *words], capture_output=True, check=False)


@contextmanager
def second_network() -> Iterator[Network]:
    """A network with one other end on it, gone afterwards."""
    name, here, there = f"bench{os.getpid()}", f"bh{os.getpid()}"[:15], f"bt{os.getpid()}"[:15]
    if not (shutil.which("ip") and _ip("netns", "add", name).returncode == 0):
        yield Network(network.default_address() or next(iter(network.candidates()), ""), [], False)
        return
    try:
        inside = ("netns", "exec", name, "ip")
        steps = (
            ("link", "add", here, "type", "veth", "peer", "name", there, "netns", name),
            ("addr", "add", f"{HERE}/30", "dev", here),
            ("link", "set", here, "up"),
            (*inside, "addr", "add", f"{THERE}/30", "dev", there),
            (*inside, "link", "set", there, "up"),
            (*inside, "link", "set", "lo", "up"),
        )
        made = all(_ip(*step).returncode == 0 for step in steps)
        if made:
            yield Network(HERE, ["ip", "netns", "exec", name], True, there)
        else:
            yield Network(network.default_address() or next(iter(network.candidates()), ""), [], False)
    finally:
        _ip("link", "del", here)
        _ip("netns", "del", name)
