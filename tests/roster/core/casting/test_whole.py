"""The package dealt out at once: within every row of the programme, with a part for everybody.

The programme's rows are held by HiGHS elsewhere; here they judge a cast that was made without
it. That a machine without time still answers is our own demand, no source.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from coachbook.demo.files import demo_play
from plays.core.play import AgeGroup
from roster.core.cast import Cast
from roster.core.casting.model import CastingModel, casting_model
from roster.core.casting.question import Ban, CastingQuestion, CastPlay, Ending, Limits, Lock
from roster.core.casting.score import score
from roster.core.casting.search import casting
from roster.core.casting.whole import whole_casting
from roster.core.people import Availability, Player
from tests.roster.core.casting.test_casting import question, solve

KEYS = ("gangway", "slipway", "foghorn", "net-loft", "oar-rack", "bow-wave")
UNRATED = CastingQuestion(
    tuple(CastPlay(key, demo_play(key).needs) for key in KEYS),
    tuple(Player(f"p{i}") for i in range(13)),
    group=AgeGroup.U16,
)


def model_of(asked: CastingQuestion) -> CastingModel:
    return casting_model(asked).with_locks(asked.locks)


def dealt_within_all_rows(asked: CastingQuestion) -> Cast:
    cast = whole_casting(asked)
    assert model_of(asked).allows(model_of(asked).values(cast))
    return cast


def slots(cast: Cast) -> set[tuple[str, str, int]]:
    return {(str(a.play), a.role, a.depth) for a in cast.assignments}


@pytest.mark.parametrize("seed", range(12))
def test_the_columns_of_a_cast_cost_what_the_score_takes_off(seed: int) -> None:
    """The programme and the score are two ways to one number, for any cast whatever."""
    asked = question(seed, players=7 + seed % 5, plays=3, limits=Limits(slots=5))
    rng = np.random.default_rng(seed)
    whole = whole_casting(asked)
    part = Cast(tuple(a for a in whole.assignments if rng.random() < 0.7))
    for cast in (whole, part):
        cost = float(model_of(asked).cost @ model_of(asked).values(cast))
        assert cost == pytest.approx(-score(asked, cast).total, abs=2e-3)  # the last digits


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("players", [8, 10, 13, 15])
def test_what_is_dealt_keeps_every_limit_and_leaves_nobody_out(seed: int, players: int) -> None:
    asked = question(seed, players=players, plays=6)
    cast = dealt_within_all_rows(asked)
    assert len(slots(cast)) == len(cast.assignments) == 60
    assert {a.player for a in cast.assignments} == set(asked.player_index)


def test_dealing_comes_close_to_the_best() -> None:
    """Never above what HiGHS proves to be the best, and within a twentieth of it."""
    for seed in range(6):
        asked = question(seed, players=9, plays=3, depth=1)
        best = solve(asked)
        assert best.ending is Ending.PROVED
        value = score(asked, whole_casting(asked)).total
        assert 0.95 * best.value < value < best.value + 1e-9


def test_locks_bans_units_absence_and_those_kept_apart_hold() -> None:
    asked = question(
        3,
        players=13,
        plays=5,
        locks=(Lock("p0", "play0", "3", 2), Lock("p1", "play1", "5")),
        bans=(Ban("p2"), Ban("p3", "play0")),
        never_together=(("p4", "p5"),),
    )
    asked = replace(
        asked,
        players=(*asked.players[:-1], replace(asked.players[-1], availability=Availability.OUT)),
        plays=(replace(asked.plays[0], unit=("p6", "p7", "p8", "p9", "p10")), *asked.plays[1:]),
    )
    cast = dealt_within_all_rows(asked)
    assert {(a.play, a.role, a.depth) for a in cast.of("p0")} >= {("play0", "3", 2)}
    assert {(a.play, a.role) for a in cast.of("p1")} >= {("play1", "5")}
    assert cast.of("p2") == cast.of("p12") == ()
    assert not any(a.play == "play0" for a in cast.of("p3"))
    first = {a.player for a in cast.assignments if (a.play, a.depth) == ("play0", 1)}
    assert first == {"p6", "p7", "p8", "p9", "p10"}


def test_with_hardly_anybody_there_are_holes_and_no_error() -> None:
    two = replace(UNRATED, players=UNRATED.players[:2])
    assert 0 < len(whole_casting(two).assignments) < 60
    assert whole_casting(replace(UNRATED, players=())) == Cast()
    assert whole_casting(replace(UNRATED, plays=())) == Cast()


@pytest.mark.parametrize("moments", [0, 1, 2, 3])
def test_a_machine_without_time_leaves_nobody_out_and_no_role_empty(moments: int) -> None:
    """Thirteen whom nobody has rated and six plays: the first evening, on a slow machine."""
    ticks = iter(range(1000))
    found = casting(UNRATED, float(moments), lambda: float(next(ticks)))
    assert found.ending is Ending.TIME
    assert len(slots(found.cast)) == 60
    assert len({a.player for a in found.cast.assignments}) == 13
    assert found.bound is None or found.gap < 0.02  # type: ignore[operator]


def test_a_lock_below_the_depth_that_is_asked_for_is_passed_over() -> None:
    """Somebody is locked as second, and only first fives are asked for."""
    asked = question(1, players=9, plays=2, depth=1, locks=(Lock("p0", "play0", "3", 2),))
    assert len(slots(whole_casting(asked))) == 10
    found = casting(asked, 20, lambda: 0.0)
    assert found.ending is Ending.CONFLICT  # said by the search, as before
