"""Developing: a file from a camera becomes three plain pictures.

Each is decoded and written anew from its points alone. So whatever else the file held is gone: where it was
taken, what the camera or a person wrote into it, another file behind the picture.
"""

import importlib
import re
import struct
from dataclasses import dataclass
from io import BytesIO
from typing import BinaryIO, Literal

from PIL import Image, ImageCms, ImageOps

from gudgeon.quantities import Refused
from gudgeon.records.image_header import Kind, kind_of, size_of

MEDIA_TYPE = "image/jpeg"
MOST_BYTES = 40_000_000  # of a file as it comes in
MOST_POINTS = 64_000_000  # a picture is held whole in memory, three bytes a point
TOO_LARGE = "This file has more than 40 MB, the most a photograph may have: set the camera to a smaller size."
SCREEN, THUMBNAIL = 1600, 320  # longest side
KEPT_QUALITY, SMALL_QUALITY = 92, 80
# A second guard, behind our own reading of the header: the decoder's own.
Image.MAX_IMAGE_PIXELS = MOST_POINTS

_MOST_PROFILE = 1_000_000  # bytes of a colour profile; real ones have a few thousand
_IN_EXIF, _TAKEN, _ZONE, _CHANGED = 0x8769, 0x9003, 0x9011, 0x0132  # Exif 2.32, tags
_CLOCK = re.compile(r"((?:19|20)\d\d):(\d\d):(\d\d) (\d\d:\d\d:\d\d)")
_OFFSET = re.compile(r"[+-]\d\d:\d\d")
_FORMATS: dict[Kind, str] = {"jpeg": "JPEG", "png": "PNG", "webp": "WEBP", "heic": "HEIF"}

Why = Literal["empty", "too large", "not a picture", "too many points", "damaged", "HEIC"]


class NotAPhotograph(Refused):
    """A file that cannot be taken in; ``why`` names the reason for the log, which names nobody."""

    def __init__(self, why: Why, sentence: str) -> None:
        super().__init__(sentence)
        self.why = why


@dataclass(frozen=True, slots=True)
class Developed:
    """A photograph ready to be kept: three JPEG pictures, the size of the first, and when it was taken."""

    kept: bytes
    screen: bytes
    thumbnail: bytes
    width: int
    height: int
    taken: str  # by the camera's clock: 2026-03-14T10:02:11, with +01:00 where it said so; or empty


def develop(file: BinaryIO) -> Developed:
    """Check, decode, turn upright and clean a file from a camera. Raises NotAPhotograph."""
    kind = _checked(file)
    image = _opened(file, kind)
    try:
        return _developed(image, full_colour=kind == "png")
    except Exception as fault:  # a decoder fed a hostile file may raise anything at all
        raise _damaged() from fault


def _checked(file: BinaryIO) -> Kind:
    size = file.seek(0, 2)
    if size > MOST_BYTES:
        raise NotAPhotograph("too large", TOO_LARGE)
    kind = kind_of(file)
    if kind == "empty":
        raise NotAPhotograph("empty", "This file is empty; a photograph was expected.")
    if kind == "text":
        says = "This file holds text, not a photograph, whatever its name says; JPEG, PNG and WebP are taken."
        raise NotAPhotograph("not a picture", says)
    if kind == "other":
        says = "This file is no photograph that can be read here; JPEG, PNG and WebP are taken."
        raise NotAPhotograph("not a picture", says)
    if kind != "heic":
        _few_enough(size_of(file, kind))
    return kind


def _few_enough(size: tuple[int, int] | None) -> None:
    if size is None or not all(size):
        raise _damaged()
    points = size[0] * size[1]
    if points > MOST_POINTS:
        raise NotAPhotograph(
            "too many points",
            f"This photograph has {points / 1e6:.0f} megapixels; at most {MOST_POINTS // 1_000_000} are "
            "taken: set the camera to fewer.",
        )


def _damaged() -> NotAPhotograph:
    return NotAPhotograph(
        "damaged", "This photograph is damaged, or was not copied whole: copy it again, or take it again."
    )


