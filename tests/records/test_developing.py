"""Files from cameras, and files that only say so: read by content, cleaned, or refused in one sentence."""

import random
import struct
import subprocess
import sys
from io import BytesIO

import pytest
from PIL import Image, ImageCms
from tests.records.camera import HEIC, HTML, SECRET, SVG, TWELVE, bomb, photograph, webp_bomb

from gudgeon.records.developing import MOST_BYTES, SCREEN, THUMBNAIL, Developed, NotAPhotograph, develop, fits


def opened(data: bytes) -> Image.Image:
    return Image.open(BytesIO(data))


def every(found: Developed) -> tuple[bytes, bytes, bytes]:
    return found.kept, found.screen, found.thumbnail


def is_red(image: Image.Image, place: tuple[float, float]) -> bool:
    red, green, blue = image.convert("RGB").getpixel(
        (int(image.width * place[0]), int(image.height * place[1]))
    )
    return red > 150 and green < 80 and blue < 80


def test_twelve_megapixels_come_upright_clean_and_in_three_sizes() -> None:
    found = develop(BytesIO(photograph(TWELVE, orientation=6)))
    assert (found.width, found.height) == (3024, 4032)
    assert opened(found.kept).size == (3024, 4032)
    assert max(opened(found.screen).size) == SCREEN
    assert max(opened(found.thumbnail).size) == THUMBNAIL
    # Orientation 6 (Exif 2.32, tag 274): the first row of the file is the right-hand side of the scene.
    assert all(is_red(opened(one), (0.9, 0.1)) for one in every(found))
    assert not any(is_red(opened(one), (0.1, 0.1)) for one in every(found))
    assert found.taken == "2026-03-14T10:02:11+01:00"
    assert len(found.screen) < 2_000_000
    assert len(found.thumbnail) < 60_000


@pytest.mark.parametrize(
    ("orientation", "red"),
    [(1, (0, 0)), (2, (1, 0)), (3, (1, 1)), (4, (0, 1)), (5, (0, 0)), (6, (1, 0)), (7, (1, 1)), (8, (0, 1))],
)
def test_each_of_the_eight_ways_a_camera_is_held(orientation: int, red: tuple[int, int]) -> None:
    """Where the file's first corner belongs: the table of Exif 2.32, tag 274, written out by hand."""
    kept = opened(develop(BytesIO(photograph((400, 300), orientation=orientation))).kept)
    assert kept.size == ((400, 300) if orientation < 5 else (300, 400))
    corners = {(x, y): is_red(kept, (0.1 + 0.8 * x, 0.1 + 0.8 * y)) for x in (0, 1) for y in (0, 1)}
    assert [corner for corner, found in corners.items() if found] == [red]


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_nothing_of_what_the_camera_wrote_is_left(kind: str) -> None:
    data = photograph((800, 600), kind=kind)
    assert SECRET in data
    found = develop(BytesIO(data))
    assert found.taken.startswith("2026-03-14T10:02:11")
    for one in every(found):
        assert opened(one).format == "JPEG"
        assert not opened(one).getexif()
        assert SECRET not in one
        assert segments(one) <= {0xE0, 0xDB, 0xC0, 0xC4}
        assert one.endswith(b"\xff\xd9")
        assert fits(one)
    assert not fits(data)


def segments(data: bytes) -> set[int]:
    """The markers before the picture itself (ITU-T T.81, annex B): tables, frame, and JFIF's own only."""
    found, at = set(), 2
    while data[at + 1] != 0xDA:
        found.add(data[at + 1])
        at += 2 + struct.unpack(">H", data[at + 2 : at + 4])[0]
    return found


def test_another_file_behind_the_picture_is_cut_off() -> None:
    found = develop(BytesIO(photograph((200, 150)) + b"PK\x03\x04" + HTML))
    assert not any(b"PK\x03\x04" in one or b"<script" in one for one in every(found))


def test_clear_paper_is_white_and_deep_greys_stay_grey() -> None:
    made = BytesIO()
    Image.new("RGBA", (40, 30), (0, 0, 0, 0)).save(made, "PNG")
    assert opened(develop(made).kept).getpixel((5, 5)) == (255, 255, 255)
    made = BytesIO()
    Image.new("I;16", (40, 30), 32768).save(made, "PNG")
    assert opened(develop(made).kept).getpixel((5, 5)) == (128, 128, 128)


