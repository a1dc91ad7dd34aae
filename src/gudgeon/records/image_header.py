"""What the first bytes of a file say: which kind of picture it is, and how many points it has.

Read before any decoder is let near the file: some decoders make room for every point as soon as they open it.
"""

import struct
from collections.abc import Iterator
from typing import BinaryIO, Literal

Kind = Literal["jpeg", "png", "webp", "heic", "text", "empty", "other"]
HEAD_BYTES = 64
_HEIC_BRANDS = {b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1"}
_BYTE_ORDER_MARK = b"\xef\xbb\xbf"
# JPEG: markers without a length (ITU-T T.81, table B.1), and those that begin a frame.
_BARE = {0x01, *range(0xD0, 0xD9)}
_FRAMES = {*range(0xC0, 0xD0)} - {0xC4, 0xC8, 0xCC}


def kind_of(file: BinaryIO) -> Kind:
    """The kind of file, by its content; its name is never asked."""
    file.seek(0)
    head = file.read(HEAD_BYTES)
    if not head:
        return "empty"
    if head.startswith(b"\xff\xd8\xff"):
        return "jpeg"
    if head.startswith(b"\x89PNG\r\n\x1a\n"):
        return "png"
    if head[:4] == b"RIFF" and head[8:12] == b"WEBP":
        return "webp"
    if head[4:8] == b"ftyp" and head[8:12] in _HEIC_BRANDS:
        return "heic"
    return "text" if head.removeprefix(_BYTE_ORDER_MARK).lstrip().startswith(b"<") else "other"


def size_of(file: BinaryIO, kind: Kind) -> tuple[int, int] | None:
    """Width and height as the file states them; none where it does not, or not in one piece."""
    file.seek(0)
    try:
        return {"jpeg": _jpeg, "png": _png, "webp": _webp}[kind](file)
    except (struct.error, IndexError):
        return None


def _png(file: BinaryIO) -> tuple[int, int]:
    width, height = struct.unpack(">II", file.read(24)[16:24])
    return width, height


def _webp(file: BinaryIO) -> tuple[int, int] | None:
    head = file.read(30)
    if head[12:16] == b"VP8X":
        return 1 + int.from_bytes(head[24:27], "little"), 1 + int.from_bytes(head[27:30], "little")
    if head[12:16] == b"VP8L":
        bits = struct.unpack("<I", head[21:25])[0]
        return 1 + (bits & 0x3FFF), 1 + (bits >> 14 & 0x3FFF)
    if head[12:16] == b"VP8 ":
        width, height = struct.unpack("<HH", head[26:30])
        return width & 0x3FFF, height & 0x3FFF
    return None


def _jpeg(file: BinaryIO) -> tuple[int, int] | None:
    for marker, length in _segments(file):
        if marker in _FRAMES:
            height, width = struct.unpack(">xHH", file.read(5))
            return width, height
        file.seek(length, 1)
    return None


def _segments(file: BinaryIO) -> Iterator[tuple[int, int]]:
    """Marker and bytes left of each segment, up to the first scan; the file stands behind the length."""
    file.seek(2)
    while (first := file.read(1)) == b"\xff":
        while (code := file.read(1)) == b"\xff":
            continue
        marker = code[0]
        if marker in _BARE:
            continue
        if marker in {0xD9, 0xDA}:  # the end, or a scan before any frame
            return
        length = struct.unpack(">H", file.read(2))[0] - 2
        if length < 0:
            return
        yield marker, length
    _ = first
