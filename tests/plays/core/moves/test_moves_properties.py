"""Mirror, slide and turn on random plays: undone by themselves, in any order; two of them rigid."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import dist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plays.core.court.courts import court
from plays.core.document.file import content_hash
from plays.core.moves.moves import mirror, slide, turn
from plays.core.moves.off_court import off_court, pull_in
from plays.core.play import (
    Origin,
    Play,
    Point,
    Start,
)
from shared.core.language import ENGLISH
from tests.plays.core import random_plays
from tests.strategies import millimetres


@given(random_plays.plays(st.none() | random_plays.spots))
def test_mirror_twice_is_the_identity(play: Play) -> None:
    assert mirror(mirror(play)) == play
    assert mirror(play).origin is not None


@given(
    random_plays.plays(random_plays.spots),
    st.sampled_from(["", "mirror", "mirror; mirror", "turn 3.0 2.0; mirror", "from a napkin"]),
)
def test_mirror_twice_is_the_identity_whatever_the_origin(play: Play, move: str) -> None:
    known = replace(play, origin=Origin("0" * 64, move))
    assert mirror(mirror(known)) == known


@given(random_plays.plays(random_plays.turnable_spots), millimetres(0, 7.5))
def test_turn_and_turn_back_is_the_identity(play: Play, along: float) -> None:
    assert turn(turn(play)) == play
    assert turn(turn(play, along)) == play


@given(random_plays.plays(random_plays.spots), millimetres(0, 7.5))
def test_slide_and_slide_back_is_the_identity(play: Play, along: float) -> None:
    assert play.spot is not None
    assert slide(slide(play, along), play.spot.along) == play


@given(random_plays.plays(random_plays.turnable_spots), millimetres(0, 7.5))
def test_mirror_swaps_with_turn(play: Play, along: float) -> None:
    assert _bare(mirror(turn(play, along))) == _bare(turn(mirror(play), along))


@given(random_plays.plays(random_plays.spots), millimetres(0, 7.5))
def test_mirror_swaps_with_slide(play: Play, along: float) -> None:
    assert _bare(mirror(slide(play, along))) == _bare(slide(mirror(play), along))


@given(random_plays.plays(random_plays.own_baseline_spots), millimetres(0, 7.5))
def test_the_own_baseline_stays_the_own_baseline(play: Play, along: float) -> None:
    assert play.spot is not None
    floor = court(play.court)
    thrower = replace(play, starts=(Start("1", floor.spot_place(play.spot)),))
    moved = mirror(slide(thrower, along))
    assert moved.spot is not None
    assert moved.spot.far
    assert dist(moved.start_of("1"), floor.spot_place(moved.spot)) < 0.001


@given(
    random_plays.plays(random_plays.turnable_spots),
    st.lists(st.sampled_from(["mirror", "slide", "turn"]), max_size=5),
    millimetres(0, 7.5),
)
def test_moves_give_plain_documents_and_all_but_the_turn_are_rigid(
    play: Play, names: list[str], along: float
) -> None:
    moves: dict[str, Callable[[Play], Play]] = {
        "mirror": mirror,
        "slide": lambda one: slide(one, along),
        "turn": turn,
    }
    moved = play
    for name in names:
        moved = moves[name](moved)
    before, after = _places(play), _places(moved)
    for index in range(1, len(before) if "turn" not in names else 0):
        assert dist(before[0], before[index]) == pytest.approx(
            dist(after[0], after[index]), abs=1e-9
        )
    assert all(round(value, 3) == value for point in after for value in point)
    if moved.origin is None:  # the moves undid each other
        assert moved == play
    else:
        assert moved.origin.content == content_hash(play)


@given(random_plays.plays(random_plays.turnable_spots))
def test_turn_keeps_the_thrower_behind_the_line(play: Play) -> None:
    assert play.spot is not None
    floor = court(play.court)
    place = floor.spot_place(play.spot)
    moved = turn(replace(play, starts=(Start("1", place),)))
    assert moved.spot is not None
    assert dist(moved.start_of("1"), floor.spot_place(moved.spot)) < 0.001


@given(random_plays.plays(random_plays.spots))
def test_off_court_never_fails_and_tells_of_places_outside_only(play: Play) -> None:
    floor = court(play.court)
    for found in off_court(play):
        assert found.metres >= 0
        assert floor.contains(found.at) is (found.kind == "backcourt")
        assert str(found.role) in found.sentence(ENGLISH)


@given(random_plays.plays(random_plays.turnable_spots), st.integers(1, 3))
def test_after_pulling_in_nobody_is_off_the_court(play: Play, times: int) -> None:
    mended = play
    for _ in range(times):
        mended = pull_in(turn(mended))
    assert all(found.kind == "backcourt" for found in off_court(mended))


def _bare(play: Play) -> Play:
    return replace(play, origin=None)


def _places(play: Play) -> list[Point]:
    places = [start.at for start in play.starts]
    for action in play.actions():
        places += action.path
    for counter in play.counters:
        for action in (*counter.replace, *counter.add):
            places += action.path
        places += [look.at for look in counter.looks if look.at is not None]
    places += [look.at for look in play.looks if look.at is not None]
    return places + [one.at for one in play.defenders if one.at is not None]
