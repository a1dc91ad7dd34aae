"""Content to PDF: Typst, our own template and fonts, and nothing of the machine it runs on."""

import hashlib
import re
import subprocess
import sys
import unicodedata
from collections.abc import Iterator, Mapping
from datetime import datetime
from functools import cache
from importlib.metadata import version
from pathlib import Path
from tempfile import TemporaryDirectory
from threading import Lock
from typing import Any

import msgspec

from gudgeon import __version__
from gudgeon.report.content import Content, Versions, content_bytes, content_hash

FONTS = Path(__file__).parent / "fonts"
TEMPLATE = Path(__file__).parent / "templates" / "paper.typ"
_FONT_NAME = "B612 1.008"
_STAND_IN = "\ufffd"
_UNSEEN = {"Cc", "Cf"}  # control and format characters have no shape at all
_BREAK = "\u200b"  # where a word too long for its column may be broken
_KEPT_TOGETHER = re.compile(r"(?<=\d) (?=(?:%|°C|µm|mm|N·m|kPa|bar|psi|h|g|in)(?:\W|$))|(?<=\bpage) (?=\w)")
_LONG_WORD = re.compile(r"\S{20,}")
_WHOLE = {"svg", "screen"}  # a drawing and the name of a file are never broken
PRESS_INPUTS, PRESS_PAPER = "inputs.json", "paper.pdf"
_one_at_a_time = Lock()


class PaperError(RuntimeError):
    """The pages could not be set as they should be; the sentence says why."""


@cache
def versions() -> Versions:
    """What pages are made with now."""
    template = hashlib.sha256(TEMPLATE.read_bytes()).hexdigest()[:12]
    return Versions(__version__, version("typst"), template, _FONT_NAME)


def typeset(content: Content, pictures: Mapping[str, bytes] | None = None) -> bytes:
    """The PDF of a content: PDF/A-2b, tagged, the same bytes each time. A warning is a failure.

    ``pictures`` holds the photographs the content shows, by the hash of their screen size.
    """
    stored = content_bytes(content)
    shown = _walk(msgspec.json.decode(stored))
    inputs = {
        "content": msgspec.json.encode(shown).decode(),
        "hash": content_hash(stored),
        "moment": msgspec.json.encode(_moment(content.issued_at)).decode(),
    }
    if not pictures:
        return _compiled(TEMPLATE.read_bytes(), inputs)
    with TemporaryDirectory(prefix="gudgeon-") as folder:
        for name, data in pictures.items():
            (Path(folder) / name).write_bytes(data)
        return _in_a_press_of_its_own(inputs, Path(folder))


def _in_a_press_of_its_own(inputs: dict[str, str], folder: Path) -> bytes:
    """In a process that ends: photographs are unpacked to some 10 MB each, and the setter keeps them."""
    (folder / PRESS_INPUTS).write_bytes(msgspec.json.encode(inputs))
    command = [sys.executable, "-m", "gudgeon.report.press", str(folder)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)  # noqa: S603  our own module
    if done.returncode:
        last = done.stderr.strip().rpartition("\n")[2] or f"it ended with {done.returncode}"
        raise PaperError(f"The pages with photographs could not be set: {last}")
    return (folder / PRESS_PAPER).read_bytes()


def press(folder: Path) -> None:
    """What the other process does: the inputs and pictures of a folder become its paper."""
    inputs = msgspec.json.decode((folder / PRESS_INPUTS).read_bytes(), type=dict[str, str])
    (folder / PRESS_PAPER).write_bytes(_compiled(TEMPLATE.read_bytes(), inputs, str(folder)))


def _compiled(source: bytes, inputs: dict[str, str], folder: str | None = None) -> bytes:
    import typst

    with _one_at_a_time:
        try:
            made, warnings = typst.compile_with_warnings(  # type: ignore[misc]  # the stub leaves its input open
                source,
                root=folder,
                font_paths=[str(FONTS)],
                ignore_system_fonts=True,
                sys_inputs=inputs,
                pdf_standards=["a-2b", "ua-1"],  # for keeping, and for those who have it read aloud
            )
        except typst.TypstError as fault:
            raise PaperError(f"The pages could not be set: {fault}") from fault
    if warnings:
        raise PaperError(f"The pages could not be set cleanly: {'; '.join(str(w) for w in warnings)}")
    return bytes(made)


def _moment(issued_at: str) -> list[int]:
    at = datetime.fromisoformat(issued_at.replace("Z", "+00:00"))
    return [at.year, at.month, at.day, at.hour, at.minute, at.second]


def _walk(value: Any, key: str = "") -> Any:
    """The same content with every text made fit to print."""
    if isinstance(value, str):
        whole = key in _WHOLE or value.startswith("<svg")
        return _printable(value) if whole else _breakable(_printable(value))
    if isinstance(value, list):
        return [_walk(entry) for entry in value]
    if isinstance(value, dict):
        return {name: _walk(entry, name) for name, entry in value.items()}
    return value


def _breakable(text: str) -> str:
    """Numbers keep their unit on the line; words too long for a column may be broken."""
    kept = _KEPT_TOGETHER.sub("\u00a0", text).replace("L/min", "L/\u2060min")
    return _LONG_WORD.sub(lambda found: _BREAK.join(_pieces(found[0])), kept)


def _pieces(word: str, size: int = 10) -> Iterator[str]:
    for start in range(0, len(word), size):
        yield word[start : start + size]


def _printable(text: str) -> str:
    """The text with a stand-in for each character the fonts lack; the content keeps the true one."""
    if text.isascii() and text.isprintable():
        return text
    seen = (letter for letter in text if letter in "\n\t" or unicodedata.category(letter) not in _UNSEEN)
    return "".join(letter if _has_shape(letter) else _STAND_IN for letter in seen)


@cache
def _has_shape(letter: str) -> bool:
    """Whether the fonts can show a character: plain letters surely, others are tried."""
    if letter in "\n\t" or (letter.isascii() and letter.isprintable()):
        return True
    try:
        _compiled(_trial(), {"letter": letter})
    except PaperError:
        return False
    return True


@cache
def _trial() -> bytes:
    return (TEMPLATE.parent / "trial.typ").read_bytes()
