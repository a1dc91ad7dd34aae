"""Photographs in the shop: kept before they are acknowledged, once, with every change a further fact."""

import logging
import threading
import zipfile
from io import BytesIO
from pathlib import Path

import msgspec
import pytest
from django.conf import settings
from tests.records.camera import SECRET, SVG, photograph
from tests.records.jobs import a_job

from gudgeon.assess import assess
from gudgeon.job import Job
from gudgeon.job.album import photographs_in_order, photographs_taken_out
from gudgeon.job.file import read_job, write_job
from gudgeon.job.photographs import Photograph
from gudgeon.job.plainly import JobFileError
from gudgeon.quantities import Refused
from gudgeon.records import models, portable, queries, store
from gudgeon.records.developing import NotAPhotograph
from gudgeon.records.services import parcel
from gudgeon.records.services import photograph as services
from gudgeon.records.services.entry import BadEntry, Form, Overtaken, Saved, Who, new_token
from gudgeon.records.services.photograph import (
    DarkroomBusy,
    PhotographTyped,
    add_photograph,
    describe_photograph,
    move_photograph,
    photograph_in_force,
    picture,
    put_back_photograph,
    take_out_photograph,
)
from gudgeon.records.services.record import issue_record, paper_of, verify_record
from gudgeon.records.services.transfer import export_job, import_job
from gudgeon.records.worker import run_waiting
from gudgeon.report import PaperError, pictures_wanted, read_content, record_content, typeset

WHO, OTHER = Who("MK", "phone"), Who("JO", "laptop")
NOTHING_SAID = PhotographTyped()
pytestmark = pytest.mark.django_db
SMALL = photograph((640, 480))


@pytest.fixture
def number(db: None) -> str:
    return import_job(write_job(msgspec.structs.replace(a_job(), photographs=())), Who("")).number


def form() -> Form:
    return Form(new_token())


def add(number: str, seed: int = 0, caption: str = "", **more: str) -> Photograph:
    data = photograph((640, 480), seed)
    return add_photograph(number, BytesIO(data), PhotographTyped(caption=caption, **more), form(), WHO).fact


def shown(number: str) -> list[str]:
    return [one.caption for one in photographs_in_order(queries.load_job(number).photographs)]


def test_a_photograph_is_on_the_disk_in_three_sizes_and_reads_back(number: str) -> None:
    kept = add(number, caption=" Piston crown ", part="piston", instance="1")
    assert kept.caption == "Piston crown"
    assert (kept.width, kept.height, kept.taken) == (640, 480, "2026-03-14T10:02:11+01:00")
    assert (kept.by, kept.device) == ("MK", "phone")
    for name in (kept.sha256, kept.screen, kept.thumbnail):
        assert SECRET not in picture(number, name)
        assert models.StoredFile.objects.get(sha256=name).media_type == "image/jpeg"
    assert queries.load_job(number).photographs == (kept,)


def test_the_same_post_twice_is_one_photograph_and_two_files_of_one_form_are_two(number: str) -> None:
    same = form()
    first = add_photograph(number, BytesIO(SMALL), NOTHING_SAID, same, WHO)
    second = add_photograph(number, BytesIO(photograph((640, 480), 1)), NOTHING_SAID, same, WHO)
    again = add_photograph(number, BytesIO(SMALL), NOTHING_SAID, same, WHO)
    assert (first.already, second.already, again.already) == (False, False, True)
    assert again.fact == first.fact
    assert [one.place for one in queries.load_job(number).photographs] == [0, 1]


def test_one_picture_may_be_two_photographs_and_is_stored_once(number: str) -> None:
    assert add(number).sha256 == add(number).sha256
    assert models.Photograph.objects.count() == 2
    assert models.StoredFile.objects.count() == 3


def test_a_caption_is_a_further_fact_and_the_first_stays(number: str) -> None:
    kept = add(number)
    typed = PhotographTyped(caption="Big end, blue", part="connecting_rod", instance="1")
    same = form()
    saved = describe_photograph(number, kept.id, typed, same, OTHER)
    assert isinstance(saved, Saved)
    assert describe_photograph(number, kept.id, typed, same, OTHER) == Saved(saved.fact, already=True)
    facts = queries.load_job(number).photographs
    assert [(one.caption, one.by) for one in facts] == [("", "MK"), ("Big end, blue", "JO")]
    assert facts[1].replaces == kept.id
    assert photograph_in_force(number, kept.id) == facts[1]


