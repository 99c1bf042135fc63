"""Every diagram and strip of the demo library stays as somebody approved it, told in a line each.

A few pictures are kept whole beside this file (`test_kept.py`). Of the others a line is kept: a
check sum of all signs that are no numbers (kinds, paints, letters), how many numbers there are,
and two sums of them, in tens of points, that a label moved by half a step would change.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterator

import pytest

from plays.core.check.setting import Setting, checked, usual_defence
from plays.core.drawing.options import Drawing, on_page
from plays.core.drawing.overview import overview
from plays.core.drawing.phase import diagram
from plays.core.drawing.stage import stage
from plays.core.drawing.strip import count_strip
from plays.core.drawing.strip_picture import strip_picture
from plays.core.moves.variants import all_calls
from plays.core.play import ROLES, Play
from plays.core.sequence.course import run_of
from plays.core.words.facts_of_play import step_numbers
from shared.core.drawing.picture import Picture
from shared.core.drawing.svg import svg_text
from shared.core.language import ENGLISH
from tests.kept import NUMBER, assert_same
from tests.plays.core.demo_plays import DEMO
from tests.plays.core.drawing.drawn_plays import NAMES

OWN = Drawing(emphasis="3", names=NAMES, label="both", defenders=True, scheme="print")


@pytest.mark.parametrize("play", DEMO, ids=[play.key for play in DEMO])
def test_pictures_are_drawn_as_before(play: Play) -> None:
    lines = [f"{name}: {told(picture)}" for name, picture in pictures(play)]
    assert_same("\n".join(lines) + "\n", __file__, f"{play.key}.txt")


def pictures(play: Play) -> Iterator[tuple[str, Picture]]:
    """Each phase for the staff and for one role, of each call and counter, and the strip."""
    for call in all_calls(play):
        staff = on_page(Drawing(numbers=step_numbers(call)), ENGLISH)
        for phase in call.phases:
            yield f"{call.key} {phase.id}", diagram(call, phase.id, staff)
            yield f"{call.key} {phase.id}, own", diagram(call, phase.id, OWN)
    for counter in play.counters:
        for phase in run_of(play, counter).phases:
            drawn = diagram(play, phase.id, Drawing(names=NAMES, label="name"), counter=counter)
            yield f"{counter.id} {phase.id}", drawn
    yield "overview", overview(play, Drawing(crop="action"))
    report = checked(play, Setting(play.level, defence=usual_defence(play)))
    yield "strip", strip_picture(count_strip(report.line, report), play.name, names=NAMES)
    beside = {role: complex(*play.start_of(role)) + 0.8j for role in ROLES}
    yield "stage", stage(report.line, beside, names=NAMES).picture


def told(picture: Picture) -> str:
    """One line that another picture of this size would hardly share."""
    text = svg_text(picture)
    numbers = [float(each) for each in NUMBER.findall(text)]
    signs = zlib.crc32(NUMBER.sub("#", text).encode())
    turned = sum(number * (place % 10) for place, number in enumerate(numbers))
    return f"{signs}, {len(numbers)} numbers, {sum(numbers) / 10:.2f}, {turned / 10:.2f}"
