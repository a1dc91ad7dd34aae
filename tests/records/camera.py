"""Files as a camera makes them, and as somebody who means ill does: made here by Pillow and by hand."""

import struct
import zlib
from functools import cache
from io import BytesIO

from PIL import Image, ImageDraw

TWELVE = (4032, 3024)  # points across and down: twelve megapixels, lying on its side
SECRET = b"a word nobody should read"


@cache
def photograph(
    size: tuple[int, int] = (1200, 900), seed: int = 0, kind: str = "JPEG", orientation: int = 1
) -> bytes:
    """A photograph with the place, the time and a comment in it; its top left corner is red."""
    image = _scene(size, seed)
    exif = Image.Exif()
    exif[0x0112] = orientation
    exif[0x0132] = "2026:03:14 12:00:00"
    exif[0x010E] = SECRET.decode()
    inside = exif.get_ifd(0x8769)
    inside[0x9003], inside[0x9011] = "2026:03:14 10:02:11", "+01:00"
    place = exif.get_ifd(0x8825)
    place[1], place[2], place[3], place[4] = "N", (47.0, 5.0, 3.0), "E", (9.0, 6.0, 7.0)
    made = BytesIO()
    more = {"comment": SECRET, "xmp": b"<x>" + SECRET + b"</x>"} if kind == "JPEG" else {}
    image.save(made, kind, quality=90, exif=exif, **more)
    return made.getvalue()


def _scene(size: tuple[int, int], seed: int) -> Image.Image:
    """Something with as much in it as a photograph of metal has."""
    coarse = Image.effect_noise((size[0] // 4, size[1] // 4), 60 + seed % 40).resize(size)
    fine = Image.effect_noise(size, 14)
    image = Image.merge("RGB", (Image.blend(coarse, fine, 0.3), coarse, Image.blend(coarse, fine, 0.2)))
    draw = ImageDraw.Draw(image)
    draw.rectangle((0, 0, size[0] // 4, size[1] // 4), fill=(200, 20, 20))
    draw.text((size[0] // 2, size[1] // 2), f"No. {seed}", fill="black", font_size=size[1] // 8)
    return image


def bomb(width: int = 20_000, height: int = 20_000) -> bytes:
    """A small PNG that says it has four hundred megapixels, and has."""
    row = zlib.compress(b"\x00" * (1 + width // 8) * height, 9)
    head = struct.pack(">IIBBBBB", width, height, 1, 0, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + _chunk(b"IHDR", head) + _chunk(b"IDAT", row) + _chunk(b"IEND", b"")


def _chunk(name: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


def webp_bomb() -> bytes:
    """The beginning of a WebP of 16384 by 16384 points (RFC 9649, section 2.7, VP8X)."""
    side = (16383).to_bytes(3, "little")
    body = b"WEBPVP8X" + struct.pack("<I", 10) + b"\x00" * 4 + side + side
    return b"RIFF" + struct.pack("<I", len(body)) + body


SVG = b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'
HTML = b"\xef\xbb\xbf \n<!doctype html><script>alert(1)</script>"
HEIC = b"\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic" + b"\x00" * 200
