"""What a picture carries for a page that draws on it: its frame, and each action in metres."""

from __future__ import annotations

import io
import xml.etree.ElementTree as ET

import pytest

from plays.core.drawing.options import Drawing, on_page
from plays.core.drawing.phase import diagram
from plays.core.drawing.stage import NAME_SIZE, WIDTH
from plays.core.play import Play
from plays.core.sequence.course import scenes
from shared.core.drawing.pdf import write_pdf
from shared.core.drawing.picture import Group, Picture, Text
from shared.core.drawing.svg import svg_text
from shared.core.language import ENGLISH
from tests.plays.core.drawing.diagram_parts import by_key, circle_of
from tests.plays.core.drawing.drawn_plays import GATEHOUSE
from tests.shared.core.drawing.shapes import groups, parts

DRAWINGS = (Drawing(), Drawing(crop="action", width=200.0), on_page(Drawing(), ENGLISH))


def root_of(picture: Picture) -> ET.Element:
    return ET.fromstring(svg_text(picture))


@pytest.mark.parametrize("drawing", DRAWINGS)
def test_the_frame_says_where_a_place_in_metres_lies(drawing: Drawing) -> None:
    for phase in GATEHOUSE.phases:
        picture = diagram(GATEHOUSE, phase.id, drawing)
        root = root_of(picture)
        left, top, scale = (float(root.attrib[f"data-{name}"]) for name in ("left", "top", "scale"))
        scene = next(each for each in scenes(GATEHOUSE) if each.phase.id == phase.id)
        place = scene.places["3"]
        at = circle_of(picture, "3").center
        assert at == pytest.approx(((place.x - left) * scale, (place.y - top) * scale), abs=0.05)


@by_key
def test_every_action_carries_its_kind_and_its_way_in_metres(play: Play) -> None:
    for scene in scenes(play):
        root = root_of(diagram(play, scene.phase.id))
        marked = (each for each in root.iter() if "data-action" in each.attrib)
        drawn = {each.attrib["data-action"]: each for each in marked}
        for leg in scene.legs:
            if leg.action.id not in drawn:
                continue
            found = drawn[leg.action.id].attrib
            way = [tuple(map(float, pair.split(","))) for pair in found["data-path"].split()]
            assert way == [tuple(point) for point in leg.points]
            assert found["data-kind"] == leg.action.kind.value
            assert found["data-role"] == leg.action.role


def test_other_formats_know_nothing_of_it() -> None:
    out = io.BytesIO()
    write_pdf(diagram(GATEHOUSE, "gate"), out)
    assert b"data-" not in out.getvalue()


# Numbers


@by_key
def test_numbers_stand_beside_their_lines(play: Play) -> None:
    numbers = {action.id: n for n, action in enumerate(play.actions(), start=1)}
    for phase in play.phases:
        picture = diagram(play, phase.id, Drawing(numbers=numbers))
        drawn = {dict(group.marks)["action"] for group in groups(picture, "action")}
        held = {action.id for other in play.phases for action in other.actions}
        wanted = {str(numbers[name]) for name in drawn & held}
        assert set(_moments(picture)) == wanted


def test_who_has_a_part_of_their_own_sees_only_their_own_numbers() -> None:
    picture = diagram(GATEHOUSE, "gate", Drawing("2", numbers={"a1": 7, "a3": 9}))
    assert _moments(picture) == ["1"]


def test_names_in_motion_are_large_enough_on_a_phone() -> None:
    """310 px is the width of the stage in a page of 360 px."""
    assert NAME_SIZE * 310 / WIDTH >= 12


def _moments(picture: Picture) -> list[str]:
    found = [inner for label in parts(picture, "label") for inner in label.shapes]
    squares = [g for g in found if isinstance(g, Group) and dict(g.marks).get("part") == "moment"]
    return [shape.text for square in squares for shape in square.shapes if isinstance(shape, Text)]
