"""Paper: whole content in, one and the same PDF out; hostile text stays text; every page says what it is."""

import io
import os
import re
import subprocess
import sys
from pathlib import Path

import msgspec
import pytest
from pypdf import PdfReader
from tests.report import scene

from gudgeon.assess import assess
from gudgeon.assess.results import Assessment
from gudgeon.job import Job
from gudgeon.job.file import read_job
from gudgeon.report import (
    Content,
    PaperError,
    components,
    content_bytes,
    content_hash,
    leak_sheet_content,
    read_content,
    record_content,
    typeset,
    verify_content,
    work_sheet_content,
)
from gudgeon.report.content import Column, Paragraph, Points, Row, Section, Table
from gudgeon.report.typesetting import TEMPLATE, _compiled, versions

EXAMPLES = Path(__file__).resolve().parents[2] / "examples" / "jobs"
HOSTILE = (
    '#import "x.typ": *',
    "$integral$ *not bold* _nor this_ <label> @ref \\ ` // /* {} []",
    "<script>alert(1)</script> &amp; “quotes”",
    '#eval("read(\\"/etc/passwd\\")")',
)


@pytest.fixture(scope="module")
def record(job: Job, assessment: Assessment) -> Content:
    """The scene's record."""
    return record_content(job, assessment, 1, scene.ISSUED)


@pytest.fixture(scope="module")
def pdf(record: Content) -> bytes:
    """Its pages."""
    return typeset(record)


@pytest.fixture(scope="module")
def said(pdf: bytes) -> list[str]:
    """What each of its pages says."""
    return pages(pdf)


def pages(made: bytes) -> list[str]:
    """The text of each page."""
    return [page.extract_text() for page in PdfReader(io.BytesIO(made)).pages]


def flat(text: str) -> str:
    """Text without the breaks and spaces that typesetting puts in."""
    return re.sub(r"[\s\u200b\u2060]+", "", text)


def small(record: Content, *texts: str) -> Content:
    """A short paper with these texts in every kind of place."""
    table = Table(
        "t", (Column("a", 1), Column("b", 1)), tuple(Row((text, text), note=text) for text in texts)
    )
    blocks = (*(Paragraph(text) for text in texts), Points(texts), table)
    return msgspec.structs.replace(record, sections=(Section("What it says", blocks),))


def test_content_comes_back_from_its_bytes_as_it_was(record: Content) -> None:
    stored = content_bytes(record)
    assert read_content(stored) == record
    assert content_bytes(read_content(stored)) == stored


