"""Keep today's database for the tests of tomorrow: ``python -m tests.migrations.make NAME``.

Writes data/NAME.sql.gz (the whole database as SQL, so that any SQLite reads it), data/NAME.json (its job
as a file) and data/NAME.pdf (the one paper in its store). None of them is ever made anew: they are what
people have.
"""

import gzip
import os
import sqlite3
import subprocess
import sys
import tempfile
from contextlib import closing
from pathlib import Path

from tests.records.jobs import a_job

from gudgeon.job.file import write_job

DATA = Path(__file__).parent / "data"


def make(name: str) -> None:
    """Make a shop by the command itself, with its record issued, and keep it."""
    with tempfile.TemporaryDirectory() as scratch:
        job = Path(scratch) / "job.json"
        job.write_bytes(write_job(a_job()))
        environment = {**os.environ, "GUDGEON_DATA": scratch}
        for words in (("job", "import", str(job)), ("record", "issue", "17", "--by", "MK")):
            subprocess.run([sys.executable, "-m", "gudgeon", *words], env=environment, check=True)
        with closing(sqlite3.connect(Path(scratch) / "shop.sqlite3")) as database:
            text = "\n".join(database.iterdump())
        DATA.mkdir(exist_ok=True)
        (DATA / f"{name}.sql.gz").write_bytes(gzip.compress(text.encode(), mtime=0))
        (DATA / f"{name}.json").write_bytes(job.read_bytes())
        (pdf,) = (Path(scratch) / "store").glob("??/*")
        (DATA / f"{name}.pdf").write_bytes(pdf.read_bytes())


if __name__ == "__main__":
    make(sys.argv[1])
