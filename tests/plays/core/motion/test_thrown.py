"""A branch of the play for each look: the ball goes there, and who waits for its catch waits."""

from __future__ import annotations

import pytest

from plays.core.motion.clock import timeline
from plays.core.motion.pace import pace_of
from plays.core.motion.thrown import shown, thrown
from plays.core.motion.timeline import Timeline
from plays.core.play import Play
from plays.core.sequence.after_look import way_to
from plays.core.sequence.course import WITH_BALL
from tests.plays.core.demo_plays import DEMO

EVERY = [(play, look.id) for play in DEMO for look in play.looks]
PLAYS = {play.key: play for play in DEMO}


def line_of(play: Play, look: str) -> Timeline:
    """The way of the play in which this look is thrown."""
    return timeline(way_to(play, look), pace_of(play.level))


@pytest.mark.parametrize(("play", "look"), EVERY, ids=lambda each: getattr(each, "key", each))
def test_the_ball_gets_to_whoever_the_look_is_for_from_hand_to_hand(play: Play, look: str) -> None:
    branch = thrown(line_of(play, look), look)
    holder = play.ball
    for flight in branch.flights:
        assert flight.passer == holder
        holder = flight.receiver
    (ball,) = [flight for flight in branch.flights if flight.source == look]
    window = branch.window(look)
    assert (ball.passer, ball.receiver) == (window.look.passer, window.look.receiver)
    assert ball.release == window.in_turn
    assert branch.holder(ball.catch) == window.look.receiver
    assert branch.end >= ball.catch
    assert [f.release for f in branch.flights] == sorted(f.release for f in branch.flights)


@pytest.mark.parametrize(("play", "look"), EVERY, ids=lambda each: getattr(each, "key", each))
def test_who_waits_for_the_throw_in_waits_for_this_one(play: Play, look: str) -> None:
    line = line_of(play, look)
    branch = thrown(line, look)
    first = branch.flights[0]
    for role, track in branch.tracks.items():
        for was, now in zip(line.tracks[role].moves, track.moves, strict=True):
            waits = was.action in line.after_in
            assert waits or now.start == was.start
            if waits and line.play.thrower and branch.ball_in is not None:
                assert now.start >= min(branch.ball_in, was.start) - 1e-9
    if branch.ball_in != line.ball_in:
        assert branch.ball_in == first.catch


def test_what_the_receiver_is_written_to_throw_then_is_thrown_after_the_look_as_well() -> None:
    goes_on = 0
    for play, look in EVERY:
        line = line_of(play, look)
        branch = thrown(line, look)
        place = [flight.source for flight in branch.flights].index(look)
        catch, receiver = branch.flights[place].catch, branch.flights[place].receiver
        passed_on = {
            flight.source
            for flight in line.flights
            if flight.passer == receiver
            and flight.release >= catch
            and flight.source not in {each.id for each in play.looks}
        }
        if passed_on:
            assert branch.flights[place + 1].source in passed_on
            goes_on += 1
    assert goes_on


def test_rotations_go_later_where_a_later_look_is_thrown() -> None:
    moved = 0
    for play, look in EVERY:
        line = line_of(play, look)
        branch = thrown(line, look)
        if line.ball_in is None or branch.ball_in is None or branch.ball_in <= line.ball_in:
            continue
        late = [
            (was, now)
            for role in line.tracks
            for was, now in zip(line.tracks[role].moves, branch.tracks[role].moves, strict=True)
            if now.start > was.start + 1e-9
        ]
        moved += bool(late)
    assert moved >= 5, "in the demo's plays somebody waits for the catch of more than one look"


def test_the_first_look_is_the_written_play() -> None:
    line = line_of(PLAYS["gangway"], PLAYS["gangway"].looks[0].id)
    branch = thrown(line, line.windows[0].look.id)
    assert branch.ball_in == line.ball_in
    assert branch.tracks == line.tracks


def test_nobody_dribbles_or_shoots_a_ball_that_went_elsewhere() -> None:
    left_out = 0
    for play, look in EVERY:
        line = line_of(play, look)
        branch = thrown(line, look)
        release = branch.window(look).in_turn
        for span in branch.spans.values():
            if span.kind in WITH_BALL and span.start > release:
                flown = span.action in {flight.source for flight in branch.flights}
                assert flown or branch.holder(span.start + 1e-6) in (span.role, None)
        left_out += len(line.spans) > len(branch.spans)
    assert left_out


def test_a_look_that_is_not_there_is_refused() -> None:
    with pytest.raises(KeyError):
        thrown(line_of(PLAYS["gangway"], ""), "no-such-look")


def test_a_page_shows_the_branch_of_a_look_and_else_the_play_as_it_is_written() -> None:
    play = PLAYS["gangway"]
    look = play.looks[1].id
    line = line_of(play, look)
    assert shown(line, look) == thrown(line, look)
    assert shown(line, "") is line
