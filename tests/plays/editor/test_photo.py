"""A photo laid under the court: taken in small and plain, straightened, and gone with the draft."""

from __future__ import annotations

import io
import random
import resource
from collections import Counter
from zlib import compress, crc32

import numpy as np
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse
from PIL import Image, ImageDraw

from plays.core.court.courts import court
from plays.core.play import RuleSet
from plays.editor.photo import straightened
from plays.library.changes import discard, publish
from plays.models import Play, Revision, TracedPhoto
from shared.photos import LONGEST, PhotoError, plain_photo
from tests.cast import Cast

SEEN = ((120.0, 80.0), (520.0, 60.0), (600.0, 420.0), (40.0, 400.0))
# The first box of a phone's photo: length, "ftyp", brand "heic" (ISO/IEC 23008-12, annex B).
HEIC = b"\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic" + bytes(400)
NAMES = ("baseline_left", "baseline_right", "half_right", "half_left")
SHARES = tuple((x / 640, y / 480) for x, y in SEEN)


def picture(size: tuple[int, int] = (640, 480), kind: str = "JPEG", **more: object) -> bytes:
    """A white sheet with one red dot where the lines between opposite corners cross."""
    image = Image.new("RGB", size, "white")
    draw = ImageDraw.Draw(image)
    x, y = crossing()
    draw.ellipse((x - 6, y - 6, x + 6, y + 6), fill="red")
    out = io.BytesIO()
    image.save(out, kind, **more)
    return out.getvalue()


def crossing() -> tuple[float, float]:
    a, b, c, d = (np.array(each) for each in SEEN)
    along, _other = np.linalg.solve(np.column_stack((c - a, b - d)), b - a)
    x, y = a + along * (c - a)
    return float(x), float(y)


def test_the_crossing_of_the_diagonals_is_the_middle_of_the_court() -> None:
    """A projective map keeps lines, so diagonals cross where they cross (projective geometry)."""
    flat = Image.open(io.BytesIO(straightened(picture(), SHARES, court(RuleSet.FIBA))))
    colours = np.asarray(flat.convert("RGB")).astype(int)
    red = np.argwhere((colours[..., 0] > 150) & (colours[..., 1] < 100))
    down, across = red.mean(axis=0)
    assert abs(across - flat.width / 2) < 2
    assert abs(down - flat.height / 2) < 2


def test_corners_that_span_nothing_are_refused_as_a_photo() -> None:
    with pytest.raises(PhotoError):
        straightened(picture(), ((0, 0),) * 4, court(RuleSet.FIBA))


def test_what_is_kept_is_upright_small_and_says_nothing_of_where_it_was_taken() -> None:
    exif = Image.Exif()
    exif[0x0112] = 6  # Exif 2.32, orientation: the camera was turned
    exif[0x013B] = "Somebody"
    exif.get_ifd(0x8825)[1] = "N"  # GPS
    kept = plain_photo(picture((3000, 1000), exif=exif))
    found = Image.open(io.BytesIO(kept))
    assert (found.format, found.height) == ("JPEG", LONGEST)
    assert found.width < found.height
    assert not found.getexif()
    assert b"Somebody" not in kept


@pytest.mark.parametrize("kind", ["PNG", "WEBP", "JPEG"])
def test_the_three_kinds_of_the_web_are_read(kind: str) -> None:
    assert plain_photo(picture(kind=kind))[:3] == b"\xff\xd8\xff"  # JPEG's start (ITU-T T.81)


def test_forty_megapixels_a_wrong_ending_half_a_file_and_a_phones_own_kind_are_told_apart() -> None:
    for data, why in (
        (picture((8000, 5000), "PNG"), "size"),
        (b"%PDF-1.7 no photo", "broken"),
        (picture()[:2000], "broken"),
        (picture(kind="GIF"), "broken"),
        (HEIC, "heic"),
    ):
        with pytest.raises(PhotoError) as refused:
            plain_photo(data)
        assert refused.value.why == why


def png_with(kind: bytes, body: bytes) -> bytes:
    """A small picture with one more chunk before its data (PNG, 5.3)."""
    plain = picture((8, 8), "PNG")
    chunk = len(body).to_bytes(4, "big") + kind + body + crc32(kind + body).to_bytes(4, "big")
    return plain[:33] + chunk + plain[33:]


def plain_or_why(data: bytes) -> bytes:
    try:
        return plain_photo(data)
    except PhotoError as refused:
        return refused.why.encode()


SCRIPT = b"<script>alert(1)</script>"


