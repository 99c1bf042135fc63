"""The letters of a picture: their size as it is seen, and where they stand.

12 CSS px on a phone and 9 pt on paper are our own floors for reading at the court; the height of a
letter is measured as the picture is shown, not as it is written.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from shapely.geometry import box
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from plays.core.check.setting import Setting, line_of, usual_defence
from plays.core.court.courts import court
from plays.core.drawing.frame import Frame, frame, places_of
from plays.core.drawing.legend import legend
from plays.core.drawing.options import PAGE_LEAST, PAGE_WIDTH, Drawing, LabelKind, on_page
from plays.core.drawing.phase import diagram
from plays.core.drawing.strip import count_strip
from plays.core.drawing.strip_picture import strip_picture
from plays.core.play import ROLES, Play, Role
from plays.core.sequence.course import lanes, scenes
from shared.core.drawing.picture import Picture, Text
from shared.core.language import ENGLISH
from tests.plays.core.demo_plays import DEMO
from tests.plays.core.drawing.diagram_parts import pictures, plate
from tests.shared.core.drawing.shapes import groups, inked, parts

SEEN = 306.0
"""CSS px: a little less than a picture has in a page of 360 px, 318 as Chromium lays it out."""

FULL = (
    "Maximiliane Hohenberg-Lindenthal",
    "Konstantinos Papadimitropoulos",
    "Anne-Sophie van den Bogaerde",
    "Ngozi Chukwuemeka-Oyelaran",
    "Guadalupe Etxeberria Zubizarreta",
    "Władysława Brzęczyszczykiewicz",
    "Sigurbjörg Þorvaldsdóttir",
    "Mohammed Abdulrahman Al-Khalidi",
    "Thandiwe Nokuthula Mkhize",
    "Francesca Della Giovampaola",
    "Alexandrina Constantinescu",
    "Jean-Baptiste Rakotomalala",
    "Oluwaseun Adebayo-Fashola",
    "Bartholomew Featherstonehaugh",
)
"""Full names of a squad of fourteen, invented, up to 32 letters long."""

PHONE = on_page(Drawing(), ENGLISH)
PAPER = Drawing(scheme="print", width=217.0, crop="action")


def cast_of(first: int) -> dict[Role, str]:
    return {role: FULL[(first + k) % len(FULL)] for k, role in enumerate(ROLES)}


def sizes(picture: Picture) -> list[float]:
    return [shape.size for shape in picture.flat() if isinstance(shape, Text)]


@pytest.mark.parametrize("play", DEMO, ids=lambda play: play.key)
def test_letters_are_large_enough_on_a_phone_and_on_paper(play: Play) -> None:
    """In every phase, plain and under every counter, with the key of who is who."""
    order = {action.id: n for n, action in enumerate(play.actions(), start=1)}
    emphases: tuple[Role | None, ...] = (None, "2")
    for emphasis in emphases:
        named = Drawing(emphasis, cast_of(0), "both", defenders=True, numbers=order)
        for on_phone in pictures(play, on_page(named, ENGLISH)):
            assert on_phone.width == PAGE_WIDTH
            assert min(sizes(on_phone)) * SEEN / on_phone.width >= 12
        for on_paper in pictures(play, replace(named, scheme="print", width=217.0)):
            assert min(sizes(on_paper)) >= 9
        for for_staff in pictures(play, named):
            assert min(sizes(for_staff)) >= 12


@pytest.mark.parametrize("play", DEMO, ids=lambda play: play.key)
def test_the_strip_is_as_legible_on_a_phone(play: Play) -> None:
    """At the width in points that a page draws it for a phone."""
    line = line_of(play, Setting(play.level, defence=usual_defence(play)))
    strip = strip_picture(count_strip(line), play.name, width=224.0, scheme="page")
    assert min(sizes(strip)) * SEEN / strip.width >= 12


def test_the_legend_is_as_legible() -> None:
    phone = legend("page", width=PAGE_WIDTH, size=PAGE_LEAST, emphasis=False)
    words = [shape for shape in phone.flat() if isinstance(shape, Text) and len(shape.text) > 1]
    assert min(word.size for word in words) * SEEN / phone.width >= 12
    assert min(sizes(legend("print", width=516.0, emphasis=True, defenders=True))) >= 9


@pytest.mark.parametrize("play", DEMO, ids=lambda play: play.key)
@pytest.mark.parametrize("label", ["both", "name"])
def test_full_names_cover_neither_basket_nor_path_nor_each_other(
    play: Play, label: LabelKind
) -> None:
    floor = scenes(play)
    places = places_of(play, floor, lanes(play, floor))
    for number, phase in enumerate(play.phases):
        for base in (PHONE, PAPER, Drawing(defenders=True)):
            drawing = replace(base, names=cast_of(5 * number), label=label)
            picture = diagram(play, phase.id, drawing)
            window = frame(court(play.court), places, drawing.crop, drawing.width)
            plates = [plate(group) for group in parts(picture, "label")]
            solid = [*groups(picture, "action"), *parts(picture, "person")]
            taken = unary_union([inked(g) for g in (*solid, *parts(picture, "defender"))])
            assert all(one.intersection(taken).area < 1e-6 for one in plates)
            assert all(one.intersection(basket(play, window)).area < 1e-6 for one in plates)
            assert all(a.intersection(b).area < 1e-6 for a, b in combinations(plates, 2))


@pytest.mark.parametrize("play", DEMO, ids=lambda play: play.key)
def test_everybody_is_named_on_the_phone(play: Play) -> None:
    for phase in play.phases:
        picture = diagram(play, phase.id, replace(PHONE, names=cast_of(3), label="both"))
        assert "want of room" not in picture.description


def basket(play: Play, window: Frame) -> BaseGeometry:
    """Board and ring on the picture."""
    here = court(play.court)
    a = window.to((-here.board_half_width, here.board_y))
    b = window.to((here.board_half_width, here.basket.y + here.ring_radius))
    return box(a[0], a[1], b[0], b[1])
