"""Screens and gates in a diagram, measured: where a bar stands, whom it faces, what it leaves open.

Movement ends in a bar for a screen: World Association of Basketball Coaches, Coaches Manual, 3.1
"Understanding diagrams". The bar square to the defender, and how a gate looks, are common
practice, no source.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations, product

import pytest
from shapely.geometry import LineString, Point

from plays.core.court.courts import court
from plays.core.drawing.frame import frame, places_of
from plays.core.drawing.legend import legend
from plays.core.drawing.options import PLAIN, Drawing
from plays.core.drawing.phase import diagram
from plays.core.play import (
    ROLES,
    ActionKind,
    Cue,
    Defender,
    Joint,
    JointShape,
    Moment,
    Phase,
    Play,
    Stance,
)
from plays.core.play import Point as Place
from plays.core.sequence.course import lanes, legs, scenes
from shared.core.drawing.curves import XY, between, direction, distance
from shared.core.drawing.picture import Group, Path, Picture, Shape, Text
from tests.plays.core.demo_plays import DEMO
from tests.plays.core.drawing.diagram_parts import action, by_key, circle_of, first_path, texts
from tests.plays.core.drawing.drawn_plays import MILLWHEEL
from tests.plays.core.samples import cut, on_set, screen, still, thrown_in
from tests.shared.core.drawing.shapes import groups, inked, parts, runs

GUARDED = Drawing(defenders=True)


def bar_of(picture: Picture, name: str) -> tuple[XY, XY]:
    """The ends of a screen's bar."""
    paths = [shape for shape in action(picture, name).shapes if isinstance(shape, Path)]
    a, b = runs(paths[1].steps)[0]
    return a, b


def way_of(picture: Picture, name: str) -> list[XY]:
    return runs(first_path(action(picture, name)).steps)[0]


def guarded(play: Play) -> Play:
    """Everybody with a defender between man and basket."""
    return replace(play, defenders=tuple(Defender(r, stance=Stance.BETWEEN) for r in ROLES))


def cross_of(picture: Picture, role: str) -> XY:
    found = next(g for g in parts(picture, "defender") if dict(g.marks)["guards"] == role)
    cross = next(shape for shape in found.shapes if isinstance(shape, Path))
    middle = inked(cross).envelope.centroid
    return middle.x, middle.y


def between_lines(a: XY, b: XY) -> float:
    """How far two directions are from square, in parts of 1."""
    return abs(a[0] * b[0] + a[1] * b[1])


@by_key
@pytest.mark.parametrize("drawing", [PLAIN, GUARDED, Drawing(crop="action"), Drawing(label="name")])
def test_every_screen_has_its_bar_and_no_bar_lies_on_a_person(play: Play, drawing: Drawing) -> None:
    play = guarded(play) if drawing.defenders else play
    for phase in play.phases:
        picture = diagram(play, phase.id, drawing)
        people = [circle_of(picture, role) for role in ROLES]
        for each in phase.actions:
            if each.kind is ActionKind.SCREEN:
                bar = LineString(bar_of(picture, each.id))
                assert bar.length == pytest.approx(15, abs=0.01)
                middle = bar.interpolate(0.5, normalized=True)
                assert Point(way_of(picture, each.id)[-1]).distance(middle) < 0.01
                for person in people:
                    assert bar.distance(Point(person.center)) > person.radius + 2


@by_key
def test_a_bar_stands_where_its_screen_is_set(play: Play) -> None:
    """Within what it takes to show it beside a circle: a radius and half a bar's length."""
    floor = scenes(play)
    window = frame(court(play.court), places_of(play, floor, lanes(play, floor)), "half", 360)
    for leg in legs(play).values():
        if leg.action.kind is ActionKind.SCREEN:
            bar = bar_of(diagram(play, leg.phase), leg.action.id)
            assert distance(between(*bar, 0.5), window.to(leg.end)) < 10.5 + 7.5 + 3.5