@pytest.mark.parametrize(
    "data",
    [
        b"<svg xmlns='http://www.w3.org/2000/svg'>" + SCRIPT + b"</svg>",
        b"<!doctype html>" + SCRIPT,
        b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 9 9\n",
        png_with(b"zTXt", b"a\0\0" + compress(b"x" * 200_000_000)),
        png_with(b"iCCP", b"a\0\0" + compress(b"x" * 200_000_000)),
        png_with(b"iTXt", b"a\0\1\0\0\0" + compress(b"x" * 200_000_000)),
    ],
    ids=["svg", "html", "postscript", "zTXt bomb", "iCCP bomb", "iTXt bomb"],
)
def test_what_is_no_photo_or_swells_is_refused_and_small_in_memory(data: bytes) -> None:
    """200 MB come out of 200 kB of text or of a colour profile beside the picture."""
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    assert len(plain_or_why(data)) < 10_000
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before < 100_000  # kB


def test_nothing_but_the_picture_is_left_of_what_was_sent() -> None:
    """Script behind the end of the picture, in its comment and in its Exif (a polyglot)."""
    exif = Image.Exif()
    exif[0x010E] = SCRIPT.decode()
    for kind, more in (("JPEG", {"comment": SCRIPT, "exif": exif}), ("PNG", {"exif": exif})):
        assert SCRIPT not in plain_photo(picture(kind=kind, **more) + SCRIPT)


@pytest.mark.filterwarnings("ignore::UserWarning")  # Pillow says what is odd, and goes on
def test_any_bytes_are_a_photo_or_refused() -> None:
    """Two thousand photos with spoilt bytes, half of them within the head and the Exif."""
    exif = Image.Exif()
    exif[0x0112] = 6
    exif.get_ifd(0x8825)[1] = "N"
    chance = random.Random(11)
    good = [picture((64, 48), kind, exif=exif) for kind in ("JPEG", "PNG", "WEBP")]
    ends = Counter[str]()
    for n in range(2000):
        data = bytearray(good[n % 3])
        for _ in range(chance.randint(1, 8)):
            within = min(len(data), 200 if n % 2 else len(data))
            data[chance.randrange(within)] = chance.randrange(256)
        end = plain_or_why(bytes(data))
        ends["kept" if end.startswith(b"\xff\xd8") else end.decode()] += 1
    assert ends["kept"] > 100 < ends["broken"]


def sent(client: Client, play: Play, data: bytes, name: str = "board.jpg") -> int:
    file = SimpleUploadedFile(name, data, "image/jpeg")
    return client.post(reverse("draw-photo", args=[play.key]), {"file": file}).status_code


def marked(client: Client, play: Play) -> int:
    said: dict[str, float] = {}
    for name, (x, y) in zip(NAMES, SHARES, strict=True):
        said |= {f"{name}_x": 100 * x, f"{name}_y": 100 * y}
    return client.post(reverse("draw-photo-corners", args=[play.key]), said).status_code


def test_a_photo_is_kept_before_anything_is_drawn_and_lies_under_the_court(
    keeper: Client, begun: Play
) -> None:
    assert sent(keeper, begun, picture()) == 302
    court_file = reverse("draw-photo-file", args=[begun.key, "court"])
    assert keeper.get(court_file).status_code == 404
    assert marked(keeper, begun) == 302
    assert keeper.get(court_file).headers["Content-Type"] == "image/jpeg"
    shown = keeper.get(reverse("draw-play", args=[begun.key])).content.decode()
    assert f'href="{court_file}?' in shown


def test_a_bad_photo_is_told_at_its_field_and_the_good_one_stays(
    keeper: Client, begun: Play
) -> None:
    assert sent(keeper, begun, picture()) == 302
    for data in (picture((8000, 5000), "PNG"), b"none", picture()[:2000], b"x" * 3_600_000):
        assert sent(keeper, begun, data) == 422
    file = SimpleUploadedFile("IMG_0001.HEIC", HEIC, "image/heic")
    phone = keeper.post(reverse("draw-photo", args=[begun.key]), {"file": file})
    assert phone.status_code == 422
    assert "Send a screenshot of it" in phone.content.decode()
    crossed = {f"{name}_{way}": "5" for name in NAMES for way in ("x", "y")}
    answer = keeper.post(reverse("draw-photo-corners", args=[begun.key]), crossed)
    assert answer.status_code == 422
    assert "do not go round the court" in answer.content.decode()
    assert TracedPhoto.objects.get(play=begun).photo


def test_a_photo_goes_with_its_draft_published_or_discarded(
    keeper: Client, begun: Play, cast: Cast
) -> None:
    sent(keeper, begun, picture())
    publish(Revision.objects.get(play=begun), cast.keeper)
    assert not TracedPhoto.objects.exists()
    sent(keeper, begun, picture())
    begun.refresh_from_db()
    draft = Revision.objects.create(play=begun, number=2, document={}, content_hash="2")
    discard(draft, cast.keeper)
    assert not TracedPhoto.objects.exists()
    assert Play.objects.filter(pk=begun.pk).exists()


def test_who_only_reads_gets_no_photo(keeper: Client, begun: Play, cast: Cast) -> None:
    sent(keeper, begun, picture())
    reader = Client()
    reader.force_login(cast.assistant)
    for which in ("photo", "court"):
        got = reader.get(reverse("draw-photo-file", args=[begun.key, which]))
        assert got.status_code in (403, 404)