def test_one_changed_byte_is_found(record: Content) -> None:
    stored = content_bytes(record)
    issued = content_hash(stored)
    assert verify_content(stored, issued)
    assert verify_content(stored, issued.upper())
    for at in range(0, len(stored), len(stored) // 40):
        changed = stored[:at] + bytes([stored[at] ^ 1]) + stored[at + 1 :]
        assert not verify_content(changed, issued)


def test_the_hash_is_sha_256() -> None:
    """Outside: FIPS 180-4, the published digest of the message "abc"."""
    assert content_hash(b"abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


def test_rebuilt_pages_are_the_same_bytes(record: Content, pdf: bytes) -> None:
    assert typeset(read_content(content_bytes(record))) == pdf


def test_another_process_makes_the_same_pages(record: Content, pdf: bytes, tmp_path: Path) -> None:
    stored = tmp_path / "content.json"
    stored.write_bytes(content_bytes(record))
    script = (
        "import sys, pathlib; from gudgeon.report import read_content, typeset\n"
        "sys.stdout.buffer.write(typeset(read_content(pathlib.Path(sys.argv[1]).read_bytes())))"
    )
    environment = {**os.environ, "TZ": "Pacific/Auckland", "PYTHONHASHSEED": "7"}
    made = subprocess.run(
        [sys.executable, "-c", script, str(stored)], check=True, capture_output=True, env=environment
    )
    assert made.stdout == pdf


def test_every_page_says_engine_job_revision_page_and_hash(record: Content, said: list[str]) -> None:
    texts = said
    assert len(texts) > 5
    for number, text in enumerate(texts, 1):
        assert "Whinmoor 349" in text
        assert "job 2026-014" in text
        assert "revision 1" in text
        assert f"page {number} of {len(texts)}" in text
        assert content_hash(content_bytes(record)) in flat(text)


def test_the_pdf_is_tagged_for_keeping_and_for_reading_aloud(pdf: bytes) -> None:
    """The marks that ISO 19005-2 (PDF/A-2b) and ISO 14289-1 (PDF/UA-1) ask for in the file's own data."""
    reader = PdfReader(io.BytesIO(pdf))
    root = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en"
    metadata = root["/Metadata"].get_data().decode()
    assert re.search(r"pdfaid:part>2<", metadata)
    assert re.search(r"pdfaid:conformance>B<", metadata)
    assert re.search(r"pdfuaid:part>1<", metadata)
    assert "Build record, Whinmoor 349" in reader.metadata.title


def test_only_shipped_fonts_are_used_and_all_are_inside(pdf: bytes) -> None:
    names = set()
    for page in PdfReader(io.BytesIO(pdf)).pages:
        for font in page["/Resources"].get("/Font", {}).values():
            inner = font.get_object()["/DescendantFonts"][0].get_object()
            descriptor = inner["/FontDescriptor"].get_object()
            assert {"/FontFile", "/FontFile2", "/FontFile3"} & set(descriptor)
            names.add(str(descriptor["/FontName"]).split("+")[-1])
    assert names <= {"B612-Regular", "B612-Bold", "DejaVuSansMono", "DejaVuSansMono-Bold"}
    assert {"B612-Regular", "B612-Bold"} <= names


def test_the_first_page_is_the_customers_and_is_one_page(said: list[str]) -> None:
    first, second, *_ = said
    for words in ("What was found", "What was replaced", "as found", "Mairi Kinnear", "Received by"):
        assert words in first
    assert "Readings" not in first
    assert "Readings" in second


def test_an_overruled_decision_shows_proposal_and_reason(said: list[str]) -> None:
    text = " ".join(said).replace("\n", " ")
    assert "Against the proposal, which was: use again." in text
    assert "races on Sunday" in text


def test_the_record_says_what_its_hash_is_worth(said: list[str]) -> None:
    text = flat(" ".join(said))
    assert flat("A hash shows accidents and later edits, not forgery by whoever holds the database.") in text


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("example", sorted(EXAMPLES.glob("*.json")), ids=lambda path: path.stem)
def test_each_example_can_be_handed_over(example: Path, paper: str) -> None:
    job = read_job(example.read_bytes())
    content = record_content(job, assess(job), 1, scene.ISSUED, paper)  # type: ignore[arg-type]  # both are sizes
    first, *rest = pages(typeset(content))
    assert "Received by" in first
    assert "What was replaced" in first
    assert "Readings" in rest[0]
    assert "How the verdicts are made" in " ".join(rest)


@pytest.mark.parametrize("text", HOSTILE)
def test_text_is_never_markup(record: Content, text: str) -> None:
    printed = flat(" ".join(pages(typeset(small(record, text)))))
    assert printed.count(flat(text)) >= 5


def test_letters_the_fonts_lack_stop_nothing_and_stay_in_the_content(record: Content) -> None:
    name = "漢字 😀 Иван Łukasz \x07bell"
    content = small(record, name)
    printed = " ".join(pages(typeset(content)))
    assert "\ufffd\ufffd \ufffd Иван Łukasz bell" in printed
    assert "漢字" in content_bytes(content).decode()


def test_a_word_too_long_for_its_column_is_broken(record: Content) -> None:
    word = "x" * 240
    lines = " ".join(pages(typeset(small(record, word)))).split("\n")
    runs = [run for line in lines for run in re.findall(r"x+", line.replace("\u200b", ""))]
    assert sum(len(run) for run in runs) == 5 * 240
    assert max(len(run) for run in runs) < 130


def test_letter_paper_is_letter(job: Job, assessment: Assessment) -> None:
    made = typeset(leak_sheet_content(job, assessment.leaks[0], issued_at=scene.ISSUED, paper="letter"))
    box = PdfReader(io.BytesIO(made)).pages[0].mediabox
    assert (float(box.width), float(box.height)) == (612, 792)  # ANSI/ASME Y14.1: 8.5 in by 11 in


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_leak_sheet_is_one_page(job: Job, assessment: Assessment, paper: str) -> None:
    for leak in assessment.leaks:
        content = leak_sheet_content(job, leak, issued_at=scene.ISSUED, paper=paper)  # type: ignore[arg-type]  # both are sizes
        (page,) = pages(typeset(content))
        assert leak.headline.split(",")[0][:20] in page.replace("\n", " ")
        assert "Hold the crank" in page.replace("\n", " ")


def test_a_work_sheet_has_a_line_for_each_place(job: Job) -> None:
    assert {"cylinder", "piston"} <= set(components(job))
    content = work_sheet_content(job, ("cylinder",), issued_at=scene.ISSUED)
    (table,) = [block for section in content.sections for block in section.blocks if isinstance(block, Table)]
    bores = [row.cells[0] for row in table.rows if row.cells][:6]
    assert len(set(bores)) == 6
    assert "81.74 mm" in table.rows[0].title_note
    text = " ".join(pages(typeset(content)))
    assert "Bore diameter [mm]" in text


def test_a_warning_is_a_failure() -> None:
    dated = b'#set document(title: "t", date: datetime(year: 2000, month: 1, day: 1))'
    source = dated + b'\n#set text(font: "No Such Font")\nwords'
    with pytest.raises(PaperError, match="unknown font"):
        _compiled(source, {})


def test_versions_name_what_the_pages_were_made_with() -> None:
    import hashlib
    from importlib.metadata import version

    assert versions().typst == version("typst")
    assert versions().template == hashlib.sha256(TEMPLATE.read_bytes()).hexdigest()[:12]
