"""The commands that open the shop: what they say, how they leave, and that nothing is overwritten."""

import json
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from django.conf import settings
from tests.records.conftest import Gudgeon, run
from tests.records.jobs import SHEET, a_job

from gudgeon.cli import main
from gudgeon.datasheet import write
from gudgeon.job.file import write_job
from gudgeon.records import backup
from gudgeon.records.services.entry import Who
from gudgeon.records.services.transfer import import_job

pytestmark = pytest.mark.process

USER_ERROR, WRONG_USAGE, UNREADABLE = 1, 2, 3


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, transactional_db: None) -> Path:
    """A shop with one job, for commands run in this process."""
    monkeypatch.setattr(settings, "DATA_FOLDER", tmp_path)
    import_job(write_job(a_job()), Who(""))
    return tmp_path


def call(*words: object) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


@pytest.mark.django_db(transaction=True)
def test_a_job_goes_out_and_comes_in(here: Path) -> None:
    file = here / "out.json"
    assert call("job", "export", "17", "-o", file).exit_code == 0
    assert file.read_bytes() == write_job(a_job()) == call("job", "export", "17").stdout_bytes
    again = call("job", "export", "17", "-o", file)
    assert (again.exit_code, again.stderr) == (USER_ERROR, f"{file}: File exists.\n")
    assert call("job", "import", file).stdout == "Job 17: is here already, the same.\n"
    assert call("job", "import", file, "--as", "40").stdout == "Job 40: taken in.\n"
    listed = json.loads(call("job", "list", "--json").stdout)
    assert [(row["number"], row["stage"]) for row in listed["jobs"]] == [("40", "measure"), ("17", "measure")]
    assert "Loses oil" in call("job", "list").stdout


@pytest.mark.django_db(transaction=True)
def test_what_cannot_be_done_is_one_sentence_and_an_exit_code(here: Path) -> None:
    cut, other = here / "cut.json", here / "other.toml"
    cut.write_bytes(write_job(a_job())[:500])
    other.write_text(write(SHEET).replace("79.04 mm", "79.04 kg"), encoding="utf-8")
    for words, code in (
        (("job", "export", "99"), USER_ERROR),
        (("job", "import", here / "nowhere.json"), USER_ERROR),
        (("job", "import", cut), UNREADABLE),
        (("job", "import", cut, cut, "--as", "3"), USER_ERROR),
        (("job", "list", "--page", "none"), WRONG_USAGE),
        (("record", "verify", "17"), USER_ERROR),
        (("record", "verify", cut), UNREADABLE),
        (("record", "issue", "17", "--by", "XX"), USER_ERROR),
        (("datasheet", "import", other), UNREADABLE),
        (("datasheet", "export", "no-such-sheet"), USER_ERROR),
        (("backup", "verify", here), UNREADABLE),
        (("backup", "restore", here / "nowhere"), UNREADABLE),
        (("backup", "restore", cut), USER_ERROR),
        (("backup", "portable", cut), USER_ERROR),
    ):
        done = call(*words)
        assert done.exit_code == code, (words, done.output, done.exception)
        assert done.stdout == ""
        assert done.stderr.strip()


@pytest.mark.django_db(transaction=True)
def test_a_record_is_issued_checked_and_known_again(here: Path) -> None:
    pdf = here / "record.pdf"
    issued = json.loads(call("record", "issue", "17", "--by", "MK", "-o", pdf, "--json").stdout)
    assert (issued["revision"], issued["already"]) == (1, False)
    checked = call("record", "verify", "17")
    assert checked.exit_code == 0
    assert issued["sha256"] in checked.stdout
    assert call("record", "verify", pdf).exit_code == 0
    pdf.write_bytes(pdf.read_bytes() + b"\n")
    assert call("record", "verify", pdf).exit_code == UNREADABLE


@pytest.mark.django_db(transaction=True)
def test_a_data_sheet_goes_in_and_out(here: Path) -> None:
    file = here / "sheet.toml"
    assert call("datasheet", "export", "kestrel-349", "-o", file).exit_code == 0
    assert (
        file.read_text(encoding="utf-8") == write(SHEET) == call("datasheet", "export", "kestrel-349").stdout
    )
    assert "is here already" in call("datasheet", "import", file).stdout


def test_a_shop_is_backed_up_and_restored_either_way(shop: Path, gudgeon: Gudgeon, tmp_path: Path) -> None:
    made = json.loads(gudgeon("backup", "make", "--to", str(tmp_path / "copies"), "--json").stdout)
    assert run(tmp_path / "one", "backup", "restore", made["path"]).returncode == 0
    assert gudgeon("backup", "portable", str(tmp_path / "all.zip")).returncode == 0
    assert run(tmp_path / "two", "backup", "restore", str(tmp_path / "all.zip")).returncode == 0
    refused = run(tmp_path / "two", "backup", "restore", made["path"])
    assert (refused.returncode, refused.stderr.count("\n")) == (USER_ERROR, 1)
    assert "nothing is overwritten" in refused.stderr
    for folder in (shop, tmp_path / "one", tmp_path / "two"):
        with closing(sqlite3.connect(folder / backup.DATABASE)) as database:
            assert database.execute("SELECT count(*) FROM reading").fetchone() == (4,)