def test_two_captions_at_once_are_both_shown(number: str) -> None:
    kept = add(number)
    describe_photograph(number, kept.id, PhotographTyped(caption="Theirs"), form(), OTHER)
    late = describe_photograph(number, kept.id, PhotographTyped(caption="Mine"), form(), WHO)
    assert isinstance(late, Overtaken)
    assert (late.yours.caption, late.theirs.caption) == ("Mine", "Theirs")
    assert shown(number) == ["Theirs"]


def test_a_caption_and_a_move_at_once_are_no_conflict(number: str) -> None:
    first, second = add(number, 1, "one"), add(number, 2, "two")
    move_photograph(number, second.id, -1, form(), OTHER)
    same = form()
    for _ in range(2):
        saved = describe_photograph(number, first.id, PhotographTyped(caption="the first"), same, WHO)
        assert isinstance(saved, Saved)
    assert shown(number) == ["two", "the first"]
    changed = describe_photograph(number, first.id, PhotographTyped(caption="once more"), same, WHO)
    assert isinstance(changed, Saved)
    assert shown(number) == ["two", "once more"]


def test_order_is_changed_one_past_the_other_and_no_further_than_the_ends(number: str) -> None:
    a, _b, c = (add(number, n, words) for n, words in enumerate("abc"))
    same = form()
    for _ in range(2):  # the same post twice moves once
        move_photograph(number, c.id, -1, same, WHO)
    assert shown(number) == ["a", "c", "b"]
    move_photograph(number, c.id, -1, form(), WHO)
    move_photograph(number, c.id, -1, form(), WHO)
    assert shown(number) == ["c", "a", "b"]
    move_photograph(number, a.id, 1, form(), WHO)
    move_photograph(number, a.id, 1, form(), WHO)
    assert shown(number) == ["c", "b", "a"]


def test_turns_that_two_files_gave_twice_are_set_right_by_the_first_move(number: str) -> None:
    kept = [add(number, n, words) for n, words in enumerate("abc")]
    for one in kept:
        services._change(queries.job_row(number), one.id, form(), WHO, place=5)
    before = shown(number)
    first = photographs_in_order(queries.load_job(number).photographs)[0]
    move_photograph(number, first.id, 1, form(), WHO)
    assert shown(number) == [before[1], before[0], before[2]]


def test_taken_out_and_put_back(number: str) -> None:
    kept = add(number, 1, "one")
    take_out_photograph(number, kept.id, form(), WHO)
    take_out_photograph(number, kept.id, form(), OTHER)
    assert shown(number) == []
    assert len(photographs_taken_out(queries.load_job(number).photographs)) == 1
    with pytest.raises(Refused, match="put it back"):
        move_photograph(number, kept.id, 1, form(), WHO)
    put_back_photograph(number, kept.id, form(), WHO)
    assert shown(number) == ["one"]
    assert picture(number, kept.sha256)


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        (PhotographTyped(caption="x" * 301), "301 characters; at most 300"),
        (PhotographTyped(part="halo", instance="1"), "No part is called “halo”"),
        (PhotographTyped(part="piston", instance="9"), "has no piston “9”; there are: 1"),
        (PhotographTyped(step="no_such_step"), "No step is called"),
        (PhotographTyped(finding="f9"), "not in this job"),
    ],
)
def test_what_it_shows_must_be_there(number: str, typed: PhotographTyped, sentence: str) -> None:
    with pytest.raises(BadEntry, match=sentence):
        add_photograph(number, BytesIO(SMALL), typed, form(), WHO)
    assert not models.Photograph.objects.exists()


def test_put_to_a_finding_and_to_a_step(number: str) -> None:
    kept = add(number, finding="f1", step="turn_by_hand")
    assert (kept.finding, kept.step) == ("f1", "turn_by_hand")


