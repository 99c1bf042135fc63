"""Diagrams of a play: one picture for each phase, and for each as a counter changes it.

The basket is at the top and the viewer faces it. Sizes are points. ``width`` sets the size of
the court; people, lines and letters grow and shrink with its square root only, so that a small
diagram stays legible and a large one does not get clumsy.
"""

from __future__ import annotations

from typing import Final

from plays.core.court.courts import court
from plays.core.drawing.frame import frame, places_of
from plays.core.drawing.ground import RADIUS, Ground
from plays.core.drawing.inks import inks
from plays.core.drawing.marks import NUMBER
from plays.core.drawing.options import PLAIN, WIDTH, Drawing
from plays.core.drawing.scene import SceneDrawing
from plays.core.drawing.strokes import held
from plays.core.drawing.titles import description, title
from plays.core.play import Counter, Play
from plays.core.sequence.after_look import way_with
from plays.core.sequence.course import lanes, run_of, scenes
from shared.core.drawing.picture import Picture, resized

DOT_RADIUS: Final = 5.5
"""A person's circle where names stand instead of numbers."""


def diagram(
    play: Play,
    phase_id: str,
    drawing: Drawing = PLAIN,
    *,
    counter: Counter | str | None = None,
) -> Picture:
    """One phase of a play, or of the play as a counter changes it.

    Raises KeyError for a phase or counter that the play does not have.
    """
    chosen = counter_of(play, counter)
    run = run_of(play, chosen)
    floor = scenes(run)
    scene = {scene.phase.id: scene for scene in floor}[phase_id]
    looks = lanes(run, floor)
    here = court(run.court)
    window = frame(here, places_of(run, floor, looks), drawing.crop, drawing.width / drawing.marks)
    radius = DOT_RADIUS if drawing.label == "name" else max(RADIUS, drawing.letters(0) / NUMBER)
    ground = Ground(scene, window, window.to(here.basket), radius)
    way = {phase.id for phase in way_with(run, phase_id).phases} | {phase_id}
    legs = [leg for each in floor if each.phase.id in way for leg in each.legs]
    seen = looks.get(phase_id, ())
    language = drawing.language
    shapes, left_out = SceneDrawing(
        run, ground, seen, legs, drawing, changed=_changed(chosen)
    ).shapes()
    picture = Picture(
        window.width,
        window.height,
        shapes,
        title(run, scene, chosen, language),
        description(
            scene, seen, drawing.names, language, held=held(scene, legs), left_out=left_out
        ),
        inks(drawing.scheme),
        by_class=drawing.scheme == "page",
        lang=language.code,
        marks=window.marks(drawing.marks),
    )
    return picture if drawing.width == WIDTH else resized(picture, drawing.width)


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
