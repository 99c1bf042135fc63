"""The count strip: what is drawn is what the timeline says, in every format that pages use."""

from __future__ import annotations

import re
from dataclasses import replace
from io import BytesIO
from xml.etree import ElementTree

import pytest

from plays.core.check.check import Report
from plays.core.check.setting import Setting, checked, usual_defence
from plays.core.defence.verdict import Word
from plays.core.drawing.strip import Mark, count_strip
from plays.core.drawing.strip_key import GAP, SAMPLE
from plays.core.drawing.strip_picture import SMALL, strip_picture
from plays.core.drawing.strip_scale import NARROWEST, NUMBER_ROOM, RIGHT, lanes_of, scale_of
from plays.core.play import ROLES, AgeGroup
from shared.core.drawing.fonts import CAP_HEIGHT, text_width
from shared.core.drawing.picture import Box, Circle, Group, Path, Picture, Text
from shared.core.drawing.svg import write_svg
from shared.core.language import ENGLISH
from tests.languages import language
from tests.plays.core.demo_plays import DEMO

PLAYS = {play.key: play for play in DEMO}

EVERY = pytest.mark.parametrize("key", sorted(PLAYS))
WIDTHS = (224.0, 760.0)


def report_of(key: str, age: AgeGroup = AgeGroup.U12) -> Report:
    play = PLAYS[key]
    return checked(play, Setting(age, defence=usual_defence(play)))


def groups(picture: Picture, part: str) -> list[Group]:
    found = [shape for shape in picture.shapes if isinstance(shape, Group)]
    return [group for group in found if ("part", part) in group.marks]


def marked(group: Group, name: str) -> str:
    return dict(group.marks)[name]


@EVERY
def test_every_bar_begins_and_ends_when_the_timeline_says(key: str) -> None:
    report = report_of(key)
    strip = count_strip(report.line, report)
    scale = scale_of(strip, 760.0, 38.0)
    drawn = groups(strip_picture(strip, key), "bar")
    bars = [bar for row in strip.rows for bar in row.bars]
    assert [marked(group, "action") for group in drawn] == [bar.action for bar in bars]
    for group, bar in zip(drawn, bars, strict=True):
        if bar.kind == "throw":
            continue
        box = next(shape for shape in group.shapes if isinstance(shape, Box))
        assert box.at[0] == pytest.approx(scale.x(bar.start))
        assert box.at[0] + box.width == pytest.approx(max(scale.x(bar.end), box.at[0] + 1.5))


@EVERY
def test_every_look_has_its_window_in_its_receivers_row(key: str) -> None:
    report = report_of(key)
    strip = count_strip(report.line, report)
    scale = scale_of(strip, 760.0, 38.0)
    drawn = {marked(g, "action"): g for g in groups(strip_picture(strip, key), "look")}
    # A look that comes only after another look stands on the strip of that way.
    assert set(drawn) == {window.look.id for window in report.line.windows}
    assert set(drawn) <= {look.id for look in report.play.looks}
    for window in report.line.windows:
        box = next(s for s in drawn[window.look.id].shapes if isinstance(s, Box))
        top = scale.tops[window.look.receiver]
        assert top < box.at[1] < top + scale.heights[window.look.receiver]
        assert box.at[0] == pytest.approx(scale.x(window.earliest))
        wide = scale.x(max(window.latest, window.earliest)) - scale.x(window.earliest)
        assert box.width == pytest.approx(max(wide, NARROWEST))


@EVERY
@pytest.mark.parametrize("width", WIDTHS)
def test_nothing_leaves_the_picture_and_looks_of_a_row_do_not_overlap(
    key: str, width: float
) -> None:
    report = report_of(key, AgeGroup.U10)
    strip = count_strip(report.line, report)
    picture = strip_picture(strip, key, width=width)
    for shape in picture.flat():
        if isinstance(shape, Box):
            assert shape.at[0] >= -0.01
            assert shape.at[0] + shape.width <= width + 0.01
            assert shape.at[1] + shape.height <= picture.height + 0.01
    for group in groups(picture, "look"):
        window = next(each for each in group.shapes if isinstance(each, Box))
        assert window.at[0] + window.width <= width - RIGHT + 0.01  # within the lines of the rows
        for said in (each for each in group.shapes if isinstance(each, Text)):
            beside = 0.0 if said.anchor == "start" else -width
            assert said.at[0] + beside + text_width(said.text, said.size, bold=True) <= width
    unit = scale_of(strip, width, 38.0).unit
    for row in strip.rows:
        placed = list(zip(row.looks, lanes_of(row.looks, unit), strict=True))
        for k, (one, lane) in enumerate(placed):
            for other, same in placed[k + 1 :]:
                assert lane != same or one.end < other.start or other.end < one.start


