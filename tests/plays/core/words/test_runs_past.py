"""Who is said to run past a place does: within half a metre of it, as the clock moves them.

How near is "past" is ours, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pytest
from hypothesis import given

from plays.core.court.courts import court
from plays.core.court.spots import named_spots, nearest
from plays.core.motion.clock import timeline
from plays.core.motion.pace import pace_of
from plays.core.moves.variants import all_calls
from plays.core.play import ROLES, AgeGroup, Moment, Play, Role
from plays.core.sequence.course import with_counter
from plays.core.words.facts import Awaits, Event
from plays.core.words.part import part_of
from plays.core.words.part_facts import part_facts
from tests.plays.core.demo_plays import DEMO
from tests.strategies import sound_plays

PAST = 0.5
SAMPLED = 0.02  # metres: at 200 places a second nobody is farther from one of them
RUNS = [
    run
    for play in DEMO
    for call in all_calls(play)
    for run in (call, *(with_counter(call, counter) for counter in call.counters))
]


def passings(play: Play) -> Iterator[tuple[Role, Event]]:
    """What somebody waits to see run past, whose shoulder it is not."""
    for role in ROLES:
        for step in part_facts(play, role).steps:
            for fact in step.facts:
                if isinstance(fact, Awaits):
                    found = (each for each in fact.events if each.moment is Moment.PASSES)
                    yield from ((role, each) for each in found if not each.shoulder)


def off_the_place(play: Play, event: Event) -> float | None:
    """How near the run comes to the named place nearest to the waypoint; None out of bounds."""
    assert event.action is not None
    assert event.at is not None
    floor = court(play.court)
    spot = named_spots(floor).get(nearest(floor, event.at).key)
    if spot is None:
        return None
    line = timeline(play, pace_of(AgeGroup.ADULT))
    span = line.spans[event.action.id]
    times = np.arange(span.start, span.end + 0.005, 0.005)
    way = line.places(times)[:, ROLES.index(event.action.role)]
    return float(np.abs(way - complex(*spot)).min())


def complaints(play: Play) -> None:
    for role, event in passings(play):
        off = off_the_place(play, event)
        if event.named:
            assert off is not None, (play.key, role)
            assert off <= PAST + SAMPLED, (play.key, role, off)
        else:
            assert off is None or off >= PAST - SAMPLED, (play.key, role, off)


@pytest.mark.parametrize("play", RUNS, ids=lambda play: play.key)
def test_who_is_said_to_run_past_a_place_does(play: Play) -> None:
    complaints(play)


@given(sound_plays())
def test_who_is_said_to_run_past_a_place_in_any_play_does(play: Play) -> None:
    complaints(play)


def test_the_plays_have_both() -> None:
    named = {event.named for play in RUNS for _, event in passings(play)}
    assert named == {True, False}


def test_only_who_is_named_so_is_told_to_run_past_a_place() -> None:
    for play in RUNS:
        for role in ROLES:
            told = " ".join(part_of(play, role).sentences())
            named = sum(event.named for whose, event in passings(play) if whose == role)
            own = sum(event.action.role == role for whose, event in passings(play)
                      if whose == role and event.action is not None)  # fmt: skip
            assert told.count("runs past") == named - own
