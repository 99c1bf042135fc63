"""Diagrams, measured: what stands where, what covers what, what a step's number is."""

from __future__ import annotations

import gzip
from dataclasses import replace
from io import BytesIO
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from shapely.ops import unary_union

from plays.core.drawing.inks import inks
from plays.core.drawing.legend import MARGIN, legend
from plays.core.drawing.options import Drawing
from plays.core.drawing.overview import overview
from plays.core.drawing.phase import diagram
from plays.core.drawing.strokes import held
from plays.core.moves.moves import mirror
from plays.core.play import ROLES, Play, Role
from plays.core.sequence.course import legs, scenes
from plays.core.words.part import part_of
from shared.core.drawing.curves import distance
from shared.core.drawing.pdf import write_pdf
from shared.core.drawing.picture import Group, Text
from shared.core.drawing.png import write_png
from shared.core.drawing.svg import svg_text
from tests.languages import language
from tests.plays.core.demo_plays import DEMO
from tests.plays.core.drawing.diagram_parts import (
    ALL,
    action,
    by_key,
    circle_of,
    first_path,
    pictures,
    plate,
    texts,
)
from tests.plays.core.drawing.drawn_plays import GATEHOUSE, MILLWHEEL, NAMES
from tests.shared.core.drawing.shapes import groups, inked, parts, runs
from tests.strategies import sound_plays

# What stands where


def test_the_floor_is_seen_facing_the_basket() -> None:
    picture = diagram(GATEHOUSE, "gate")
    five, two, one = (circle_of(picture, role).center for role in ("5", "2", "1"))
    assert five[0] < two[0] < one[0]  # x grows to the right
    screen = action(picture, "a1")
    assert inked(screen).bounds[1] < five[1]  # towards the basket is up


def test_people_stand_where_the_phase_begins() -> None:
    first, second = (diagram(GATEHOUSE, phase) for phase in ("gate", "finish"))
    scale = first.width / (2 * (7.5 + 1.15))
    for picture, scene in zip((first, second), scenes(GATEHOUSE), strict=True):
        for role, place in scene.places.items():
            x, y = circle_of(picture, role).center
            assert (x, y) == pytest.approx(
                ((place.x + 8.65) * scale, (place.y + 1.15) * scale), abs=0.01
            )


def test_a_mirrored_play_gives_the_mirrored_picture() -> None:
    plain, turned = (diagram(play, "gate") for play in (GATEHOUSE, mirror(GATEHOUSE)))
    for role in ROLES:
        a, b = circle_of(plain, role).center, circle_of(turned, role).center
        assert (a[0], a[1]) == pytest.approx((turned.width - b[0], b[1]))
    for name in ("a1", "a3", "a5"):
        left, right = (
            runs(first_path(action(picture, name)).steps)[0][-1] for picture in (plain, turned)
        )
        assert left[0] == pytest.approx(turned.width - right[0], abs=0.01)


@by_key
def test_no_two_people_overlap_and_all_are_in_the_picture(play: Play) -> None:
    for picture in pictures(play):
        circles = [circle_of(picture, role) for role in ROLES]
        for index, one in enumerate(circles):
            for other in circles[:index]:
                assert distance(one.center, other.center) >= one.radius + other.radius
            assert one.radius <= one.center[0] + 1 <= picture.width
            assert one.radius <= one.center[1] + 1 <= picture.height


# Emphasis and steps


@by_key
def test_moments_carry_the_numbers_of_the_sheet(play: Play) -> None:
    for role in ROLES:
        steps = {step.action: step.number for step in part_of(play, role).steps}
        for phase in play.phases:
            picture = diagram(play, phase.id, Drawing(emphasis=role))
            framed = [g for g in parts(picture, "label") if isinstance(g.shapes[-1], Group)]
            shown = sorted(texts(replace(picture, shapes=tuple(framed))))
            here = [a.id for a in phase.actions if a.role == role]
            assert shown == sorted(str(steps[name]) for name in here)


def test_own_lines_are_heavy_and_others_light() -> None:
    picture = diagram(GATEHOUSE, "gate", Drawing(emphasis="2"))
    widths = {
        dict(group.marks)["action"]: first_path(group).paint for group in groups(picture, "action")
    }
    assert widths["a3"].stroke == "own"
    assert widths["a3"].width > 2 * widths["a4"].width
    assert widths["l1"].stroke == "own"  # the look that is 2's
    assert widths["l2"].stroke == "quiet"
    assert circle_of(picture, "2").paint.fill == "own"


