"""A photo of a paper or a board, straightened to the half court."""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import Final

import numpy as np
from PIL import Image

from plays.core.court.courts import Court
from shared.photos import PhotoError, as_jpeg

PER_METRE: Final = 60.0  # pixels of the straightened picture

Corner = tuple[float, float]


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
    return as_jpeg(flat)


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