@by_key
def test_a_bar_is_square_to_the_defender_of_the_cutter(play: Play) -> None:
    play = guarded(play)
    for phase in play.phases:
        picture = diagram(play, phase.id, GUARDED)
        for each in phase.actions:
            if each.kind is ActionKind.SCREEN and each.cutter and not _of_gate(each.joint):
                bar = bar_of(picture, each.id)
                to = direction(between(*bar, 0.5), cross_of(picture, each.cutter))
                assert between_lines(direction(*bar), to) < 0.05


def _of_gate(joint: Joint | None) -> bool:
    return joint is not None and joint.shape is JointShape.GATE


@pytest.mark.parametrize(("name", "run"), [("a1", "a2"), ("a3", "a4")])
def test_without_defenders_a_bar_is_square_to_the_line_of_its_cutter(name: str, run: str) -> None:
    """A screen that is run to, and one that is set on the spot."""
    picture = diagram(MILLWHEEL, "screens")
    bar = bar_of(picture, name)
    line = LineString(way_of(picture, run))
    near = line.project(Point(between(*bar, 0.5)))
    a, b = line.interpolate(max(near, 2) - 2), line.interpolate(max(near, 2))
    assert between_lines(direction(*bar), direction((a.x, a.y), (b.x, b.y))) < 0.25


@pytest.mark.parametrize("metres", [0.0, 0.1, 0.3, 0.5, 0.8, 1.2, 2.0, 4.0])
def test_a_screen_of_any_length_is_drawn_with_the_way_there(metres: float) -> None:
    play = _downscreen(metres)
    for drawing in (PLAIN, GUARDED):
        picture = diagram(play, "one", drawing)
        way, person = way_of(picture, "s"), circle_of(picture, "4")
        assert distance(way[0], person.center) < person.radius + 2.5
        assert LineString(way).length > 1


def test_a_screen_that_is_still_held_is_drawn_as_its_cutter_comes() -> None:
    play = next(play for play in DEMO if play.key == "duckboard")
    picture = diagram(play, "cut")
    person = circle_of(picture, "4")
    assert distance(way_of(picture, "four-screens")[0], person.center) < person.radius + 2.5
    assert "The 4 holds the screen for the 3." in picture.description
    names = {dict(group.marks)["action"] for group in groups(diagram(play, "flow"), "action")}
    assert "four-screens" not in names


def test_an_open_gate_leaves_a_gap_that_the_run_goes_through() -> None:
    for drawing in (PLAIN, GUARDED, Drawing(crop="action")):
        picture = diagram(_gate(), "through", drawing)
        left, right = (bar_of(picture, name) for name in ("g4", "g5"))
        inner = min(product(left, right), key=lambda ends: distance(*ends))
        assert distance(*inner) > 16
        assert LineString(inner).distance(LineString(way_of(picture, "run"))) < 0.5
        assert between_lines(direction(*left), (0.0, 1.0)) < 0.1
        assert _gates(picture) == {"g4": "open", "g5": "open"}


def test_a_closing_gate_is_one_wall_across_the_run_behind_the_cutter() -> None:
    for drawing in (PLAIN, GUARDED, Drawing(crop="action")):
        picture = diagram(_gate(), "shut", drawing)
        left, right = (bar_of(picture, name) for name in ("h4", "h5"))
        inner = min(product(left, right), key=lambda ends: distance(*ends))
        assert distance(*inner) < 0.5
        run = LineString(way_of(picture, "on"))
        assert run.distance(Point(inner[0])) < 1.5
        assert between_lines(direction(*left), direction(*right)) > 0.99
        assert 2 < run.project(Point(inner[0])) < run.length - 12  # the arrow is through
        assert _gates(picture) == {"h4": "close", "h5": "close"}


def test_the_gates_of_the_demo_open_and_close() -> None:
    play = next(play for play in DEMO if play.key == "sluice")
    for scheme in (PLAIN, Drawing(crop="action"), GUARDED):
        for phase, names, meet in (
            ("open", ("four-opens", "five-opens"), False),
            ("shut", ("four-shuts", "five-shuts"), True),
        ):
            picture = diagram(play, phase, scheme)
            gap = min(distance(*pair) for pair in product(*(bar_of(picture, n) for n in names)))
            assert (gap < 0.5) is meet
            assert meet or gap > 16


