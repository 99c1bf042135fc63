"""The labels of a diagram, measured: what they say, what they cover."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest
from shapely.geometry import LinearRing
from shapely.ops import unary_union

from coachbook.demo.files import demo_play
from plays.core.court.courts import court
from plays.core.drawing.labels import Label, short_forms
from plays.core.drawing.options import PLAIN, Drawing, LabelKind
from plays.core.drawing.phase import diagram
from plays.core.play import ROLES, Play, Role
from shared.core.drawing.picture import Box, Text
from tests.plays.core.drawing.diagram_parts import by_key, pictures, plate, texts
from tests.plays.core.drawing.drawn_plays import GATEHOUSE, NAMES
from tests.shared.core.drawing.shapes import groups, inked, parts


def test_a_plate_on_the_lane_has_the_tint_of_the_lane() -> None:
    picture = diagram(GATEHOUSE, "finish", Drawing(names=NAMES, label="both", emphasis="2"))
    fills = {
        text.text: shape.paint.fill
        for group in parts(picture, "label")
        for shape, text in pairwise(group.shapes)
        if isinstance(shape, Box) and isinstance(text, Text)
    }
    assert fills["Runa"] == "lane"
    assert fills["Ida"] == "paper"


@by_key
@pytest.mark.parametrize("label", ["both", "name", "number"])
def test_labels_cover_nothing(play: Play, label: LabelKind) -> None:
    for emphasis in (None, "1", "5"):
        drawing = Drawing(emphasis=emphasis, names=NAMES, label=label, defenders=True)
        for picture in pictures(play, drawing):
            drawn = [*groups(picture, "action"), *parts(picture, "person")]
            solid = unary_union([inked(g) for g in (*drawn, *parts(picture, "defender"))])
            plates = [plate(group) for group in parts(picture, "label")]
            assert sum(each.intersection(solid).area for each in plates) < 1e-6
            for index, one in enumerate(plates):
                assert all(one.intersection(other).area < 1e-6 for other in plates[:index])
            assert "want of room" not in picture.description


@pytest.mark.parametrize("key", ["oar-rack", "crosswind", "duckboard", "gangway"])
def test_a_look_is_not_written_on_a_line_that_bounds_the_court(key: str) -> None:
    """Plays that have room beside it."""
    play = demo_play(key)
    floor = court(play.court)
    written: list[Any] = []
    for picture in pictures(play, PLAIN):
        left, top, scale = (float(dict(picture.marks)[name]) for name in ("left", "top", "scale"))
        corners = [(-floor.half_width, 0.0), (floor.half_width, 0.0)]
        corners += [(floor.half_width, floor.length), (-floor.half_width, floor.length)]
        ring = LinearRing([((x - left) * scale, (y - top) * scale) for x, y in corners])
        written += (plates := [plate(group) for group in parts(picture, "label")])
        assert not any(each.intersects(ring) for each in plates)
    assert written


def test_labels_hold_their_text() -> None:
    for picture in pictures(GATEHOUSE, Drawing(emphasis="2", names=NAMES, label="both")):
        for group in parts(picture, "label"):
            words = [inked(shape) for shape in group.shapes if isinstance(shape, Text)]
            assert all(plate(group).buffer(1e-6).contains(word) for word in words)


def test_a_crowd_without_room_names_the_lost_in_the_description() -> None:
    names: dict[Role, str] = dict.fromkeys(ROLES, "Maximiliane von Hohenberg-Lindenthal")
    picture = diagram(GATEHOUSE, "gate", Drawing(names=names, label="both", width=90))
    lost = 5 - texts(picture).count(names["1"])
    assert lost > 0
    assert picture.description.count(names["1"] + ".") > 0
    assert "want of room" in picture.description
    solid = unary_union([inked(g) for g in parts(picture, "person")])
    assert all(plate(g).intersection(solid).area < 1e-6 for g in parts(picture, "label"))


def test_a_name_of_one_word_has_no_initial_to_be_shortened_to() -> None:
    def short(name: str, **more: Any) -> tuple[str, ...]:
        return short_forms(Label(name, 11.0, "ink", center=(0.0, 0.0), role="4", **more))

    assert short("Ida") == ()
    assert short("Ida", in_circle=False) == ("4",)
    assert short("Ida Berg", in_circle=False) == ("Ida B.", "4")
    assert short("Ida Maria Berg") == ("Ida B.",)
    assert short("Ida", framed=True, in_circle=False) == ()


@pytest.mark.parametrize(
    ("key", "phase", "look"),
    [("bow-wave", -1, "Look 4"), ("harbour-light", -1, "Look 3"), ("backwater", 1, "Look 1")],
)
def test_what_is_written_beside_a_pass_keeps_off_the_lines_of_the_lane(
    key: str, phase: int, look: str
) -> None:
    """Where there is room in the lane or beside it; the lane by the court's own numbers."""
    play = demo_play(key)
    floor = court(play.court)
    picture = diagram(play, play.phases[phase].id, PLAIN)
    marks = dict(picture.marks)
    left, top, scale = (float(marks[name]) for name in ("left", "top", "scale"))
    x, y = floor.lane_half_width, floor.free_throw_y
    corners = [(-x, 0.0), (x, 0.0), (x, y), (-x, y)]
    lane = LinearRing([((a - left) * scale, (b - top) * scale) for a, b in corners])
    (label,) = (each for each in parts(picture, "label") if look in texts_of(each))
    assert not plate(label).intersects(lane)


def texts_of(label: Any) -> list[str]:
    return [shape.text for shape in label.shapes if isinstance(shape, Text)]