def test_a_counter_is_told_from_what_stays() -> None:
    picture = diagram(GATEHOUSE, "gate", counter="switch")
    paint = {dict(g.marks)["action"]: first_path(g).paint for g in groups(picture, "action")}
    assert paint["c1"].stroke == "ink"
    assert paint["a4"].stroke == "quiet"
    assert "a3" not in paint
    assert picture.title == "Gatehouse: Through the gate, when they switch"


def test_the_ball_is_with_its_holder() -> None:
    picture = diagram(MILLWHEEL, "screens")
    with_ball = [g for g in parts(picture, "person") if len(g.shapes) == 3]
    assert [dict(group.marks)["role"] for group in with_ball] == ["3"]


def test_defenders_stand_with_their_number() -> None:
    picture = diagram(GATEHOUSE, "gate", Drawing(defenders=True))
    found = {dict(g.marks)["guards"]: g for g in parts(picture, "defender")}
    assert sorted(found) == list(ROLES)
    for role in ("2", "3", "4", "5"):
        cross = inked(found[role]).centroid
        assert distance((cross.x, cross.y), circle_of(picture, role).center) < 40
    assert not parts(diagram(GATEHOUSE, "gate"), "defender")


# Words


def test_title_and_description_speak_of_the_cast() -> None:
    picture = diagram(GATEHOUSE, "gate", Drawing(names=NAMES))
    assert picture.title == "Gatehouse: Through the gate"
    assert picture.description.startswith(
        "Ida (1) has the ball. Zoë (4) sets a screen for Runa (2)."
    )
    assert "Look 1: Ida (1) to Runa (2)." in picture.description


@by_key
def test_the_description_says_every_action_once(play: Play) -> None:
    for phase in play.phases:
        sentences = diagram(play, phase.id).description.count(".")
        looks = sum(look.action in {a.id for a in phase.actions} for look in play.looks)
        holder = scenes(play)[play.phases.index(phase)].holder is not None
        here = scenes(play)[play.phases.index(phase)]
        still = len(held(here, tuple(legs(play).values())))
        assert sentences == len(phase.actions) + looks + holder + still


@by_key
def test_text_in_svg_is_real_text(play: Play) -> None:
    picture = diagram(play, play.phases[0].id, Drawing(names=NAMES, label="both"))
    root = ET.fromstring(svg_text(picture))
    found = [node.text for node in root.iter("{http://www.w3.org/2000/svg}text")]
    assert set(ROLES) <= set(found)
    assert set(NAMES.values()) <= set(found)


# Formats, sizes, other pictures


@by_key
def test_the_same_play_gives_the_same_bytes_in_all_formats(play: Play) -> None:
    def written() -> list[bytes]:
        picture = diagram(play, play.phases[0].id, Drawing(names=NAMES, label="both", emphasis="3"))
        outs = [BytesIO(), BytesIO()]
        write_pdf(picture, outs[0])
        write_png(picture, outs[1], scale=1)
        return [svg_text(picture).encode(), *(out.getvalue() for out in outs)]

    assert written() == written()


@by_key
def test_an_svg_diagram_is_small(play: Play) -> None:
    everything = Drawing(names=NAMES, label="both", emphasis="1", defenders=True)
    for drawing in (everything, replace(everything, scheme="page")):
        for picture in pictures(play, drawing):
            data = svg_text(picture).encode()
            assert len(data) < 12_000
            assert len(gzip.compress(data, mtime=0)) < 4_000


@pytest.mark.parametrize("width", [120.0, 200.0, 360.0, 500.0])
def test_a_smaller_court_keeps_people_legible(width: float) -> None:
    picture = diagram(GATEHOUSE, "gate", Drawing(width=width))
    assert picture.width == pytest.approx(width)
    radius = circle_of(picture, "2").radius
    assert radius == pytest.approx(max(10.5 * (width / 360) ** 0.5, 9.2 / 1.22))
    assert all(shape.size >= 9.2 - 1e-9 for shape in picture.flat() if isinstance(shape, Text))


@by_key
def test_a_crop_to_the_action_holds_everybody_and_the_ring(play: Play) -> None:
    for picture in pictures(play, Drawing(crop="action")):
        for group in (*parts(picture, "person"), *groups(picture, "action")):
            left, top, right, bottom = inked(group).bounds
            assert left > -4
            assert top > -4
            assert right < picture.width + 4
            assert bottom < picture.height + 4
        assert 0.55 <= picture.height / picture.width <= 2.2


