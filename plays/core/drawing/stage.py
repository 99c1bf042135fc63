"""The floor on which a play is shown in motion: court, ways, people and the ball at time zero.

It is a still picture of its own. A page that moves it shifts the groups marked with a role, a
guarded role or "ball"; ``Stage`` says how metres become the picture's points.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np

from plays.core.court.courts import court
from plays.core.drawing.court_lines import court_shapes
from plays.core.drawing.frame import Frame, frame, places_of
from plays.core.drawing.inks import Scheme, inks
from plays.core.drawing.marks import BALL, defender, person
from plays.core.motion.timeline import Timeline
from plays.core.play import ROLES, Role
from plays.core.sequence.course import lanes, scenes
from shared.core.drawing.curves import XY
from shared.core.drawing.fonts import shortened
from shared.core.drawing.picture import Box, Circle, Group, Paint, Path, Picture, Shape, Text, lines
from shared.core.language import ENGLISH, N_, Language

WIDTH: Final = 310.0
RADIUS: Final = 10.5
NAME_SIZE: Final = 12.5
NAME_ROOM: Final = 70.0
BALL_BESIDE: Final = (8.0, -8.0)  # points from the middle of who holds it
POINTS: Final = 24  # of a way

TITLE: Final = N_("{play}: in motion")
SAYS: Final = N_("Everybody where they stand as the ball is handed to the thrower, and their ways.")


@dataclass(frozen=True, slots=True)
class Stage:
    """The picture, and its frame: a place is ``(metres - corner) * scale`` points."""

    picture: Picture
    frame: Frame


def stage(
    line: Timeline,
    guards: Mapping[Role, complex],
    *,
    names: Mapping[Role, str] | None = None,
    scheme: Scheme = "light",
    language: Language = ENGLISH,
) -> Stage:
    """The floor of a timeline; ``guards`` says where each defender begins, by who is guarded."""
    play = line.play
    floor = scenes(play)
    here = court(play.court)
    places = [*places_of(play, floor, lanes(play, floor)), *map(_pair, guards.values())]
    window = frame(here, places, "half", WIDTH)
    people = names or {}
    shapes: list[Shape] = [court_shapes(here, window), *_ways(line, window)]
    shapes += [_guard(role, at, window) for role, at in guards.items()]
    shapes += [_person(line, role, window, people.get(role, "")) for role in ROLES]
    shapes.append(_ball(window.to(_pair(line.tracks[play.ball].start))))
    picture = Picture(
        window.width,
        window.height,
        tuple(shapes),
        language.say(TITLE, play=play.name),
        language.say(SAYS),
        inks(scheme),
        by_class=scheme == "page",
        lang=language.code,
    )
    return Stage(picture, window)


def _ways(line: Timeline, window: Frame) -> Iterator[Group]:
    """Where everybody runs, thin, so that the movement has something to follow."""
    paint = Paint(stroke="court", width=1.3)
    for role in ROLES:
        for move in line.tracks[role].moves:
            path = move.run.path
            if path.length > 0.0:
                along = np.linspace(0.0, path.length, POINTS)
                way = [window.to(_pair(complex(at))) for at in path.at(along)]
                marks = (("action", move.action), ("way", role))
                yield Group((Path(lines(*way), paint),), marks)


def _person(line: Timeline, role: Role, window: Frame, name: str) -> Group:
    at = window.to(_pair(line.tracks[role].start))
    drawn = person(role, at, RADIUS, weight="plain", ball=None, numbered=True)
    below = Text((at[0], at[1] + RADIUS + 11), _short(name), NAME_SIZE, "ink", True, "middle")
    return Group((*drawn.shapes, below) if name else drawn.shapes, (("mover", role),))


def _guard(role: Role, at: complex, window: Frame) -> Group:
    return Group(defender(role, window.to(_pair(at)), 1).shapes, (("guard", role),))


def _ball(at: XY) -> Group:
    place = at[0] + BALL_BESIDE[0], at[1] + BALL_BESIDE[1]
    ball = Circle(place, BALL + 0.6, Paint(stroke="paper", fill="own", width=1.2))
    area = Box((place[0] - 6, place[1] - 6), 12, 12, Paint())
    return Group((ball, area), (("mover", "ball"),))


def _short(name: str) -> str:
    return shortened(name, NAME_SIZE, NAME_ROOM, bold=True)


def _pair(at: complex) -> XY:
    return at.real, at.imag
