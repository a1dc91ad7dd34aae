"""The real server on a second address: a phone on another network comes in, and is shut out again."""

import re
import shutil
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import IO

import pytest
from tests.records.conftest import run
from tests.records.jobs import a_job
from tests.web.networks import HERE, Device, Network, second_network

from gudgeon.job.file import write_job

pytestmark = pytest.mark.process


@pytest.fixture(scope="module")
def network() -> Iterator[Network]:
    with second_network() as made:
        if not made.address:
            pytest.skip("this machine has no address but its loopback, and may make none")
        yield made


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A shop with one job."""
    place = tmp_path_factory.mktemp("phones")
    file = place / "17.json"
    file.write_bytes(write_job(a_job()))
    assert run(place / "shop", "job", "import", str(file)).returncode == 0
    return place / "shop"


def free_port() -> int:
    with closing(socket.socket()) as found:
        found.bind(("127.0.0.1", 0))
        return int(found.getsockname()[1])


class Served:
    """The command itself, serving."""

    def __init__(self, folder: Path, port: int, *words: str) -> None:
        self.port = port
        self.log = folder.parent / f"said-{time.monotonic_ns()}"
        self._out: IO[bytes] = self.log.open("wb")
        self.process = subprocess.Popen(
            [sys.executable, "-m", "gudgeon", "serve", "--port", str(port), "--no-browser", *words],
            env={
                "GUDGEON_DATA": str(folder),
                "PATH": "/usr/sbin:/usr/bin:/sbin:/bin",
                "PYTHONUNBUFFERED": "1",
            },
            stdout=self._out,
            stderr=subprocess.STDOUT,
        )
        last = time.monotonic() + 60
        while "Gudgeon answers" not in self.said and self.process.poll() is None and time.monotonic() < last:
            time.sleep(0.1)

    @property
    def said(self) -> str:
        return self.log.read_text()

    def stop(self) -> int:
        """Ask it to stop, and wait."""
        self.process.send_signal(signal.SIGTERM)
        code = self.process.wait(20)
        self._out.close()
        return code


@contextmanager
def serving(folder: Path, port: int, *words: str) -> Iterator[Served]:
    served = Served(folder, port, *words)
    try:
        assert served.process.poll() is None, served.said
        yield served
    finally:
        served.stop()


@contextmanager
def on(network: Network | None, certificate: str = "") -> Iterator[Device]:
    """A browser on the network, or on this machine."""
    device = network.device(certificate) if network else Device([])
    try:
        yield device
    finally:
        device.close()


def code_shown(laptop: Device, home: str, role: str = "builder") -> str:
    laptop.ask(f"{home}/phones/")
    shown = laptop.ask(f"{home}/phones/code/", {"role": role})
    found = re.search(r'<b class="typed code">([0-9A-Z-]+)</b>', shown.text)
    assert found, shown
    assert "<svg" in shown.text
    return found[1]


def test_a_phone_is_paired_works_and_is_shut_out(network: Network, folder: Path) -> None:
    port = free_port()
    home, there = f"http://127.0.0.1:{port}", f"http://{network.address}:{port}"
    with (
        serving(folder, port, "--phones", "--address", network.address) as served,
        on(None) as laptop,
        on(network) as phone,
    ):
        assert f"Paired phones come in at {there}" in served.said
        assert "not encrypted" in served.said
        turned_away = phone.ask(f"{there}/jobs/17/")
        assert (turned_away.status, turned_away.headers["Location"]) == (302, "/pair/?back=%2Fjobs%2F17%2F")
        assert phone.ask(f"{there}/", Host=f"localhost:{port}").status == 302
        assert phone.ask(f"{there}/", Host="evil.example").status == 400
        assert phone.ask(f"{there}/pair/").status == 200
        assert phone.ask(f"{there}/pair/", {"code": "WRNG-WRNG"}).status == 422
        let_in = phone.ask(f"{there}/pair/", {"code": code_shown(laptop, home)})
        assert (let_in.status, let_in.headers["Location"]) == (302, "/people/?back=%2F")
        assert "HttpOnly" in let_in.headers["Set-Cookie"]
        assert phone.ask(f"{there}/people/working/", {"initials": "MK"}).status == 302
        assert "Loses oil" in phone.ask(f"{there}/jobs/17/").text
        listed = laptop.ask(f"{home}/phones/").text
        assert "Mara Kern" in listed
        mark = re.search(r"/phones/([0-9a-f]{8})/revoke/", listed)
        assert mark
        assert laptop.ask(f"{home}/phones/{mark[1]}/revoke/", {}).status == 302
        assert phone.ask(f"{there}/jobs/17/").status == 302
    assert served.process.returncode == 0


def test_the_door_is_moved_from_the_page_and_stands_as_it_was_after_a_restart(
    network: Network, folder: Path
) -> None:
    port = free_port()
    home, there = f"http://127.0.0.1:{port}", f"http://{network.address}:{port}"
    with (
        serving(folder, port, "--no-phones") as served,
        on(None) as laptop,
        on(network) as phone,
    ):
        assert "come in at" not in served.said
        assert phone.ask(f"{there}/").status == 0
        laptop.ask(f"{home}/phones/")
        for _ in range(3):
            opened = laptop.ask(f"{home}/phones/switch/", {"phones": "on", "address": network.address})
            assert opened.status == 302, opened.text
            assert phone.ask(f"{there}/").status == 302
            assert laptop.ask(f"{home}/phones/switch/", {"phones": "off"}).status == 302
            assert phone.ask(f"{there}/").status == 0
        refused = laptop.ask(f"{home}/phones/switch/", {"phones": "on", "address": "10.99.99.99"})
        assert (refused.status, "is not an address of this machine" in refused.text) == (422, True)
        laptop.ask(f"{home}/phones/switch/", {"phones": "on", "address": network.address})
        phone.ask(f"{there}/pair/")
        phone.ask(f"{there}/pair/", {"code": code_shown(laptop, home)})
        served.stop()
        with serving(folder, port) as again:
            # On a network made for the test the address is remembered; the phone has to do nothing.
            assert f"come in at {there}" in again.said
            assert phone.ask(f"{there}/jobs/17/").status == 200


def test_a_certificate_makes_the_link_encrypted(network: Network, folder: Path, tmp_path: Path) -> None:
    if not shutil.which("openssl"):
        pytest.skip("no openssl to make a certificate with")
    certificate, key = tmp_path / "shop.pem", tmp_path / "shop.key"
    made = [
        "openssl", "req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1", "-nodes",
        "-days", "2",
        "-subj", "/CN=bench", "-addext", f"subjectAltName=IP:{network.address}", "-keyout", str(key),
        "-out", str(certificate),
    ]  # fmt: skip
    subprocess.run(made, check=True, capture_output=True)
    port = free_port()
    home, there = f"http://127.0.0.1:{port}", f"https://{network.address}:{port}"
    words = ("--phones", "--address", network.address, "--cert", str(certificate), "--key", str(key))
    with (
        serving(folder, port, *words) as served,
        on(None) as laptop,
        on(network, str(certificate)) as phone,
        on(network) as stranger,
    ):
        assert f"come in at {there}" in served.said
        assert stranger.ask(there.replace("https", "http")).status == 0  # a plain link is not answered
        assert "certificate verify failed" in stranger.ask(there).text
        phone.ask(f"{there}/pair/")
        let_in = phone.ask(f"{there}/pair/", {"code": code_shown(laptop, home)})
        assert let_in.status == 302, let_in.text
        assert "__Host-paired=" in let_in.headers["Set-Cookie"]
        assert "Secure" in let_in.headers["Set-Cookie"]
        for _ in range(20):
            page = phone.ask(f"{there}/jobs/17/measure/")
            assert page.status == 200
            assert page.text.rstrip().endswith("</html>")
        large = phone.ask(f"{there}/sheets/new/", {"text": "x" * 1_500_000})
        assert large.status == 422


@pytest.mark.parametrize(
    ("words", "code", "sentence"),
    [
        (("--phones", "--address", "10.99.99.99"), 1, "is not an address of this machine"),
        (("--phones", "--cert", __file__), 2, "belong together"),
        (("--phones", "--cert", __file__, "--key", __file__), 1, "cannot be used together"),
    ],
)
def test_what_cannot_be_served_is_refused_in_a_sentence(
    folder: Path, words: tuple[str, ...], code: int, sentence: str
) -> None:
    done = run(folder, "serve", "--no-browser", "--port", str(free_port()), *words)
    assert done.returncode == code
    assert sentence in done.stderr
    assert "Traceback" not in done.stderr


def test_the_secret_is_its_owners_only(folder: Path) -> None:
    secret = folder / "secret"
    assert secret.stat().st_mode & 0o777 == 0o600
    assert len(secret.read_text()) >= 64


def test_where_a_network_could_be_made_the_phone_was_on_its_other_end(network: Network) -> None:
    assert network.other_end == (network.address == HERE)
