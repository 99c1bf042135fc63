"""A flat thing seen from the side: the projective map between it and its four corners."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

Corner = tuple[float, float]


class NoQuadError(ValueError):
    """Four corners that cross, or three of which lie in a line."""


def projection(size: tuple[int, int], corners: Sequence[Corner]) -> tuple[float, ...]:
    """The eight numbers of the projective map from a picture of this size to the four corners.

    The map of four points to four points is linear in them (Heckbert, "Fundamentals of Texture
    Mapping and Image Warping", 1989, section 2.2.3). Raises NoQuadError where three lie in a line.
    """
    across, down = size
    rows, right = [], []
    for (x, y), (u, v) in zip(
        ((0, 0), (across, 0), (across, down), (0, down)), corners, strict=True
    ):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        right += [u, v]
    if not _convex(corners):
        raise NoQuadError("the corners span nothing")
    return tuple(float(each) for each in np.linalg.solve(np.array(rows), np.array(right)))


def _convex(corners: Sequence[Corner]) -> bool:
    """Whether they go round without a crossing, and each turn encloses something."""
    turns = []
    for n in range(4):
        (ax, ay), (bx, by), (cx, cy) = (corners[(n + k) % 4] for k in range(3))
        turns.append((bx - ax) * (cy - by) - (by - ay) * (cx - bx))
    most = max(abs(each) for each in turns)
    return most > 0 and (min(turns) > most / 1000 or max(turns) < -most / 1000)
