"""One game and a whole season, counted by hand; a fall held to Fisher's test of scipy."""

from __future__ import annotations

from dataclasses import replace

import pytest
from scipy.stats import fisher_exact

from plays.core.defence.stance import Tactic
from practice.core.learning.after_game import (
    AgainstDefence,
    GameSlip,
    after_game,
    against_text,
    lesson_text,
    throws_text,
)
from practice.core.learning.lesson import GameLesson
from practice.core.learning.season import PlayState, luck_of_fall, season_lines
from practice.core.reps.called import CalledPlay, CallResult, Take
from shared.core.language import ENGLISH
from tests.practice.core.learning.seasons import possession

BROKEN = possession("b", taken=Take.BROKEN, result=CallResult.TURNOVER)
GAME = [
    possession("a", look="1", points=2, defence=Tactic.SWITCH),
    possession("a", look="2", points=0, defence=Tactic.SWITCH),
    possession("a", look="1", result=CallResult.FOUL, points=None, defence=Tactic.CHASE),
    replace(BROKEN, erred="5", cast=(("2", 7), ("5", 12))),
    replace(BROKEN, erred="5", cast=(("2", 7), ("5", 13))),
    replace(BROKEN, erred="2"),
    possession("c", taken=Take.NONE, result=CallResult.FIVE_SECONDS),
]


def test_what_was_called_and_what_came_of_it() -> None:
    found = after_game(GAME)
    assert [(line.play, line.calls) for line in found.lines] == [("a", 3), ("b", 3), ("c", 1)]
    first, second, _ = found.lines
    assert (first.points, first.looks, first.none, first.broken) == (2, {"1": 2, "2": 1}, 0, 0)
    assert first.ended == {CallResult.POINTS: 2, CallResult.FOUL: 1}
    assert first.against == (
        AgainstDefence(Tactic.SWITCH, 2, 1),
        AgainstDefence(Tactic.CHASE, 1, 1),
    )
    assert second.broken == 3
    assert (second.no_throws, throws_text(second, ENGLISH)) == (0, "")
    assert against_text(first.against[0], ENGLISH) == (
        "Against switch: 2 calls; points or a foul: 1."
    )


def test_points_that_nobody_logged_are_told_where_the_points_stand() -> None:
    drawn = [
        possession("a", look="1", result=CallResult.FOUL, points=throws) for throws in (None, 2)
    ]
    (one,) = after_game(drawn).lines
    assert (one.calls, one.points, one.no_throws, one.worked) == (2, 2, 1, 2)
    assert (
        throws_text(one, ENGLISH) == "The points of 1 foul are missing: nobody logged its throws."
    )
    (two,) = after_game([drawn[0], drawn[0]]).lines
    assert throws_text(two, ENGLISH).startswith("The points of 2 fouls are missing")


def test_slips_stand_by_play_and_role_and_rank_nobody() -> None:
    assert after_game(GAME).slips == (
        GameSlip("b", "2", 1),  # nobody said who was in it
        GameSlip("b", "5", 2, frozenset({12, 13})),
    )


def test_what_to_practise() -> None:
    found = after_game(GAME).practise
    assert [(item.play, item.lesson, item.times) for item in found] == [
        ("c", GameLesson.FIVE_SECONDS, 1),
        ("b", GameLesson.BROKEN, 3),
        ("b", GameLesson.ERRED, 2),
    ]
    said = [lesson_text(item, "Gangway", ENGLISH) for item in found]
    assert said == [
        "Gangway ran into five seconds: rehearse the last look and the way out.",
        "Gangway broke 3 times: walk it through.",
        "In Gangway the 5 went wrong 2 times: go over that part.",
    ]


def test_a_play_without_any_look_is_told_but_not_for_once() -> None:
    none = possession("a", taken=Take.NONE, result=CallResult.RESET)
    assert after_game([none]).practise == ()
    [item] = after_game([none, none]).practise
    assert lesson_text(item, "Gangway", ENGLISH) == (
        "Gangway was run 2 times and no look was there: hold it against what they did."
    )
    assert after_game([none, none, possession("a", look="1")]).practise == ()
    assert after_game([]).lines == ()


def calls(play: str, *by_game: int) -> list[CalledPlay]:
    """So many calls in each game, the first one first."""
    return [
        possession(play, look="1", game=game)
        for game, count in enumerate(by_game, start=1)
        for _ in range(count)
    ]


def test_plays_kept_fading_never_called_and_dropped() -> None:
    season = [
        *calls("kept", 3, 4, 3, 4, 3, 4),
        *calls("fading", 6, 5, 6, 5, 0, 0),
        *calls("dropped", 2, 0, 0, 0, 0, 0),
        *calls("young", 0, 0, 0, 0, 6, 6),
        possession("kept", look="1", game=99),  # of a game that is not counted
    ]
    lines = season_lines(season, [1, 2, 3, 4, 5, 6], {"kept", "fading", "young", "never"})
    assert {line.play: line.state for line in lines} == {
        "fading": PlayState.FADING,
        "kept": PlayState.KEPT,
        "young": PlayState.KEPT,
        "dropped": PlayState.DROPPED,
        "never": PlayState.NEVER,
    }
    assert lines[0].calls == (6, 5, 6, 5, 0, 0)
    assert [line.total for line in lines] == [22, 21, 12, 2, 0]


@pytest.mark.parametrize("mine", [(6, 5, 6, 5, 0, 0), (2, 2, 2, 2, 1, 1), (0, 0, 0, 0, 3, 4)])
def test_the_luck_of_a_fall_is_fishers(mine: tuple[int, ...]) -> None:
    whole = (20, 18, 22, 20, 19, 21)
    late, all_late, own, every = sum(mine[-2:]), sum(whole[-2:]), sum(mine), sum(whole)
    table = [[late, own - late], [all_late - late, every - own - all_late + late]]
    reference = fisher_exact(table, alternative="less").pvalue
    assert luck_of_fall(mine, whole) == pytest.approx(reference, rel=1e-9)


def test_nothing_fades_in_two_games() -> None:
    lines = season_lines(calls("a", 9, 0), [1, 2], {"a"})
    assert [(line.state, line.luck) for line in lines] == [(PlayState.KEPT, 1.0)]
    assert season_lines([], [], {"a"})[0].state is PlayState.NEVER
    assert season_lines([], [], set()) == ()
