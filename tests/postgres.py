"""A PostgreSQL of the tests' own: made in a temporary folder, stopped and removed afterwards.

``python -m tests.postgres -- COMMAND ...`` runs a command with DATABASE_URL pointing at it.
"""

import contextlib
import os
import pwd
import shutil
import socket
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

FAST = "-c fsync=off -c synchronous_commit=off -c full_page_writes=off"
ABSENT = 77  # how the command below leaves when there is no PostgreSQL


def programs() -> Path | None:
    """The newest PostgreSQL on this machine."""
    folders = sorted(Path("/usr/lib/postgresql").glob("*/bin"), key=lambda place: int(place.parent.name))
    found = [place for place in folders if (place / "initdb").exists()]
    on_path = shutil.which("initdb")
    return found[-1] if found else (Path(on_path).parent if on_path else None)


def _user() -> str:
    """Who runs it: PostgreSQL refuses root."""
    return "postgres" if hasattr(os, "geteuid") and os.geteuid() == 0 else pwd.getpwuid(os.geteuid()).pw_name


def _run(program: Path, *arguments: str, folder: Path) -> None:
    command = [str(program), *arguments]
    user = _user() if os.geteuid() == 0 else None
    done = subprocess.run(
        command, cwd=folder, user=user, capture_output=True, text=True, check=False, env=_plain_environment()
    )
    if done.returncode:
        raise RuntimeError(f"{program.name} failed: {done.stderr or done.stdout}")


def _plain_environment() -> dict[str, str]:
    return {"PATH": os.environ.get("PATH", ""), "LC_ALL": "C.UTF-8"}


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@contextlib.contextmanager
def cluster() -> Iterator[str]:
    """A running server; gives its address as DATABASE_URL wants it."""
    bin_folder = programs()
    if bin_folder is None:
        raise RuntimeError("there is no PostgreSQL on this machine")
    folder = Path(tempfile.mkdtemp(prefix="gudgeon-pg-"))
    if os.geteuid() == 0:
        shutil.chown(folder, "postgres", "postgres")
    data, port = folder / "data", _free_port()
    options = f"-p {port} -c listen_addresses=127.0.0.1 -c unix_socket_directories={folder} {FAST}"
    try:
        _run(
            bin_folder / "initdb",
            "-D",
            str(data),
            "-A",
            "trust",
            "-U",
            "postgres",
            "--no-sync",
            folder=folder,
        )
        log = ("-l", str(folder / "log"))
        _run(bin_folder / "pg_ctl", "-D", str(data), *log, "-o", options, "-w", "start", folder=folder)
        try:
            yield f"postgresql://postgres@127.0.0.1:{port}/postgres"
        finally:
            _run(bin_folder / "pg_ctl", "-D", str(data), "-m", "immediate", "-w", "stop", folder=folder)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def main(command: list[str]) -> int:
    """Run a command against a server of its own."""
    if programs() is None:
        sys.stderr.write("There is no PostgreSQL here: its tests are skipped.\n")
        return ABSENT
    with cluster() as url:
        return subprocess.run(command, env={**os.environ, "DATABASE_URL": url}, check=False).returncode


if __name__ == "__main__":
    sys.exit(main([word for word in sys.argv[1:] if word != "--"]))
