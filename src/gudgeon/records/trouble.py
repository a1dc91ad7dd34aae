"""What went wrong underneath, in one sentence for the person at the bench."""

import errno
import sqlite3

from django.db import DatabaseError

DISK_FULL = (
    "The disk is full: this was not saved. Make some room, then send it again; what was saved before is safe."
)
READ_ONLY = (
    "The data folder cannot be written to: this was not saved. Check its permissions, then send it again."
)
BUSY = "The database was busy for too long: this was not saved. Send it again."
DAMAGED = "The database cannot be read: this was not saved. Stop here and restore the newest backup."
GONE = "The database does not answer: this was not saved. Send it again when it is back."

_FULL = {errno.ENOSPC, errno.EDQUOT, errno.EFBIG}
_SAID: tuple[tuple[str, str], ...] = (
    ("disk is full", DISK_FULL),
    ("disk full", DISK_FULL),
    ("no space left", DISK_FULL),
    ("readonly database", READ_ONLY),
    ("unable to open database file", READ_ONLY),
    ("is locked", BUSY),
    ("malformed", DAMAGED),
    ("not a database", DAMAGED),
    ("disk i/o error", "The disk did not take what was written: this was not saved. Check the disk."),
    ("connection", GONE),
)


def sentence_for(error: BaseException) -> str | None:
    """One sentence, when the trouble is the disk's or the database's; none when it is something else."""
    for one in _chain(error):
        if isinstance(one, OSError) and one.errno in _FULL:
            return DISK_FULL
        if isinstance(one, OSError) and one.errno in {errno.EROFS, errno.EACCES, errno.EPERM}:
            return READ_ONLY
        if isinstance(one, DatabaseError | sqlite3.Error):
            said = str(one).lower()
            for words, sentence in _SAID:
                if words in said:
                    return sentence
    return None


def _chain(error: BaseException) -> list[BaseException]:
    found: list[BaseException] = []
    one: BaseException | None = error
    while one is not None and one not in found:
        found.append(one)
        one = one.__cause__ or one.__context__
    return found