def test_the_line_at_five_stands_where_five_seconds_are() -> None:
    report = report_of("gangway")
    strip = count_strip(report.line, report)
    assert strip.count == 5.0  # the throw-in count of every rule book (FIBA 2022, 17.3.1)
    scale = scale_of(strip, 760.0, 38.0)
    (line,) = groups(strip_picture(strip, "Gangway"), "count")
    path = line.shapes[0]
    assert isinstance(path, Path)
    step = path.steps[0]
    assert step[0] == "M"
    assert step[1][0] == pytest.approx(scale.left + 5 * scale.unit)


def test_the_line_that_a_page_moves_begins_at_time_zero() -> None:
    report = report_of("gangway")
    strip = count_strip(report.line, report)
    scale = scale_of(strip, 760.0, 38.0)
    (line,) = groups(strip_picture(strip, "Gangway"), "now")
    path = line.shapes[0]
    assert isinstance(path, Path)
    step = path.steps[0]
    assert step[0] == "M"
    assert step[1][0] == pytest.approx(scale.left)
    assert float(marked(line, "unit")) == pytest.approx(scale.unit, abs=1e-4)


def test_a_play_without_a_throw_in_has_no_count() -> None:
    without = [key for key, play in PLAYS.items() if play.thrower is None]
    assert without
    for key in without:
        report = report_of(key)
        strip = count_strip(report.line, report)
        assert strip.count is None
        assert not groups(strip_picture(strip, key), "count")


def test_the_svg_is_sound_and_names_what_it_shows() -> None:
    report = report_of("breakwater")
    strip = count_strip(report.line, report)
    out = BytesIO()
    write_svg(strip_picture(strip, "Breakwater", names={"5": "Zoë & Ida"}), out)
    root = ElementTree.fromstring(out.getvalue())
    texts = [node.text for node in root.iter("{http://www.w3.org/2000/svg}text")]
    assert {*ROLES, "5 s", "signal", "Zoë & Ida"} <= set(texts)
    actions = set(re.findall(r'data-action="([^"]+)"', out.getvalue().decode()))
    assert {look.id for look in report.play.looks} <= actions
    assert "style=" not in out.getvalue().decode()


def test_it_speaks_spanish() -> None:
    report = report_of("breakwater")
    strip = count_strip(report.line, report)
    english = strip_picture(strip, "Breakwater", language=ENGLISH)
    spanish = strip_picture(strip, "Breakwater", language=language("es"))
    assert spanish.title != english.title
    assert spanish.lang == "es"


@EVERY
def test_times_and_roles_are_large_enough_on_a_phone(key: str) -> None:
    """318 px is the width of the strip in a page of 360 px; 12 px is our own floor."""
    report = report_of(key)
    narrow = WIDTHS[0]
    picture = strip_picture(count_strip(report.line, report), "Strip", width=narrow)
    sizes = [text.size for text in picture.flat() if isinstance(text, Text)]
    assert min(sizes) * 318 / narrow >= 12


def test_a_look_that_ends_where_another_begins_has_a_lane_of_its_own() -> None:
    """The number stands behind a bar that is too short for it, so the next bar begins after it."""
    report = report_of("gangway")
    strip = count_strip(report.line, report)
    (look, *_) = (look for row in strip.rows for look in row.looks)
    unit = 50.0
    short = replace(look, start=1.0, end=1.0)
    for points, lanes in ((NUMBER_ROOM + NARROWEST - 1, (0, 1)), (NUMBER_ROOM + 5, (0, 0))):
        assert lanes_of([short, replace(short, start=1.0 + points / unit)], unit) == lanes


@EVERY
@pytest.mark.parametrize("width", WIDTHS)
def test_a_number_beside_its_window_stands_clear_of_it(key: str, width: float) -> None:
    report = report_of(key)
    for group in groups(strip_picture(count_strip(report.line, report), key, width=width), "look"):
        box = next(shape for shape in group.shapes if isinstance(shape, Box))
        for text in group.shapes:
            if isinstance(text, Text) and text.anchor == "start":
                assert text.at[0] > box.at[0] + box.width


def test_each_sign_of_the_key_stands_in_its_room_before_its_words() -> None:
    for group in groups(strip_picture(count_strip(report_of("gangway").line), "t"), "key"):
        (words,) = (shape for shape in group.shapes if isinstance(shape, Text))
        end = words.at[0] - GAP
        for shape in group.shapes:
            if isinstance(shape, Path):
                across = [x for step in shape.steps for x, _ in step[1:]]
                assert end - SAMPLE <= min(across) <= max(across) <= end
            elif isinstance(shape, Box):
                assert end - SAMPLE <= shape.at[0] <= shape.at[0] + shape.width <= end


