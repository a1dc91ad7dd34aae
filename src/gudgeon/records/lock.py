"""One server for one data folder. A second start learns where the first one answers."""

import json
import os
import sys
from pathlib import Path
from types import TracebackType

NAME = "server.lock"
FAR = 1 << 30  # Windows locks bytes against reading: lock one far behind what is written


class AlreadyServing(RuntimeError):  # noqa: N818  named for what happened
    """Another server has this folder; ``address`` is where it answers, empty when it has not said yet."""

    def __init__(self, folder: Path, pid: int, address: str) -> None:
        self.pid, self.address = pid, address
        where = f" at {address}" if address else ""
        super().__init__(f"Gudgeon is already running for {folder}{where}; this start uses that one.")


class Lock:
    """Held while the server runs; the system lets go of it even when the process is killed."""

    def __init__(self, folder: Path, descriptor: int) -> None:
        self.folder = folder
        self._descriptor = descriptor

    def serving_on(self, port: int, host: str = "127.0.0.1") -> None:
        """Write down where the server answers, for a second start to find."""
        text = json.dumps({"pid": os.getpid(), "host": host, "port": port}).encode()
        os.lseek(self._descriptor, 0, os.SEEK_SET)
        os.truncate(self._descriptor, 0)
        os.write(self._descriptor, text)
        os.fsync(self._descriptor)

    def release(self) -> None:
        """Let the next one in."""
        if self._descriptor >= 0:
            os.truncate(self._descriptor, 0)
            os.close(self._descriptor)
            self._descriptor = -1

    def __enter__(self) -> "Lock":
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.release()


def acquire_lock(folder: Path, port: int = 0) -> Lock:
    """Take the folder, or raise AlreadyServing with the address of the server that has it."""
    folder.mkdir(parents=True, exist_ok=True)
    descriptor = os.open(folder / NAME, os.O_RDWR | os.O_CREAT, 0o600)
    if not _take(descriptor):
        said = os.read(descriptor, 500)
        os.close(descriptor)
        raise _serving(folder, said)
    lock = Lock(folder, descriptor)
    if port:
        lock.serving_on(port)
    return lock


def is_served(folder: Path) -> bool:
    """Whether a server has this folder now."""
    if not (folder / NAME).exists():
        return False
    try:
        acquire_lock(folder).release()
    except AlreadyServing:
        return True
    return False


def _serving(folder: Path, said: bytes) -> AlreadyServing:
    try:
        found = json.loads(said)
        return AlreadyServing(folder, int(found["pid"]), f"http://{found['host']}:{int(found['port'])}/")
    except (ValueError, KeyError, TypeError):
        return AlreadyServing(folder, 0, "")


def _take(descriptor: int) -> bool:
    try:
        if sys.platform == "win32":
            import msvcrt

            os.lseek(descriptor, FAR, os.SEEK_SET)
            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
            os.lseek(descriptor, 0, os.SEEK_SET)
        else:
            import fcntl

            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True
