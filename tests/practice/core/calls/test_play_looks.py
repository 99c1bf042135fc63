"""What a play is worth against an opponent: by hand, and held to possessions drawn from a truth."""

from __future__ import annotations

import numpy as np
import pytest

from coachbook.demo.files import demo_play
from plays.core.defence.stance import Tactic
from practice.core.calls.looks import NOTHING_KNOWN, against, reason
from practice.core.learning.looks import estimates
from practice.core.learning.order import LookOrder, LookPlace, order_of
from practice.core.reps.called import Take
from shared.core.language import ENGLISH
from tests.practice.core.learning.seasons import in_a_row, possession, run

SWITCH, ZONE, CHASE = Tactic.SWITCH, Tactic.ZONE, Tactic.CHASE


def test_guesses_alone_make_a_chance_that_some_look_is_there() -> None:
    """By hand: guesses of .6 and .5 in two turns; 1 - .4 * .5."""
    order = in_a_row(0.6, 0.5)
    assert against(order, estimates(order, {}, []), {}).chance == pytest.approx(0.8)


def test_of_looks_read_with_one_glance_one_at_most_is_there() -> None:
    """By hand: .5 + .4 in one turn, and never more than certain."""
    two = LookOrder(
        (LookPlace("a", ("1", "2"), 0, None, 0.5), LookPlace("b", ("1", "3"), 0, None, 0.4))
    )
    assert against(two, estimates(two, {}, []), {}).chance == pytest.approx(0.9)
    sure = LookOrder(tuple(LookPlace(each, ("1", "2"), 0, None, 0.8) for each in ("a", "b")))
    assert against(sure, estimates(sure, {}, []), {}).chance == pytest.approx(1.0)


def test_what_only_a_thrown_look_leads_to_adds_nothing() -> None:
    first = LookPlace("a", ("1", "2"), 0, None, 0.5)
    order = LookOrder((first, LookPlace("b", ("2", "3"), 1, "a", 0.9)))
    assert against(order, estimates(order, {}, []), {}).chance == pytest.approx(0.5)


def test_games_move_the_chance_and_the_opponents_shares_mix_it() -> None:
    """By hand: a guess of .6 worth five is Beta(3, 2); there 6 of 9 makes 9 of 14.

    Against a switch, all nine were: the others told nothing, so that the belief before is the guess
    weighed down to four possessions, Beta(2.4, 1.6), and after it 8.4 of 13 (a Beta moved by
    counts: Gelman et al., Bayesian Data Analysis, 2.1; from memory).
    """
    order = in_a_row(0.6)
    games = [possession(look="1", defence=SWITCH)] * 6
    games += [possession(defence=SWITCH)] * 3
    found = estimates(order, {}, games)
    assert against(order, found, {}).chance == pytest.approx(9 / 14)
    assert against(order, found, {SWITCH: 1.0}).chance == pytest.approx(8.4 / 13)
    mixed = against(order, found, {SWITCH: 0.25, ZONE: 0.75}).chance
    assert mixed == pytest.approx(0.25 * 8.4 / 13 + 0.75 * 9 / 14)
    assert against(order, found, {SWITCH: 5, ZONE: 15}).chance == pytest.approx(mixed)


def test_a_play_of_which_nothing_is_known_has_no_chance() -> None:
    order = in_a_row(None, None)
    assert against(order, estimates(order, {}, []), {SWITCH: 1.0}) == NOTHING_KNOWN
    told = against(order, estimates(order, {}, [possession(look="2")]), {})
    assert told.chance is not None
    assert told.told is not None
    assert told.told.look == "2"


def test_after_many_possessions_the_chance_is_how_often_some_look_was_there() -> None:
    """Three looks whose truth is drawn: 20,000 possessions of ``run`` tell the same by counting."""
    truth = {"1": 0.5, "2": 0.3, "3": 0.2}
    order = in_a_row(None, None, None)
    games = run(order, truth, 20_000, np.random.default_rng(3))
    counted = sum(each.taken is Take.LOOK for each in games) / len(games)
    chance = against(order, estimates(order, {}, games), {}).chance
    assert chance == pytest.approx(counted, abs=0.002)
    assert chance == pytest.approx(1 - 0.5 * 0.7 * 0.8, abs=0.015)


def test_the_reason_names_the_most_hopeful_look_against_what_they_do_most() -> None:
    play = demo_play("gangway")
    order, (first, second, *_) = order_of(play), play.looks
    games = [possession(look=second.id, defence=SWITCH)] * 3
    games += [possession(defence=SWITCH)]
    games += [possession(look=first.id, defence=CHASE)] * 4
    found = estimates(order, {}, games)
    switched = reason(against(order, found, {SWITCH: 1.0}, SWITCH), play.looks, ENGLISH)
    assert switched.endswith(": there 3 of 4 times against a switching defence")
    anyhow = reason(against(order, found, {}, None), play.looks, ENGLISH)
    assert anyhow == f"{second.passer} to {second.receiver}: there 3 of 4 times"
    unmet = reason(against(order, found, {ZONE: 1.0}, ZONE), play.looks, ENGLISH)
    assert unmet == anyhow  # nothing was seen against that: what all of them told


def test_the_reason_is_a_guess_before_any_game_and_nothing_without_one() -> None:
    play = demo_play("gangway")
    told = against(order_of(play), estimates(order_of(play), {}, []), {})
    best = max(play.looks, key=lambda look: look.guess or 0)
    said = reason(told, play.looks, ENGLISH)
    assert said.endswith(f": guessed {round(10 * (best.guess or 0))} of 10")
    assert said.startswith(f"{best.passer} to {best.receiver}")
    assert reason(NOTHING_KNOWN, play.looks, ENGLISH) == ""
