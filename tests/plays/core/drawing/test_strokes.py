"""The lines of a diagram, measured: where they begin, end and run."""

from __future__ import annotations

import pytest
from shapely.geometry import LineString, MultiPoint, Point
from shapely.ops import unary_union

from plays.core.drawing.marks import dribble
from plays.core.drawing.phase import diagram
from plays.core.play import ROLES, ActionKind, Play
from plays.core.sequence.course import legs
from shared.core.drawing.curves import distance, line, smooth, turn
from shared.core.drawing.picture import Path
from tests.plays.core.drawing.diagram_parts import by_key, circle_of, first_path, pictures
from tests.shared.core.drawing.shapes import groups, runs


@by_key
def test_lines_start_and_end_outside_of_every_circle(play: Play) -> None:
    for picture in pictures(play):
        circles = [circle_of(picture, role) for role in ROLES]
        for group in groups(picture, "action"):
            if len(group.shapes) == 1:
                continue  # a hand-off is two bars between people
            line = runs(first_path(group).steps)[0]
            for circle in circles:
                for end in (line[0], line[-1]):
                    assert distance(end, circle.center) > circle.radius - 0.8


@by_key
def test_arrowheads_lie_on_their_path(play: Play) -> None:
    """The tip is straight ahead of the shaft's end, and the notch on the shaft's end."""
    for picture in pictures(play):
        for group in groups(picture, "action"):
            heads = [s for s in group.shapes if isinstance(s, Path) and s.paint.fill]
            for head in heads:
                tip, left, notch, right = runs(head.steps)[0][:4]
                shaft = runs(first_path(group).steps)[-1]
                assert notch == pytest.approx(shaft[-1], abs=0.05)
                assert distance(tip, left) == pytest.approx(distance(tip, right), rel=0.05)
                assert turn(shaft[-2], notch, tip) < 12


@by_key
def test_dashed_lines_begin_and_end_with_a_whole_dash(play: Play) -> None:
    for picture in pictures(play):
        for shape in picture.flat():
            if isinstance(shape, Path) and shape.paint.dash:
                on, off = shape.paint.dash
                length = LineString(runs(shape.steps)[0]).length
                count = (length + off) / (on + off)
                assert count == pytest.approx(round(count), abs=0.02)


@by_key
def test_runs_keep_out_of_other_peoples_circles(play: Play) -> None:
    """Led around unless somebody else stands there too: 95 of 100 of the ink, by length."""
    under, whole = 0.0, 0.0
    moves = {a.id for a in play.actions() if a.kind in (ActionKind.CUT, ActionKind.DRIBBLE)}
    for phase in play.phases:
        picture = diagram(play, phase.id)
        discs = unary_union([Point(circle_of(picture, r).center).buffer(9.0) for r in ROLES])
        for group in groups(picture, "action"):
            if dict(group.marks)["action"] in moves:
                line = LineString(runs(first_path(group).steps)[0])
                whole += line.length
                under += line.intersection(discs).length
    assert under <= 0.05 * whole + 1e-9


@by_key
def test_runs_hardly_leave_the_hull_of_their_waypoints(play: Play) -> None:
    """No overshoot: a run swings out by less than a stride where it bends."""
    for leg in legs(play).values():
        curve = smooth(leg.points)
        hull = MultiPoint([tuple(point) for point in leg.points]).convex_hull
        assert max(hull.distance(Point(at)) for at in curve.flatten(0.1)) < 0.3


@by_key
def test_a_hand_off_is_drawn(play: Play) -> None:
    drawn = {dict(g.marks)["action"] for p in pictures(play) for g in groups(p, "action")}
    assert {a.id for a in play.actions() if a.kind is ActionKind.HANDOFF} <= drawn


@pytest.mark.parametrize(("length", "waves"), [(10.0, False), (17.4, False), (17.6, True)])
def test_a_dribble_too_short_for_one_wave_between_its_straight_ends_is_straight(
    length: float, *, waves: bool
) -> None:
    """A wave of 9.5 points and 4 of straight line at either end: measures of our own."""
    drawn = dribble(line((0.0, 0.0), (length, 0.0)))
    off = [abs(y) for step in drawn for _, y in step[1:]]
    assert (max(off) > 0.01) is waves
