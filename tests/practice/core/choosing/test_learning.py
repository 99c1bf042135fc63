"""Minutes to learn against the model of readiness; shared starts and the squad's fit by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from coachbook.demo.files import demo_play
from plays.core.moves.moves import mirror
from plays.core.play import ROLES, Need, Point, Quality
from practice.core.choosing.learning import minutes_to_learn, saved_by, shared_starts, walking
from practice.core.choosing.squad import likely_cast, suits_squad
from practice.core.install.question import FIRSTS, Ask, PlayToInstall, PracticeSlot, Rules
from practice.core.readiness.assumptions import Assumptions
from practice.core.readiness.cell import readiness
from practice.core.reps.rep import Mode, Touch
from roster.core.cast import Assignment, Cast
from roster.core.casting.question import CastingQuestion, CastPlay
from roster.core.fit import fit
from roster.core.people import Player

GAME = datetime(2026, 12, 5, 16, tzinfo=UTC)
FIVE = dict(zip(ROLES, [(1,), (2,), (3,), (4,), (5,)], strict=True))


def ask(*, history: tuple[Touch, ...] = (), days: tuple[float, ...] = (2.0,)) -> Ask:
    slots = tuple(PracticeSlot(f"p{d}", GAME - timedelta(days=d), 20.0) for d in days)
    return Ask(GAME, slots, (PlayToInstall("a", FIVE),), (1, 2, 3, 4, 5), history=history)


def ran(mode: Mode, count: int, days: float = 2.0) -> tuple[Touch, ...]:
    at = GAME - timedelta(days=days)
    return tuple(
        Touch(who, "a", role, "p2.0", at, mode, clean, count=n)
        for role, (who,) in FIVE.items()
        for clean, n in ((True, round(0.8 * count)), (False, count - round(0.8 * count)))
        if n
    )


def test_the_minutes_are_enough_for_reps_that_make_the_five_ready() -> None:
    """By ``readiness`` itself: live reps in the minutes, less the set-up, one in five wrong."""
    minutes = minutes_to_learn(ask())["a"]
    assert minutes is not None
    rules, assumptions = Rules(), Assumptions()
    most = round((minutes - rules.setup_minutes) / min(rules.walk_minutes, rules.half_minutes))
    enough = readiness(ran(Mode.LIVE, most), (1, "a", "1"), GAME, assumptions)
    assert enough.value >= assumptions.ready
    least = readiness(ran(Mode.WALK_THROUGH, 1), (1, "a", "1"), GAME, assumptions)
    assert least.value < assumptions.ready


def test_what_was_run_before_takes_minutes_away() -> None:
    fresh = minutes_to_learn(ask())["a"]
    known = minutes_to_learn(ask(history=ran(Mode.LIVE, 10, 5.0)))["a"]
    well = minutes_to_learn(ask(history=ran(Mode.LIVE, 40, 3.0)))["a"]
    assert fresh is not None
    assert known is not None
    assert known < fresh
    assert well == 0.0


def test_without_a_practice_or_a_five_nothing_is_learnt() -> None:
    assert minutes_to_learn(ask(days=())) == {"a": None}
    nobody = replace(ask(), plays=(PlayToInstall("a", {}),))
    assert minutes_to_learn(nobody) == {"a": None}
    away = PracticeSlot("p", GAME - timedelta(days=2), 20.0, absent=frozenset({1, 2, 3}))
    assert minutes_to_learn(replace(ask(), slots=(away,))) == {"a": None}


def test_starts_are_shared_whichever_side_a_play_is_drawn_for() -> None:
    play = demo_play("sluice")
    assert shared_starts(play, play) == shared_starts(play, mirror(play)) == 5
    moved = tuple(replace(s, at=replace_x(s.at, 1.5)) if s.role in "12" else s for s in play.starts)
    assert shared_starts(play, replace(play, starts=moved)) == 3


def test_a_play_of_another_series_saves_nothing() -> None:
    play, rules = demo_play("sluice"), Rules()
    assert saved_by(play, play, rules) == pytest.approx(walking(rules))
    assert saved_by(play, replace(play, series="Other"), rules) == 0.0
    alone = replace(play, series="")
    assert saved_by(alone, alone, rules) == 0.0


def replace_x(at: Point, by: float) -> Point:
    return Point(at.x + by, at.y)


# --- the squad ----------------------------------------------------------------------------


def squad_question(size: int, present: Cast = Cast()) -> CastingQuestion:  # noqa: B008 - a value
    needs = tuple(Need(role, Quality.PASSING, 3) for role in ROLES)
    players = tuple(Player(n, {Quality.PASSING: 1 + n % 5}) for n in range(size))
    return CastingQuestion((CastPlay("a", needs),), players, present=present)


def test_a_squad_suits_a_play_by_the_fit_of_two_fives() -> None:
    asked, rules = squad_question(10), Rules()
    cast = likely_cast(asked)
    by_hand = 0.0
    for depth, weight in ((1, 1.0), (2, 0.5)):
        who = {a.role: a.player for a in cast.assignments if a.depth == depth}
        marks = [fit(asked.plays[0].needs, asked.players[int(who[r])], r).value for r in ROLES]
        by_hand += weight * sum(marks) / 5
    assert suits_squad(asked, cast, rules)["a"] == pytest.approx(by_hand / 1.5)


def test_without_depth_a_play_is_worth_less_and_without_a_five_nothing() -> None:
    full, five = squad_question(10), squad_question(5)
    rules = Rules()
    assert (
        suits_squad(five, likely_cast(five), rules)["a"]
        < suits_squad(full, likely_cast(full), rules)["a"]
    )
    assert suits_squad(five, Cast(), rules)["a"] == 0.0


def test_the_coachs_own_five_stands() -> None:
    own = Cast(tuple(Assignment("a", role, 1, n) for n, role in enumerate(ROLES)))
    assert set(likely_cast(squad_question(10, own)).assignments) == set(own.assignments)
    four = Cast(own.assignments[:4])
    assert len(likely_cast(squad_question(10, four)).assignments) == 10


def test_the_minutes_do_not_depend_on_the_units_of_the_question() -> None:
    other = replace(ask(), units=())
    assert minutes_to_learn(other) == minutes_to_learn(replace(ask(), units=(FIRSTS,)))