def test_a_colour_profile_is_used_and_not_kept() -> None:
    made = BytesIO()
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    Image.new("RGB", (40, 30), (200, 100, 50)).save(made, "JPEG", quality=95, icc_profile=profile)
    kept = opened(develop(made).kept)
    assert "icc_profile" not in kept.info
    assert all(abs(a - b) < 6 for a, b in zip(kept.getpixel((5, 5)), (200, 100, 50), strict=True))
    made = BytesIO()
    Image.new("RGB", (40, 30), (200, 100, 50)).save(made, "JPEG", icc_profile=b"no profile" * 30)
    assert opened(develop(made).kept).size == (40, 30)


@pytest.mark.parametrize("clock", ["", "yesterday", "0000:00:00 00:00:00", "2026-03-14 10:02:11"])
def test_a_clock_that_was_never_set_says_nothing(clock: str) -> None:
    exif = Image.Exif()
    exif[0x0132] = clock
    made = BytesIO()
    Image.new("RGB", (40, 30)).save(made, "JPEG", exif=exif)
    assert develop(made).taken == ""


JPEG = photograph((400, 300))
HOSTILE = {
    "empty": (b"", "empty", "This file is empty"),
    "svg": (SVG, "not a picture", "holds text, not a photograph, whatever its name says"),
    "html": (HTML, "not a picture", "holds text"),
    "pdf": (b"%PDF-1.7\n" + b"0" * 99, "not a picture", "no photograph that can be read here"),
    "gif": (b"GIF89a" + b"\x01\x00" * 20, "not a picture", "no photograph"),
    "one byte": (b"\xff", "not a picture", "no photograph"),
    "only the beginning": (JPEG[:3], "damaged", "damaged, or was not copied whole"),
    "truncated": (JPEG[: len(JPEG) // 2], "damaged", "copy it again, or take it again"),
    "truncated png": (photograph((400, 300), kind="PNG")[:20000], "damaged", "damaged"),
    "truncated webp": (photograph((400, 300), kind="WEBP")[:3000], "damaged", "damaged"),
    "spoiled inside": (JPEG[:2] + b"\xff\xe1\xff\xff" + JPEG[2:], "damaged", "damaged"),
    "no points": (bomb(0, 0), "damaged", "damaged"),
    "bomb": (bomb(), "too many points", "This photograph has 400 megapixels; at most 64"),
    "webp bomb": (webp_bomb(), "too many points", "268 megapixels"),
    "too large": (JPEG + b"\x00" * MOST_BYTES, "too large", "more than 40 MB"),
    "heic": (HEIC, "HEIC", "This is a HEIC photograph"),
}


@pytest.mark.parametrize("case", HOSTILE)
def test_a_file_that_is_no_photograph_gets_one_sentence(case: str) -> None:
    data, why, sentence = HOSTILE[case]
    with pytest.raises(NotAPhotograph) as refused:
        develop(BytesIO(data))
    assert refused.value.why == why
    assert sentence in str(refused.value)
    assert str(refused.value).count(". ") == 0
    assert str(refused.value).endswith(".")


WEIGHED = """
import resource, sys
from io import BytesIO
from gudgeon.records.developing import NotAPhotograph, develop
data, before = BytesIO(sys.stdin.buffer.read()), resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
try:
    develop(data)
except NotAPhotograph as refused:
    print(refused.why, "|", resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before)
"""


@pytest.mark.skipif(
    sys.platform != "linux", reason="the memory of a process is counted in other units elsewhere"
)
@pytest.mark.parametrize("data", [bomb(), webp_bomb()], ids=["png", "webp"])
def test_a_bomb_is_refused_before_room_is_made_for_it(data: bytes) -> None:
    """Four hundred megapixels would take 400 MB at the least; the process does not grow by 10."""
    done = subprocess.run([sys.executable, "-c", WEIGHED], input=data, capture_output=True, check=True)
    why, grown = done.stdout.decode().split("|")
    assert why.strip() == "too many points"
    assert int(grown) < 10_000


@pytest.mark.parametrize("seed", range(40))
def test_a_file_spoiled_anywhere_is_taken_in_clean_or_refused(seed: int) -> None:
    chance = random.Random(seed)
    data = bytearray(photograph((160, 120), kind=chance.choice(["JPEG", "PNG", "WEBP"])))
    for _ in range(chance.randint(1, 30)):
        data[chance.randrange(len(data))] = chance.randrange(256)
    try:
        found = develop(BytesIO(bytes(data[: chance.randint(40, len(data))])))
    except NotAPhotograph:
        return
    assert all(fits(one) for one in every(found))
