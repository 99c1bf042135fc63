"""A photo of a paper or a board: made small and plain, and straightened to the half court."""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import Final

import numpy as np
from PIL import Image, ImageOps

from plays.core.court.courts import Court

FORMATS: Final = ("JPEG", "PNG", "WEBP")
MOST_PIXELS: Final = 24_000_000  # of a file, as its header says: 72 MB once unpacked
LONGEST: Final = 1600  # pixels of the longer side that is kept
PER_METRE: Final = 60.0  # pixels of the straightened picture
QUALITY: Final = 80
# How a phone's HEIC file begins, after four bytes of length: ISO/IEC 14496-12, 4.3, with the
# brands of ISO/IEC 23008-12, annexes B and E, and of AVIF, which share the box of images.
HEIC_BRANDS: Final = (b"heic", b"heix", b"heim", b"heis", b"hevc", b"mif1", b"msf1", b"avif")

Corner = tuple[float, float]


class PhotoError(ValueError):
    """What was sent is no photo that can be kept; ``why`` is "size", "heic" or "broken"."""

    def __init__(self, why: str) -> None:
        super().__init__(why)
        self.why = why


def plain_photo(data: bytes) -> bytes:
    """The photo as a new JPEG: upright, bounded, without a word of where and when.

    Only the header is read before the size is known. Raises PhotoError.
    """
    if data[4:8] == b"ftyp" and data[8:12] in HEIC_BRANDS:
        raise PhotoError("heic")
    try:
        with Image.open(io.BytesIO(data), formats=FORMATS) as found:
            if found.width * found.height > MOST_PIXELS:
                raise PhotoError("size")
            found.draft("RGB", (LONGEST, LONGEST))
            upright = ImageOps.exif_transpose(found).convert("RGB")
    except Image.DecompressionBombError as bomb:
        raise PhotoError("size") from bomb
    except (OSError, SyntaxError, ValueError, EOFError) as broken:
        if isinstance(broken, PhotoError):
            raise
        raise PhotoError("broken") from broken
    upright.thumbnail((LONGEST, LONGEST))
    return _jpeg(upright)


def straightened(photo: bytes, corners: Sequence[Corner], floor: Court) -> bytes:
    """What a photo shows of the half court, seen from straight above, as a JPEG.

    ``corners`` are those of the baseline, left and right, then of the half-way line, right and
    left, as shares of the photo's width and height. Raises PhotoError where they span nothing.
    """
    with Image.open(io.BytesIO(photo), formats=("JPEG",)) as found:
        width, height = found.size
        size = (round(2 * floor.half_width * PER_METRE), round(floor.half_y * PER_METRE))
        places = [(x * width, y * height) for x, y in corners]
        flat = found.transform(
            size, Image.Transform.PERSPECTIVE, projection(size, places), Image.Resampling.BICUBIC
        )
    return _jpeg(flat)


def projection(size: tuple[int, int], corners: Sequence[Corner]) -> tuple[float, ...]:
    """The eight numbers of the projective map from a picture of this size to the four corners.

    The map of four points to four points is linear in them (Heckbert, "Fundamentals of Texture
    Mapping and Image Warping", 1989, section 2.2.3). Raises PhotoError where three lie in a line.
    """
    across, down = size
    rows, right = [], []
    for (x, y), (u, v) in zip(
        ((0, 0), (across, 0), (across, down), (0, down)), corners, strict=True
    ):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        right += [u, v]
    if not _convex(corners):
        raise PhotoError("corners")
    return tuple(float(each) for each in np.linalg.solve(np.array(rows), np.array(right)))


def _convex(corners: Sequence[Corner]) -> bool:
    """Whether they go round without a crossing, and each turn encloses something."""
    turns = []
    for n in range(4):
        (ax, ay), (bx, by), (cx, cy) = (corners[(n + k) % 4] for k in range(3))
        turns.append((bx - ax) * (cy - by) - (by - ay) * (cx - bx))
    most = max(abs(each) for each in turns)
    return most > 0 and (min(turns) > most / 1000 or max(turns) < -most / 1000)


def _jpeg(image: Image.Image) -> bytes:
    out = io.BytesIO()
    image.save(out, "JPEG", quality=QUALITY, optimize=True)
    return out.getvalue()
