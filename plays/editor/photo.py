"""A photo of a paper or a board, straightened to the half court."""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import Final

from PIL import Image

from plays.core.court.courts import Court
from shared.core.projective import Corner, NoQuadError, projection
from shared.photos import PhotoError, as_jpeg

PER_METRE: Final = 60.0  # pixels of the straightened picture


def straightened(photo: bytes, corners: Sequence[Corner], floor: Court) -> bytes:
    """What a photo shows of the half court, seen from straight above, as a JPEG.

    ``corners`` are those of the baseline, left and right, then of the half-way line, right and
    left, as shares of the photo's width and height. Raises PhotoError where they span nothing.
    """
    with Image.open(io.BytesIO(photo), formats=("JPEG",)) as found:
        width, height = found.size
        size = (round(2 * floor.half_width * PER_METRE), round(floor.half_y * PER_METRE))
        try:
            seen = projection(size, [(x * width, y * height) for x, y in corners])
        except NoQuadError as nothing:
            raise PhotoError("corners") from nothing
        flat = found.transform(size, Image.Transform.PERSPECTIVE, seen, Image.Resampling.BICUBIC)
    return as_jpeg(flat)
