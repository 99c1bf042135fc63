"""Diagrams taken apart again: who stands where, which line is whose, what is written."""

from __future__ import annotations

import pytest
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from plays.core.drawing.options import PLAIN, Drawing
from plays.core.drawing.phase import diagram
from plays.core.play import Play, Role
from shared.core.drawing.picture import Circle, Group, Path, Picture, Text
from tests.plays.core.demo_plays import DEMO
from tests.plays.core.drawing.drawn_plays import GATEHOUSE, MILLWHEEL
from tests.shared.core.drawing.shapes import groups, inked, parts

ALL = (*DEMO, GATEHOUSE, MILLWHEEL)

by_key = pytest.mark.parametrize("play", ALL, ids=lambda play: play.key)


def pictures(play: Play, drawing: Drawing = PLAIN) -> list[Picture]:
    """Every phase of a play, plain and under every counter."""
    runs = [(phase.id, counter) for phase in play.phases for counter in (None, *play.counters)]
    return [diagram(play, phase, drawing, counter=counter) for phase, counter in runs]


def action(picture: Picture, name: str) -> Group:
    """The group of an action or look."""
    return next(g for g in groups(picture, "action") if dict(g.marks)["action"] == name)


def first_path(group: Group) -> Path:
    return next(shape for shape in group.shapes if isinstance(shape, Path))


def circle_of(picture: Picture, role: Role) -> Circle:
    group = next(g for g in parts(picture, "person") if dict(g.marks)["role"] == role)
    return next(shape for shape in group.shapes if isinstance(shape, Circle))


def texts(picture: Picture) -> list[str]:
    return [shape.text for shape in picture.flat() if isinstance(shape, Text)]


def plate(label: Group) -> BaseGeometry:
    """The room of a label without its leader line."""
    return unary_union([inked(shape) for shape in label.shapes if not isinstance(shape, Path)])
