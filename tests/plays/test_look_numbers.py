"""A look has one number wherever it is told: page, diagram, strip, check and sheet."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace

import pytest
from django.template.loader import render_to_string

from plays.check.looks import look_row
from plays.core.check.setting import Setting, checked, line_of, usual_defence
from plays.core.drawing.phase import diagram
from plays.core.drawing.strip import count_strip
from plays.core.drawing.strip_picture import strip_picture
from plays.core.play import ROLES, Counter, Play, Role
from plays.core.sequence.after_look import ways
from plays.core.sequence.course import looks_before, with_counter
from plays.core.words.difference_play import play_changes
from plays.core.words.part import part_of
from plays.core.words.role_part import RolePart
from plays.play.page import play_view
from plays.play.strip import NARROW, WIDE
from shared.core.drawing.picture import Group, Picture, Text
from shared.core.language import ENGLISH
from tests.plays.core.demo_plays import DEMO

Numbers = Mapping[int, tuple[str, str]]  # of each look: who passes, to whom

RUNS = [
    pytest.param(play, counter, id=play.key + (f"-{counter.id}" if counter else ""))
    for play in DEMO
    for counter in (None, *play.counters)
]
EVERY = pytest.mark.parametrize(("play", "counter"), RUNS)


def asked(play: Play, counter: Counter | None) -> Play:
    return play if counter is None else with_counter(play, counter)


def on_the_page(play: Play, counter: Counter | None) -> Numbers:
    """The list of the play, or of its counter, as a browser counts its lines."""
    view = play_view(play, ENGLISH)
    listed = {each.counter.id: each.looks for each in view.counters}
    looks = view.looks if counter is None or not counter.looks else listed[counter.id]
    html = render_to_string("plays/parts/looks.html", {"looks": looks})
    lines = re.findall(r"<li>\s*(.+)", html)
    assert len(lines) == html.count("<li>")
    return {n: pair(line) for n, line in enumerate(lines, start=1)}


def pair(said: str) -> tuple[str, str]:
    one, other = re.findall(r"\b[1-5]\b", said)[:2]
    return one, other


def in_the_diagrams(play: Play, counter: Counter | None) -> Numbers:
    """As told to who cannot see them; what stands in the picture is told by the next."""
    found: dict[int, tuple[str, str]] = {}
    for phase in play.phases:
        said = diagram(play, phase.id, counter=counter).description
        found |= {
            int(n): (one, other)
            for n, one, other in re.findall(r"Look (\d+): the ([1-5]) to the ([1-5])\.", said)
        }
    return found


def texts(shapes: object) -> Iterator[str]:
    for shape in shapes if isinstance(shapes, tuple) else ():
        if isinstance(shape, Text):
            yield shape.text
        elif isinstance(shape, Group):
            yield from texts(shape.shapes)


def lettered(picture: Picture) -> set[int]:
    said = " ".join(texts(picture.shapes)) + (picture.description or "").partition("Not written")[2]
    return {int(n) for n in re.findall(r"Look (\d+)", said)}


def in_the_strip(play: Play, counter: Counter | None) -> Numbers:
    """By the strips of every way that the play goes, and by the rows of all its looks."""
    run, setting = asked(play, counter), Setting(play.level, defence=usual_defence(play))
    report = checked(run, setting)
    pairs = {look.id: (look.passer, look.receiver) for look in run.looks}
    lines = [line_of(way, setting) for way in ways(run)]
    found, narrow = (
        {
            int(next(texts(shape.shapes)).split()[0]): pairs[dict(shape.marks)["action"]]
            for line in lines
            for shape in strip_picture(count_strip(line, report), play.key, width=width).shapes
            if isinstance(shape, Group) and ("part", "look") in shape.marks
        }
        for width in (WIDE, NARROW)
    )
    assert narrow == found
    rows = [look_row(verdict, None, {}, ENGLISH) for verdict in report.verdicts]
    assert {row.number: pair(row.text) for row in rows} == found
    return found


def on_the_sheets(play: Play, counter: Counter | None) -> Numbers:
    """From every role's own sentences: the passer's and the receiver's have to agree."""
    found: dict[int, list[str]] = {}
    for role in ROLES:
        for number, reads in sheet_looks(sheet(play, counter, role)):
            found.setdefault(number, ["", ""])[0 if reads else 1] += role
    return {n: (passer, receiver) for n, (passer, receiver) in found.items()}


def sheet(play: Play, counter: Counter | None, role: Role) -> RolePart:
    part = part_of(play, role, {}, ENGLISH)
    if counter is None:
        return part
    return next(each.part for each in part.counters if each.id == counter.id)


def sheet_looks(part: RolePart) -> Iterator[tuple[int, bool]]:
    for line in part.looks:
        found = re.match(r"(?:(Look)|You are look) (\d+)", line.sentences[0])
        assert found, line.sentences
        yield int(found[2]), found[1] is not None


@EVERY
def test_a_look_has_one_number_on_page_diagram_strip_and_sheet(
    play: Play, counter: Counter | None
) -> None:
    looks = asked(play, counter).looks
    told = {n: (look.passer, look.receiver) for n, look in enumerate(looks, start=1)}
    assert in_the_diagrams(play, counter) == told
    assert on_the_page(play, counter) == told
    assert in_the_strip(play, counter) == told
    assert on_the_sheets(play, counter) == told
    pictures = [diagram(play, phase.id, counter=counter) for phase in play.phases]
    assert set.union(*map(lettered, pictures)) == set(told)


def test_some_counters_start_late_and_begin_after_the_first_number() -> None:
    late = [(p, c) for p in DEMO for c in p.counters if c.looks and looks_before(p, c)]
    assert late


def test_a_change_of_a_late_counter_is_told_by_the_number_that_its_diagram_shows() -> None:
    play, counter = next((p, c) for p in DEMO for c in p.counters if c.looks and looks_before(p, c))
    first = counter.looks[0]
    other = replace(counter, looks=(replace(first, shot=not first.shot), *counter.looks[1:]))
    counters = tuple(other if each is counter else each for each in play.counters)
    (said,) = play_changes(play, replace(play, counters=counters), ENGLISH)
    number = len(looks_before(play, counter)) + 1
    assert number > 1
    assert f"ook {number} " in said
