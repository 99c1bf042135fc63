"""Diagrams of a play: one picture for each phase, and for each as a counter changes it.

The basket is at the top and the viewer faces it. Sizes are points. ``width`` sets the size of
the court; people, lines and letters grow and shrink with its square root only, so that a small
diagram stays legible and a large one does not get clumsy.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import sqrt
from typing import Final

from plays.core.court.courts import court
from plays.core.drawing.chances import chances
from plays.core.drawing.frame import Crop, frame, places_of
from plays.core.drawing.ground import RADIUS, Ground
from plays.core.drawing.inks import Scheme, inks
from plays.core.drawing.scene import LabelKind, SceneDrawing, Wish
from plays.core.drawing.titles import description, title
from plays.core.play import Counter, Play, Role
from plays.core.sequence.course import scenes, with_counter
from shared.core.drawing.picture import Picture, resized
from shared.core.language import ENGLISH, Language

WIDTH: Final = 360.0
"""Points: at this width people, lines and letters have the sizes written in the code."""

DOT_RADIUS: Final = 5.5
"""A person's circle where names stand instead of numbers."""


def diagram(
    play: Play,
    phase_id: str,
    *,
    counter: Counter | str | None = None,
    emphasis: Role | None = None,
    names: Mapping[Role, str] | None = None,
    label: LabelKind = "number",
    defenders: bool = False,
    crop: Crop = "half",
    scheme: Scheme = "light",
    language: Language = ENGLISH,
    width: float = WIDTH,
) -> Picture:
    """One phase of a play, or of the play as a counter changes it.

    With ``emphasis`` that role's lines are heavy and carry the numbers of its steps, counted
    over the whole play. A role without a name in ``names`` keeps its number. Raises KeyError
    for a phase or counter that the play does not have.
    """
    chosen = counter_of(play, counter)
    run = with_counter(play, chosen) if chosen else play
    floor = scenes(run)
    scene = {scene.phase.id: scene for scene in floor}[phase_id]
    looks, cast = chances(run, floor), names or {}
    marks = sqrt(width / WIDTH)
    here = court(run.court)
    window = frame(here, places_of(run, floor, looks), crop, width / marks)
    radius = DOT_RADIUS if label == "name" else RADIUS
    ground = Ground(scene, window, window.to(here.basket), radius)
    legs = [leg for each in floor for leg in each.legs]
    wish = Wish(emphasis, cast, label, defenders, _changed(chosen), language)
    seen = looks.get(phase_id, ())
    shapes, left_out = SceneDrawing(run, ground, seen, legs, wish).shapes()
    picture = Picture(
        window.width,
        window.height,
        shapes,
        title(run, scene, chosen, language),
        description(scene, seen, cast, left_out, language),
        inks(scheme),
        by_class=scheme == "page",
        lang=language.code,
    )
    return picture if width == WIDTH else resized(picture, width)


def counter_of(play: Play, counter: Counter | str | None) -> Counter | None:
    """The counter itself, where its id is given. Raises KeyError."""
    if counter is None or isinstance(counter, Counter):
        return counter
    return {each.id: each for each in play.counters}[counter]


def _changed(counter: Counter | None) -> frozenset[str]:
    """Ids of the actions and looks that a counter brings in."""
    if counter is None:
        return frozenset()
    brought = {action.id for action in (*counter.replace, *counter.add)}
    return frozenset(brought | {look.id for look in counter.looks})
