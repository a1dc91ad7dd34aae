"""What a paper says, whole and final: finished sentences, numbers as text, pictures as SVG. Hashed, then set.

The canonical bytes of a content are what its hash is taken from; the hash is printed on every page, and
checking a record means taking it again.
"""

import hashlib
import hmac
from typing import Literal, TypeAlias

import msgspec

PaperSize = Literal["a4", "letter"]
Kind = Literal["record", "leak_sheet", "work_sheet", "condition_report"]


class Paragraph(msgspec.Struct, frozen=True, forbid_unknown_fields=True, tag="paragraph"):
    """A finished sentence or several. A ``figure`` is a large number, ``lead`` is read first."""

    text: str
    style: Literal["body", "lead", "figure", "small", "caution"] = "body"


class Points(msgspec.Struct, frozen=True, forbid_unknown_fields=True, tag="points"):
    """A list of sentences."""

    items: tuple[str, ...]


class Facts(msgspec.Struct, frozen=True, forbid_unknown_fields=True, tag="facts"):
    """Names and what they are: "Customer", "Hours"."""

    pairs: tuple[tuple[str, str], ...]


class Picture(msgspec.Struct, frozen=True, forbid_unknown_fields=True, tag="picture"):
    """A picture with the sentence that stands for it, as wide as a share (percent) of its column."""

    svg: str
    alt: str
    width: int = 100
    caption: str = ""


class Shot(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A photograph: the hash of the picture as kept, that of the one shown, and what stands under it."""

    sha256: str
    screen: str
    alt: str
    caption: str
    says: str


class Gallery(msgspec.Struct, frozen=True, forbid_unknown_fields=True, tag="gallery"):
    """Photographs in a grid."""

    shots: tuple[Shot, ...]


class Column(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A column of a table; ``width`` is its share."""

    head: str
    width: int
    align: Literal["left", "right", "center"] = "left"


class Row(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """A row; ``mark`` is the status drawn before it, ``note`` goes under it, ``title`` over it."""

    cells: tuple[str, ...]
    mark: str = ""
    note: str = ""
    title: str = ""
    title_note: str = ""


class Table(msgspec.Struct, frozen=True, forbid_unknown_fields=True, tag="table"):
    """A table; ``tall`` leaves room for writing by hand, ``marked`` keeps a narrow column for marks."""

    name: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    marked: bool = False
    tall: bool = False


class Signatures(msgspec.Struct, frozen=True, forbid_unknown_fields=True, tag="signatures"):
    """Lines to sign on."""

    lines: tuple[str, ...]


Plain: TypeAlias = Paragraph | Points | Facts | Picture | Table | Signatures


class Beside(msgspec.Struct, frozen=True, forbid_unknown_fields=True, tag="beside"):
    """Two columns side by side; ``left_share`` is the left one's width in percent."""

    left: tuple[Plain, ...]
    right: tuple[Plain, ...]
    left_share: int = 50


Block: TypeAlias = Plain | Beside | Gallery


class Section(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """A heading and what stands under it; ``foot`` keeps it at the foot of the first page, ``together``
    on one page, and with the section after it."""

    title: str
    blocks: tuple[Block, ...]
    new_page: bool = False
    foot: bool = False
    together: bool = False


class Versions(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What the pages were made with; the same content and versions give the same PDF, byte for byte."""

    program: str
    typst: str
    template: str
    fonts: str


class Content(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One paper, whole."""

    kind: Kind
    title: str
    engine: str
    job: str
    revision: int
    issued_at: str  # UTC, ISO 8601
    issued: str  # the date in words
    paper: PaperSize = "a4"
    sections: tuple[Section, ...]
    marks: dict[str, tuple[str, str]]  # status -> its shape and its words
    versions: Versions


RecordContent = Content


def content_bytes(content: Content) -> bytes:
    """Canonical JSON: sorted keys, no spare space, UTF-8."""
    return msgspec.json.encode(content, order="sorted")


def content_hash(stored: bytes) -> str:
    """SHA-256 of canonical bytes, in hexadecimal."""
    return hashlib.sha256(stored).hexdigest()


def read_content(stored: bytes) -> Content:
    """The content that canonical bytes hold."""
    return msgspec.json.decode(stored, type=Content)


def verify_content(stored: bytes, expected_hash: str) -> bool:
    """Whether the stored bytes are those that were issued under this hash."""
    return hmac.compare_digest(content_hash(stored), expected_hash.strip().lower())
