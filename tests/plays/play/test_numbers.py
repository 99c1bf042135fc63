"""Every diagram without an own path numbers what happens: a play's, a counter's, a tuning's.

The numbers are the order by the clock, which the strip shows as well.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from plays.core.check.begun import begun
from plays.core.drawing.options import Drawing, on_page
from plays.core.drawing.phase import diagram
from plays.core.motion.clock import timeline
from plays.core.motion.pace import pace_of
from plays.core.play import Play
from plays.core.sequence.course import with_counter
from plays.play.page import changed_phases, play_view, svg_of
from plays.play.pictures import picture_of
from plays.play.strip import plain_strip
from shared.core.drawing.picture import Group, Picture, Text
from shared.core.language import ENGLISH
from tests.plays.core.demo_plays import DEMO
from tests.shared.core.drawing.shapes import groups, parts


def shown(picture: Picture) -> list[int]:
    """The numbers in black squares."""
    inner = [shape for label in parts(picture, "label") for shape in label.shapes]
    squares = [g for g in inner if isinstance(g, Group) and dict(g.marks).get("part") == "moment"]
    return [int(text.text) for g in squares for text in g.shapes if isinstance(text, Text)]


@pytest.mark.parametrize("play", DEMO, ids=lambda play: play.key)
def test_a_counter_s_diagrams_number_what_begins_in_it(play: Play) -> None:
    strip = plain_strip(play, {}, ENGLISH)
    assert strip is not None
    view = play_view(play, ENGLISH, Drawing(numbers=strip.numbers))
    for n, (counter, told) in enumerate(zip(play.counters, view.counters, strict=True), start=1):
        order = begun(with_counter(play, counter))
        numbered = on_page(Drawing(numbers=order), ENGLISH)
        for place, figure in zip(changed_phases(play, counter), told.figures, strict=True):
            phase = play.phases[place - 1]
            picture = diagram(play, phase.id, numbered, counter=counter)
            drawn = {dict(group.marks)["action"] for group in groups(picture, "action")}
            assert sorted(shown(picture)) == sorted(order[a] for a in drawn if a in order)
            assert figure.svg == svg_of(picture, f"{play.key}-counter-{n}-phase-{place}")


@pytest.mark.parametrize("play", DEMO[:6], ids=lambda play: play.key)
def test_what_begins_earlier_has_the_smaller_number(play: Play) -> None:
    """Held against the spans of the clock alone."""
    order = begun(play)
    spans = timeline(play, pace_of(play.level)).spans.values()
    starts = sorted((span.start, order[span.action]) for span in spans if span.action in order)
    for (earlier, one), (later, other) in pairwise(starts):
        assert earlier == pytest.approx(later) or one < other


def test_without_numbers_in_the_play_there_are_none_in_its_counters() -> None:
    play = next(each for each in DEMO if each.counters)
    plain = on_page(Drawing(), ENGLISH)
    told = play_view(play, ENGLISH).counters[0].figures[0]
    phase = play.phases[changed_phases(play, play.counters[0])[0] - 1]
    without = diagram(play, phase.id, plain, counter=play.counters[0])
    assert shown(without) == []
    assert told.svg == svg_of(without, f"{play.key}-{told.what}")


def test_a_saved_picture_of_a_counter_is_numbered() -> None:
    play = next(each for each in DEMO if each.counters)
    place = changed_phases(play, play.counters[0])[0]
    picture = picture_of(play, f"counter-1-phase-{place}", Drawing(), "light", ENGLISH)
    assert shown(picture)
