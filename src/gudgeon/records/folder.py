"""Whether the data folder is a good place for a database."""

import re
import sys
from pathlib import Path

NETWORK = {"nfs", "nfs4", "cifs", "smb", "smb3", "smbfs", "afs", "ncpfs", "9p", "davfs", "webdav", "ceph"}
SYNCED_WORDS = {"sync", "synced", "syncing", "cloud", "webdav", "mirrored"}
SENTENCE = (
    "The data folder {folder} lies {where}. A database can be damaged there when two copies are put "
    "together or the line breaks: choose a folder on this machine's own disk, and put backups there instead."
)


def warning(folder: Path, mounts: str | None = None) -> str | None:
    """One sentence when the folder is on a network or is synced; none when it is a good place."""
    if _on_network(folder, mounts):
        return SENTENCE.format(folder=folder, where="on a network drive")
    if _synced(folder):
        return SENTENCE.format(
            folder=folder, where="in a folder that seems to be synced with another machine"
        )
    return None


def _synced(folder: Path) -> bool:
    words = {word for part in folder.parts for word in re.split(r"[^a-z]+", part.lower())}
    return bool(words & SYNCED_WORDS)


def _on_network(folder: Path, mounts: str | None) -> bool:
    if sys.platform == "win32":
        import ctypes

        remote = 4
        return str(folder).startswith("\\\\") or ctypes.windll.kernel32.GetDriveTypeW(folder.anchor) == remote
    return _network_type(filesystem(folder, mounts))


def _network_type(kind: str) -> bool:
    return kind in NETWORK or (kind.startswith("fuse.") and kind not in {"fuse.ext4", "fuse.ntfs"})


def filesystem(folder: Path, mounts: str | None = None) -> str:
    """The kind of file system a folder is on, from the system's list of mounts; empty when not known."""
    listing = Path("/proc/self/mountinfo")
    if mounts is None and not listing.exists():
        return ""
    text = listing.read_text(encoding="utf-8", errors="replace") if mounts is None else mounts
    found = ("", "")
    for line in text.splitlines():
        place, kind = _mount(line)
        if folder.is_relative_to(place) and len(place) >= len(found[0]):
            found = (place, kind)
    return found[1]


def _mount(line: str) -> tuple[str, str]:
    """Mount point and type of one line; a blank in a name is written \\040 (proc(5))."""
    before, _, after = line.partition(" - ")
    fields = before.split(" ")
    place = re.sub(r"\\([0-7]{3})", lambda code: chr(int(code[1], 8)), fields[4]) if len(fields) > 4 else ""
    return place or "/", after.split(" ")[0]
