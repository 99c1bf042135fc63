"""Whether an answer is right; a place that was pointed at is judged by where it is."""

from __future__ import annotations

from collections.abc import Mapping
from math import dist
from typing import Final

from plays.core.court.courts import Court
from plays.core.court.spots import named_spots, out_spots
from plays.core.play import Point
from roster.core.quiz.question import Judged, RoleQuestion

NEAR_ENOUGH: Final = 1.5
"""Metres from the true place: about the spread arms of a child, and a thumb on a small court."""

AS_NEAR: Final = 0.3
"""Metres: places that are nearest to the truth within this are all as good as its name."""


def choose(question: RoleQuestion, number: int) -> Judged:
    """One of the choices, by its place among them; a place that is none is wrong."""
    return Judged(number in question.right)


def point(question: RoleQuestion, court: Court, at: Point) -> Judged:
    """A place pointed at: near enough, and not nearer to a wrong landmark than to the truth.

    Raises ValueError for a question that is not about a place.
    """
    if question.at is None:
        raise ValueError(f"{question.key} does not ask for a place")
    metres = dist(at, question.at)
    nearer = _nearest(wrong_landmarks(court, question.at), at)
    if nearer is not None and nearer[1] >= metres:
        nearer = None
    right = metres <= NEAR_ENOUGH and nearer is None
    return Judged(right, metres, nearer[0] if nearer else None)


def wrong_landmarks(court: Court, truth: Point) -> Mapping[str, Point]:
    """Named places of the floor, and of the lines around it, that do not stand for the truth."""
    inside = court.contains(truth)
    own = named_spots(court) if inside else out_spots(court)
    nearest = min(dist(spot, truth) for spot in own.values())
    return {key: spot for key, spot in own.items() if dist(spot, truth) > nearest + AS_NEAR}


def _nearest(spots: Mapping[str, Point], at: Point) -> tuple[str, float] | None:
    found = min(spots, key=lambda key: dist(spots[key], at), default=None)
    return None if found is None else (found, dist(spots[found], at))