def test_a_play_beyond_half_court_gets_the_full_court() -> None:
    long = next(play for play in DEMO if play.situation == "press_break")
    picture = diagram(long, long.phases[0].id)
    assert picture.height > 1.4 * picture.width
    assert diagram(GATEHOUSE, "gate").height < picture.width
    assert diagram(GATEHOUSE, "gate", Drawing(crop="full")).height > 1.4 * picture.width


def test_an_overview_has_the_call_as_the_cast_hears_it() -> None:
    called = replace(GATEHOUSE, call="Gate {4}")
    assert "Gate Zoë" in texts(overview(called, Drawing(names=NAMES)))
    assert "Gate 4" in texts(overview(called))
    twins: dict[Role, str] = {"4": "Zoë", "5": "zoë"}
    assert "Gate Zoë (4)" in texts(overview(called, Drawing(names=twins)))


def test_an_overview_holds_every_phase_and_its_name() -> None:
    picture = overview(GATEHOUSE, Drawing(names=NAMES, label="both", emphasis="2", defenders=True))
    assert {"1  Through the gate", "2  Ball in", "Gatehouse"} <= set(texts(picture))
    cells = [s for s in picture.shapes if isinstance(s, Group) and s.clip]
    assert len(cells) == 3  # two phases and the legend
    for cell in cells:
        assert cell.clip is not None
        left, top, width, height = cell.clip
        assert 0 <= left <= left + width <= picture.width
        assert 0 <= top <= top + height <= picture.height
    assert "Ida (1) has the ball." in picture.description


@pytest.mark.parametrize("code", ["en", "es"])
@pytest.mark.parametrize("width", [180.0, 360.0, 540.0])
def test_a_legend_explains_every_kind_of_line(width: float, code: str) -> None:
    picture = legend("print", language(code), width=width, emphasis=True, defenders=True)
    samples = [shape for shape in picture.shapes if isinstance(shape, Group)]
    assert len(samples) == 14
    words = [group.shapes[-1] for group in samples]
    boxes = [inked(group) for group in samples]
    assert all(isinstance(word, Text) for word in words)
    for index, one in enumerate(boxes):
        assert all(one.intersection(other).area < 1e-6 for other in boxes[:index])
        assert one.bounds[2] <= picture.width


@pytest.mark.parametrize("code", ["en", "es"])
def test_a_legend_takes_as_many_columns_as_its_width_holds(code: str) -> None:
    """The widest of its words ends before the margin, however narrow the columns come to be."""
    for width in range(180, 900, 8):
        picture = legend("print", language(code), width=width, emphasis=True, defenders=True)
        ends = max(inked(each).bounds[2] for each in picture.shapes if isinstance(each, Group))
        assert ends <= width - MARGIN, width


@pytest.mark.parametrize(("phase", "counter"), [("nowhere", None), ("gate", "nothing")])
def test_what_the_play_does_not_have_is_an_error(phase: str, counter: str | None) -> None:
    with pytest.raises(KeyError):
        diagram(GATEHOUSE, phase, counter=counter)


# Random plays


@given(sound_plays())
def test_any_sound_play_can_be_drawn(play: Play) -> None:
    drawing = Drawing(emphasis="2", names=NAMES, label="both", defenders=True)
    for counter in (None, *play.counters):
        for phase in play.phases:
            picture = diagram(play, phase.id, drawing, counter=counter)
            ET.fromstring(svg_text(picture))
            write_pdf(picture, BytesIO())
            for shape in picture.flat():
                assert all(abs(v) < 1e5 for v in inked(shape).bounds)
            solid = unary_union([inked(g) for g in parts(picture, "person")])
            assert all(plate(g).intersection(solid).area < 1e-6 for g in parts(picture, "label"))
        write_png(picture, BytesIO(), scale=1)


def test_every_scheme_has_every_ink() -> None:
    used = {
        ink
        for play in ALL
        for picture in pictures(play, Drawing(emphasis="4", defenders=True))
        for shape in picture.flat()
        for ink in (
            [shape.ink] if isinstance(shape, Text) else [shape.paint.stroke, shape.paint.fill]
        )
        if ink
    }
    assert used <= inks("light").keys() & inks("dark").keys() & inks("print").keys()