def _opened(file: BinaryIO, kind: Kind) -> Image.Image:
    if kind == "heic":
        _learn_heic()
    file.seek(0)
    try:
        image = Image.open(file, formats=(_FORMATS[kind],))
    except Exception as fault:  # the same
        raise _damaged() from fault
    _few_enough(image.size)
    return image


def _learn_heic() -> None:
    try:
        heif = importlib.import_module("pillow_heif")
    except ImportError:
        raise NotAPhotograph(
            "HEIC",
            "This is a HEIC photograph, which this installation cannot read: set the camera to JPEG, "
            "or install Gudgeon with its extra “heic”.",
        ) from None
    heif.register_heif_opener()


def _developed(image: Image.Image, *, full_colour: bool) -> Developed:
    taken = _when(image)
    image.load()
    ImageOps.exif_transpose(image, in_place=True)
    picture = _in_plain_colours(image)
    size = picture.size
    kept = _as_jpeg(picture, KEPT_QUALITY, full_colour=full_colour)
    picture.thumbnail((SCREEN, SCREEN), Image.Resampling.LANCZOS)
    screen = _as_jpeg(picture, SMALL_QUALITY)
    picture.thumbnail((THUMBNAIL, THUMBNAIL), Image.Resampling.LANCZOS)
    return Developed(kept, screen, _as_jpeg(picture, SMALL_QUALITY), *size, taken)


def _when(image: Image.Image) -> str:
    exif = image.getexif()
    inside = exif.get_ifd(_IN_EXIF)
    found = _CLOCK.fullmatch(str(inside.get(_TAKEN) or exif.get(_CHANGED) or "").strip("\x00 "))
    if not found:
        return ""
    offset = str(inside.get(_ZONE, "")).strip("\x00 ")
    year, month, day, clock = found.groups()
    return f"{year}-{month}-{day}T{clock}{offset if _OFFSET.fullmatch(offset) else ''}"


def _in_plain_colours(image: Image.Image) -> Image.Image:
    """Red, green and blue as every screen and paper takes them, on white where it was clear."""
    profile = image.info.get("icc_profile") or b""
    image.info.clear()  # else a comment would be written into every picture made from this one
    if image.mode.startswith("I"):
        image = image.convert("I").point(lambda value: value / 256).convert("L")
    if image.has_transparency_data:
        clear = image.convert("RGBA")
        image = Image.new("RGB", image.size, "white")
        image.paste(clear, mask=clear.getchannel("A"))
    if profile and len(profile) < _MOST_PROFILE and image.mode in {"RGB", "CMYK", "L"}:
        image = _by_profile(image, profile)
    return image if image.mode == "RGB" else image.convert("RGB")


def _by_profile(image: Image.Image, profile: bytes) -> Image.Image:
    """The colours the camera meant; as they stand, where its profile cannot be used."""
    try:
        meant = ImageCms.ImageCmsProfile(BytesIO(profile))
        made = ImageCms.profileToProfile(image, meant, ImageCms.createProfile("sRGB"), outputMode="RGB")
    except (ImageCms.PyCMSError, OSError, struct.error):
        return image
    return made or image


def _as_jpeg(picture: Image.Image, quality: int, *, full_colour: bool = False) -> bytes:
    picture.info.clear()
    made = BytesIO()
    picture.save(made, "JPEG", quality=quality, subsampling=0 if full_colour else 2, optimize=True)
    return made.getvalue()


def fits(data: bytes) -> bool:
    """Whether bytes are a picture as made here: a whole JPEG, not too large, with nothing written into it."""
    file = BytesIO(data)
    if len(data) > MOST_BYTES or kind_of(file) != "jpeg":
        return False
    try:
        _few_enough(size_of(file, "jpeg"))
        with _opened(file, "jpeg") as image:
            image.load()
            return not (image.getexif() or {"comment", "xmp", "icc_profile", "photoshop"} & image.info.keys())
    except Exception:  # noqa: BLE001  a decoder fed a hostile file may raise anything at all
        return False