def test_nobody_named_means_nothing_taken_in(number: str) -> None:
    with pytest.raises(Refused, match="who is working"):
        add_photograph(number, BytesIO(SMALL), NOTHING_SAID, form(), Who(""))


def test_a_refused_file_leaves_nothing_and_the_log_names_nobody(
    number: str, caplog: pytest.LogCaptureFixture
) -> None:
    with caplog.at_level(logging.WARNING), pytest.raises(NotAPhotograph):
        add_photograph(number, BytesIO(SVG), PhotographTyped(caption="Mara at home"), form(), WHO)
    assert caplog.messages == [f"a photograph was refused: not a picture, {len(SVG)} bytes"]
    assert not models.Photograph.objects.exists()
    assert not models.StoredFile.objects.exists()


def test_no_more_than_one_is_developed_and_one_waits(number: str) -> None:
    with services._darkroom():
        waits = threading.Thread(target=services._inside.acquire)
        waits.start()
        waits.join()
        with pytest.raises(DarkroomBusy, match="send this one again"):
            add(number)
        services._inside.release()
    assert add(number)


def test_a_picture_of_another_job_is_not_given(number: str) -> None:
    kept = add(number)
    other = import_job(write_job(msgspec.structs.replace(a_job("18"), photographs=())), Who("")).number
    for name in (kept.sha256, "0" * 64, "../../etc/passwd"):
        with pytest.raises(queries.NoSuch):
            picture(other, name)


def test_file_to_database_to_file_keeps_photographs_to_the_byte(db: None) -> None:
    data = write_job(a_job())
    import_job(data, Who(""))
    assert export_job("17") == data
    describe_photograph("17", "p2", PhotographTyped(caption="Other words"), form(), WHO)
    later = export_job("17")
    import_job(later, Who(""), "18")
    assert export_job("18") == later.replace(b'"number": "17"', b'"number": "18"')


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"sha256": "../../x"}, "which is no SHA-256"),
        ({"taken": "noon"}, "which is no moment"),
        ({"part": "halo"}, "part “halo”, which is not known"),
        ({"finding": "f9"}, "finding “f9”, which is not known"),
        ({"replaces": "p9"}, "corrects “p9”, which is not in this job"),
        ({"by": "ZZ"}, "“ZZ” took part"),
    ],
)
def test_a_job_file_whose_photographs_do_not_hang_together_is_refused(
    changes: dict[str, str], sentence: str
) -> None:
    spoiled = msgspec.structs.replace(a_job().photographs[0], **changes)
    with pytest.raises(JobFileError, match=sentence):
        read_job(write_job(msgspec.structs.replace(a_job(), photographs=(spoiled,))))


def test_in_the_portable_backup(number: str, tmp_path: Path) -> None:
    kept = add(number, caption="Piston")
    written = portable.write(tmp_path / "shop.zip")
    assert {one.sha256 for one in written.files} == {kept.sha256, kept.screen, kept.thumbnail}
    with zipfile.ZipFile(tmp_path / "shop.zip") as file:
        assert store.sha256_of(file.read(f"store/{kept.sha256}")) == kept.sha256
        assert read_job(file.read("jobs/00001.json")).photographs == (kept,)


@pytest.fixture
def parcelled(number: str, tmp_path: Path) -> tuple[Path, Photograph]:
    kept = add(number, caption="Piston")
    assert parcel.write_parcel(number, tmp_path / "job.zip") == 3
    return tmp_path / "job.zip", kept


def test_a_parcel_brings_the_pictures_and_a_plain_job_file_the_list_only(
    parcelled: tuple[Path, Photograph], settings: object, tmp_path: Path
) -> None:
    file, kept = parcelled
    settings.DATA_FOLDER = tmp_path / "elsewhere"  # type: ignore[attr-defined]  # the fixture of pytest-django
    done = parcel.read_parcel(file, Who(""), "18")
    assert picture(done.number, kept.screen)
    assert export_job("18") == export_job("17").replace(b'"number": "17"', b'"number": "18"')
    assert parcel.read_parcel(file, Who(""), "18").already


