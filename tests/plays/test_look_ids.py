"""A look keeps its number on every call, told by its id: two looks of one pair may not swap theirs.

The numbers are reckoned here, from the document alone. That a counter's own looks come after
those of the phases before it is ours, as the document says it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

import pytest

from plays.check.looks import look_row
from plays.core.check.setting import Setting, checked, line_of, usual_defence
from plays.core.drawing.phase import diagram
from plays.core.drawing.strip import count_strip
from plays.core.moves.variants import all_calls
from plays.core.play import ROLES, Counter, Look, Play
from plays.core.sequence.after_look import ways
from plays.core.sequence.course import lanes, scenes, with_counter
from plays.core.words.part import part_of
from plays.core.words.role_part import RolePart
from shared.core.language import ENGLISH
from tests.plays.core.demo_plays import DEMO

Numbers = Mapping[str, int]  # by the id of the look

CALLS = [(play, call) for play in DEMO for call in all_calls(play)]
RUNS = [
    pytest.param(call, counter, id="-".join([call.key, call.call, counter.id if counter else ""]))
    for _, call in CALLS
    for counter in (None, *call.counters)
]
EVERY = pytest.mark.parametrize(("play", "counter"), RUNS)


def listed(play: Play, counter: Counter | None) -> list[Look]:
    """The looks in the order of the document: of the phases before, then the counter's own."""
    if counter is None or not counter.looks:
        return list(play.looks)
    earlier: set[str] = set()
    for phase in play.phases:
        if phase.id == counter.from_phase:
            break
        earlier.update(action.id for action in phase.actions)
    own = [look.id for look in counter.looks]
    kept = [look for look in play.looks if look.action in earlier and look.id not in own]
    return [*kept, *counter.looks]


def reckoned(play: Play, counter: Counter | None) -> Numbers:
    return {look.id: n for n, look in enumerate(listed(play, counter), start=1)}


def parts(play: Play, counter: Counter | None) -> list[RolePart]:
    """The words of each role: of the play, or of the counter as its diagram numbers it."""
    plain = [part_of(play, role) for role in ROLES]
    if counter is None:
        return plain
    return [next(c.part for c in each.counters if c.id == counter.id) for each in plain]


@EVERY
def test_the_words_of_every_role_number_the_look(play: Play, counter: Counter | None) -> None:
    expected, looks = reckoned(play, counter), listed(play, counter)
    for role, part in zip(ROLES, parts(play, counter), strict=True):
        own = {look.id for look in looks if role in (look.passer, look.receiver)}
        assert {line.look: line.number for line in part.looks} == {i: expected[i] for i in own}
        for line in part.looks:
            assert re.search(r"\d+", line.text)[0] == str(line.number)  # type: ignore[index]
        read = [n for reading in part.readings for n in reading.looks]
        assert sorted(read) == [expected[look.id] for look in looks if look.passer == role]


@EVERY
def test_the_diagram_of_the_phase_that_the_words_name_numbers_it(
    play: Play, counter: Counter | None
) -> None:
    run = play if counter is None else with_counter(play, counter)
    floor = lanes(run, scenes(run))
    drawn = {one.look.id: (phase, one.order) for phase, here in floor.items() for one in here}
    told = {line.look: line for part in parts(play, counter) for line in part.looks}
    assert {name: number for name, (_, number) in drawn.items()} == reckoned(play, counter)
    assert {name: phase for name, (phase, _) in drawn.items()} == {
        name: line.phase for name, line in told.items()
    }
    for phase, here in floor.items():
        said = diagram(play, phase, counter=counter).description
        assert [int(n) for n in re.findall(r"Look (\d+):", said)] == [one.order for one in here]


@EVERY
def test_strip_and_verdict_rows_number_it(play: Play, counter: Counter | None) -> None:
    run = play if counter is None else with_counter(play, counter)
    setting = Setting(play.level, defence=usual_defence(play))
    report = checked(run, setting)
    strips = [count_strip(line_of(way, setting), report) for way in ways(run)]
    bars = [bar for strip in strips for row in strip.rows for bar in row.looks]
    rows = [look_row(verdict, None, {}, ENGLISH) for verdict in report.verdicts]
    assert {bar.look: bar.number for bar in bars} == reckoned(play, counter)
    assert {row.action: row.number for row in rows} == reckoned(play, counter)


def test_late_counters_and_further_calls_are_among_these() -> None:
    late = [
        (call.key, counter.id)
        for _, call in CALLS
        for counter in call.counters
        if counter.looks and len(listed(call, counter)) > len(counter.looks)
    ]
    assert len({key for key, _ in late}) >= 5
    assert any(play.call != call.call for play, call in CALLS)
    assert len({play.key for play, _ in CALLS}) == len(DEMO)