def test_findings_of_one_moment_stand_side_by_side_and_others_at_their_own() -> None:
    """Nine points from middle to middle: a mark is 9.2 wide at its foot (our layout)."""
    report = report_of("oar-rack")
    strip = count_strip(report.line, report)
    at = (0.5, 0.5, 0.52, 2.5)
    marks = tuple(Mark("finding", when, f"f{n}", "serious") for n, when in enumerate(at))
    strip = replace(strip, rows=(replace(strip.rows[0], marks=marks), *strip.rows[1:]))
    drawn = groups(strip_picture(strip, "Oar rack"), "finding")
    boxes = [shape for group in drawn for shape in group.shapes if isinstance(shape, Box)]
    middles = [box.at[0] + box.width / 2 for box in boxes[: len(at)]]
    x = scale_of(strip, 760.0, 38.0).x
    begin = x(0.5)
    assert middles == pytest.approx([begin, begin + 9, begin + 18, x(2.5)])


def middle_of(text: Text) -> float:
    """The height of the middle of its capitals."""
    return text.at[1] - text.size * CAP_HEIGHT / 2


@EVERY
def test_every_role_has_a_disc_with_its_number_in_the_middle(key: str) -> None:
    shapes = strip_picture(count_strip(report_of(key).line), key).shapes
    discs = [shape for shape in shapes if isinstance(shape, Circle)]
    numbers = [s for s in shapes if isinstance(s, Text) and s.text in ROLES and s.bold]
    assert [text.text for text in numbers] == list(ROLES)
    for disc, number in zip(discs, numbers, strict=True):
        assert (number.at[0], middle_of(number)) == pytest.approx(disc.center)
        assert disc.paint.fill == "paper"


@EVERY
def test_every_second_has_its_number_but_for_the_count_that_says_its_own(key: str) -> None:
    strip = count_strip(report_of(key).line)
    picture = strip_picture(strip, key)
    scale = scale_of(strip, 760.0, 38.0)
    said = {
        int(shape.text): shape.at[0]
        for shape in picture.shapes
        if isinstance(shape, Text) and shape.ink == "quiet" and shape.text.isdigit()
    }
    assert set(said) == set(range(int(scale.until) + 1)) - {strip.count}
    assert all(at == pytest.approx(scale.x(second)) for second, at in said.items())


@EVERY
def test_words_stand_in_the_middle_of_their_bar_and_fit_into_it(key: str) -> None:
    report = report_of(key)
    drawn = strip_picture(count_strip(report.line, report), key)
    for group in (*groups(drawn, "bar"), *groups(drawn, "look")):
        box = next((shape for shape in group.shapes if isinstance(shape, Box)), None)
        for text in (shape for shape in group.shapes if isinstance(shape, Text)):
            assert box is not None
            assert middle_of(text) == pytest.approx(box.at[1] + box.height / 2)
            if text.anchor == "middle":
                wide = text_width(text.text, text.size, bold=text.bold)
                assert box.at[0] <= text.at[0] - wide / 2
                assert text.at[0] + wide / 2 <= box.at[0] + box.width


def test_words_of_a_look_are_measured_as_bold_as_they_are_drawn() -> None:
    """A window in which they would fit in plain letters alone keeps its number only."""
    report = report_of("sluice")
    strip = count_strip(report.line, report)
    row = next(row for row in strip.rows if row.looks)
    look = replace(row.looks[0], start=1.0, word=Word.OPEN, read=None)
    said = f"{look.number} open"
    plain, bold = (text_width(said, SMALL, bold=heavy) for heavy in (False, True))
    for wide, words in (((plain + bold) / 2 + 6, str(look.number)), (bold + 6.5, said)):
        unit = scale_of(strip, 760.0, 38.0).unit
        shown = replace(row, looks=(replace(look, end=1.0 + wide / unit),))
        made = strip_picture(replace(strip, rows=(shown,)), "sluice")
        (group,) = groups(made, "look")
        assert [each.text for each in group.shapes if isinstance(each, Text)] == [words]


def test_only_a_contested_look_has_a_line_beneath_its_bar() -> None:
    report = report_of("tidegate")
    strip = count_strip(report.line, report)
    seen = set()
    for word in (Word.OPEN, Word.CONTESTED, Word.COVERED):
        rows = tuple(
            replace(each, looks=tuple(replace(look, word=word) for look in each.looks))
            for each in strip.rows
        )
        for group in groups(strip_picture(replace(strip, rows=rows), "x"), "look"):
            box = next(shape for shape in group.shapes if isinstance(shape, Box))
            stripes = [s for s in group.shapes if isinstance(s, Path) and s.paint.width == 3.0]
            low = box.at[1] + box.height
            ends = [step for stripe in stripes for step in stripe.steps if step[0] != "Z"]
            assert all(step[1][1] == pytest.approx(low) for step in ends)
            seen.add((word, len(stripes)))
    assert seen == {(Word.OPEN, 0), (Word.CONTESTED, 1), (Word.COVERED, 0)}


@EVERY
def test_each_pass_is_marked_where_it_leaves_and_where_it_is_caught(key: str) -> None:
    line = report_of(key).line
    strip = count_strip(line)
    marks = [(row.role, mark) for row in strip.rows for mark in row.marks]
    for flight in line.flights:
        assert (flight.passer, Mark("release", flight.release, flight.source)) in marks
        assert (flight.receiver, Mark("catch", flight.catch, flight.source)) in marks