def spoiled(file: Path, entries: dict[str, bytes]) -> BytesIO:
    made = BytesIO()
    with zipfile.ZipFile(file) as old, zipfile.ZipFile(made, "w") as new:
        for name in {*old.namelist(), *entries}:
            new.writestr(name, entries.get(name, old.read(name) if name in old.namelist() else b""))
    return made


def test_a_parcel_that_was_tampered_with_is_refused(parcelled: tuple[Path, Photograph]) -> None:
    file, kept = parcelled
    name = f"photographs/{kept.sha256}.jpg"
    for entries in ({name: SVG}, {name: photograph((640, 480), 7)}):
        with pytest.raises(Refused, match="is not the photograph it says"):
            parcel.read_parcel(spoiled(file, entries), Who(""), "18")
    with pytest.raises(Refused, match="damaged"):
        parcel.read_parcel(BytesIO(file.read_bytes()[:-100]), Who(""), "18")
    assert not models.Job.objects.filter(number="18").exists()


def test_a_hash_that_fits_does_not_make_a_picture_of_a_page(number: str) -> None:
    sha256 = store.sha256_of(SVG)
    fact = msgspec.structs.replace(a_job().photographs[0], sha256=sha256, screen=sha256, thumbnail=sha256)
    made = BytesIO()
    with zipfile.ZipFile(made, "w") as file:
        file.writestr("job.json", write_job(msgspec.structs.replace(a_job("18"), photographs=(fact,))))
        file.writestr(f"photographs/{sha256}.jpg", SVG)
        file.writestr("../../escaped.txt", b"out")
    with pytest.raises(Refused, match="is not the photograph it says"):
        parcel.read_parcel(made, Who(""))
    assert not (Path(settings.DATA_FOLDER).parent.parent / "escaped.txt").exists()


def content_of(job: Job, pictures: frozenset[str]) -> str:
    made = record_content(job, assess(job), 1, "2026-03-20T12:00:00Z", pictures=pictures)
    section = next(section for section in made.sections if section.title == "Photographs")
    return msgspec.json.encode(section).decode()


def test_the_record_shows_them_names_their_hashes_and_says_which_did_not_come(number: str) -> None:
    kept = add(number, caption="piston crown", part="piston", instance="1")
    job = queries.load_job(number)
    shown_there = content_of(job, frozenset({kept.screen}))
    for words in ("1. Piston crown", "taken 14 March 2026, 10:02", "Mara Kern", kept.sha256, kept.screen):
        assert words in shown_there
    absent = content_of(job, frozenset())
    assert "did not come with the job file" in absent
    assert kept.sha256[:12] in absent


def test_an_issued_record_keeps_a_photograph_that_is_taken_out_later(number: str) -> None:
    kept = add(number, caption="piston crown")
    issued = issue_record(number, WHO)
    run_waiting()
    found = paper_of(number, issued.revision)
    assert found is not None
    assert picture(number, kept.screen) in found[1]  # the JPEG stands in the PDF as it is, byte for byte
    take_out_photograph(number, kept.id, form(), WHO)
    (checked,) = verify_record(number, issued.revision)
    assert checked.faults == ()
    assert "the same to the last byte" in checked.remarks[0]
    second = issue_record(number, WHO)
    assert (issued.revision, second.revision) == (1, 2)
    newest = models.IssuedRecord.objects.get(revision=2)
    assert list(pictures_wanted(read_content(newest.content.encode()))) == []


def test_a_record_whose_photograph_was_lost_does_not_pass(number: str) -> None:
    kept = add(number)
    issue_record(number, WHO)
    run_waiting()
    store.path_of(kept.sha256).unlink()
    (checked,) = verify_record(number)
    assert "missing" in checked.faults[0]


def test_a_paper_whose_photograph_is_not_at_hand_fails_in_a_sentence(number: str) -> None:
    kept, other = add(number, 1), add(number, 2)
    job = queries.load_job(number)
    pictures = frozenset({kept.screen, other.screen})
    content = record_content(job, assess(job), 1, "2026-03-20T12:00:00Z", pictures=pictures)
    with pytest.raises(PaperError, match="could not be set"):
        typeset(content, {kept.screen: picture(number, kept.screen)})