def test_bars_do_not_lie_on_each_other() -> None:
    for play in DEMO:
        for phase in play.phases:
            picture = diagram(play, phase.id)
            screens = [each for each in phase.actions if each.kind is ActionKind.SCREEN]
            bars = [LineString(bar_of(picture, each.id)) for each in screens]
            assert all(not one.crosses(other) for one, other in combinations(bars, 2))


def test_the_legend_tells_an_opening_gate_from_a_closing_one() -> None:
    picture = legend("print")
    assert {"gate opens", "gate closes"} <= set(texts(picture))
    rows = [group for group in picture.shapes if isinstance(group, Group)]
    gaps = {
        str(words.text): min(distance(*pair) for pair in product(*posts))
        for group in rows
        for words in group.shapes
        for posts in map(_posts, group.shapes)
        if isinstance(words, Text) and posts
    }
    assert gaps["gate opens"] > 6
    assert gaps["gate closes"] == 0


def _posts(shape: Shape) -> list[list[XY]]:
    """The two strokes of one path, as a gate's bars are in the legend."""
    posts = runs(shape.steps) if isinstance(shape, Path) else []
    return posts if len(posts) == 2 else []


def _gates(picture: Picture) -> dict[str, str]:
    return {
        dict(group.marks)["action"]: dict(group.marks)["gate"] for group in groups(picture, "gate")
    }


def _downscreen(metres: float) -> Play:
    """4 sets a screen so far away towards the basket, and 2 comes up past it."""
    path = (Place(2.0, 7.0 - metres),) if metres else ()
    return thrown_in(
        "stile",
        ((7.8, 8.325), (1.2, 1.5), (-5.0, 7.0), (2.0, 7.0), (-5.0, 2.0)),
        Phase(
            "one",
            "Down",
            (screen("s", "4", "2", *path), cut("c", "2", (1.2, 6.0), (1.2, 9.0))),
        ),
        defenders=(Defender("2", stance=Stance.BETWEEN),),
    )


def _gate() -> Play:
    gate, shut = Joint("gate", JointShape.GATE), Joint("gate", JointShape.GATE, "close")
    through = Cue(Moment.PASSES, "on", 0)
    return thrown_in(
        "lychgate",
        ((7.8, 8.325), (0.0, 3.0), (-6.0, 2.0), (1.4, 6.2), (-1.6, 6.2)),
        Phase(
            "through",
            "Through",
            (
                screen("g4", "4", "2", (0.8, 6.6), joint=gate),
                screen("g5", "5", "2", (-0.8, 6.6), joint=gate),
                cut("run", "2", (0.0, 8.5), cues=(on_set("g4"), on_set("g5"))),
                cut("back", "2", (0.0, 4.0)),
            ),
        ),
        Phase(
            "shut",
            "Shut",
            (
                cut("on", "2", (0.0, 6.0), (0.3, 9.5)),
                screen("h4", "4", "2", (0.4, 6.7), joint=shut, cues=(through,)),
                screen("h5", "5", "2", (-0.4, 6.7), joint=shut, cues=(through,)),
            ),
        ),
        defenders=(Defender("2", stance=Stance.BETWEEN),),
    )


@pytest.mark.parametrize(
    ("stance", "side"), [(Stance.FRONT, "ball"), (Stance.BETWEEN, "ring"), (Stance.BEHIND, "ring")]
)
def test_a_defender_is_drawn_on_the_side_that_the_stance_says(stance: Stance, side: str) -> None:
    """In front on the side of the ball, behind on that of the basket (common practice)."""
    play = replace(still(), defenders=(Defender("5", stance=stance),))
    picture = diagram(play, play.phases[0].id, GUARDED)
    man = circle_of(picture, "5").center
    away = direction(man, cross_of(picture, "5"))
    ball = direction(man, circle_of(picture, "1").center)
    floor = scenes(play)
    window = frame(court(play.court), places_of(play, floor, lanes(play, floor)), "half", 360)
    ends = {"ball": ball, "ring": direction(man, window.to(court(play.court).basket))}
    assert away[0] * ends[side][0] + away[1] * ends[side][1] > 0.8
