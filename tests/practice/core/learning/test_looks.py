"""Look estimates: counted by hand, held to scipy, and to seasons whose truth is known."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from plays.core.defence.stance import Tactic
from practice.core.learning.looks import (
    LookCount,
    LookEstimate,
    count_looks,
    estimates,
    from_others,
    left_out,
    look_text,
    worked_text,
)
from practice.core.learning.order import LookOrder, LookPlace
from practice.core.proportions import Belief, from_guess
from practice.core.reps.called import CalledPlay, Take
from shared.core.language import ENGLISH
from tests.practice.core.learning.seasons import in_a_row, possession, run

SEASONS = 2000
CHASE, SWITCH = Tactic.CHASE, Tactic.SWITCH
GAMES = [
    possession(look="1", points=2, defence=CHASE),
    possession(look="2", points=0, defence=CHASE),
    possession(look="2", points=3, defence=SWITCH),
    possession(taken=Take.NONE, defence=SWITCH),
    possession(taken=Take.BROKEN),
]


def found(
    order: LookOrder, games: list[CalledPlay], look: str, defence: Tactic | None = None
) -> LookEstimate:
    """The one estimate asked for."""
    [one] = [
        each for each in estimates(order, {}, games) if (each.look, each.defence) == (look, defence)
    ]
    return one


def test_counts_by_hand() -> None:
    counts = count_looks(in_a_row(0.5, 0.5), {}, GAMES)
    assert counts["1", None] == LookCount(reached=4, there=1, taken=1, worked=1)
    assert counts["2", None] == LookCount(reached=3, there=2, taken=2, worked=1)
    assert counts["2", CHASE] == LookCount(reached=1, there=1, taken=1, worked=0)
    assert counts["1", SWITCH] == LookCount(reached=2, there=0, taken=0, worked=0)
    assert ("1", Tactic.ZONE) not in counts


def test_the_guess_moves_by_the_possessions_that_reached_the_look() -> None:
    # Conjugacy: Beta(.9 * 5, .1 * 5) and 1 of 4; mean and 90 % range by scipy.stats.beta.
    one = found(in_a_row(0.9, 0.5), GAMES, "1")
    reference = stats.beta(4.5 + 1, 0.5 + 3)
    assert one.belief.mean == pytest.approx(reference.mean())
    inside = one.belief.interval()
    assert (inside.low, inside.high) == pytest.approx(reference.interval(0.9))
    # Without a guess: Jeffreys' Beta(1/2, 1/2) and 2 of 3.
    two = found(in_a_row(0.9, None), GAMES, "2")
    assert two.belief == Belief(2.5, 1.5)
    assert two.works == Belief(1.5, 1.5)


def test_against_one_defence_the_others_count_as_four_possessions_at_most() -> None:
    many = [possession(look="1", defence=CHASE)] * 40 + [
        possession(taken=Take.NONE, defence=SWITCH)
    ] * 2
    one = found(in_a_row(0.5), many, "1", SWITCH)
    # The guess 2.5 of 5 and 40 of 40, weighed down to 4: 3.778 of 4; then 0 of 2.
    assert one.count == LookCount(reached=2)
    assert (one.belief.a, one.belief.b) == pytest.approx((4 * 42.5 / 45, 4 * 2.5 / 45 + 2))


@pytest.mark.parametrize("reached", [0, 1, 7, 300])
def test_what_others_told_never_weighs_more_than_four_possessions(reached: int) -> None:
    prior = from_others(from_guess(0.4), LookCount(reached, reached // 2))
    assert prior.worth == pytest.approx(4.0)
    bare = from_others(Belief(0.5, 0.5), LookCount(reached, reached // 2))
    assert bare.worth == pytest.approx(min(4.0, 1.0 + reached))


def test_a_new_state_of_a_play_keeps_what_was_logged_for_looks_that_stayed() -> None:
    before = LookOrder((LookPlace("1", ("4", "1"), 1), LookPlace("2", ("4", "2"), 2)))
    # Now 3 comes first, the former first look comes second, and "2" goes to somebody else.
    now = LookOrder(
        (
            LookPlace("3", ("4", "3"), 1),
            LookPlace("1", ("4", "1"), 2),
            LookPlace("2", ("4", "5"), 3),
        )
    )
    games = [possession(look="1", revision=1), possession(look="2", revision=1)]
    counts = count_looks(now, {1: before}, games)
    # By the order of then: look 3 was not run and is not judged; the redrawn "2" begins anew.
    assert set(counts) == {("1", None)}
    assert counts["1", None] == LookCount(reached=2, there=1, taken=1, worked=0)
    assert left_out(now, {1: before}, games) == {"2": 1}


def test_texts_name_counts_first_and_no_share_below_five() -> None:
    order = in_a_row(0.6, None)
    few, none = found(order, GAMES[:1], "1"), found(order, [], "1")
    assert look_text(none, ENGLISH) == "No possession has come to it yet."
    assert look_text(few, ENGLISH) == "The play came to it 1 time; there: 1."
    assert worked_text(few, ENGLISH) == "Taken 1 time; points or a foul: 1."
    many = found(order, [possession(taken=Take.NONE)] * 5, "1")
    # Beta(3, 7): mean .3; 90 % range by scipy.stats.beta.interval: .0978 to .5496.
    assert look_text(many, ENGLISH) == (
        "The play came to it 5 times; there: 0. With the guess before it: 30 % (10 to 55)."
    )
    bare = found(order, [possession(taken=Take.NONE)] * 5, "2")
    assert "guess" not in look_text(bare, ENGLISH)


def covered(told: LookEstimate, truth: float) -> bool:
    inside = told.belief.interval(0.9)
    return inside.low <= truth <= inside.high


@pytest.mark.parametrize(
    ("off", "low", "high"), [(0.0, 0.87, 0.93), (0.1, 0.85, 0.9), (0.2, 0.73, 0.83)]
)
def test_nine_of_ten_ranges_hold_the_truth_in_2000_seasons(
    off: float, low: float, high: float
) -> None:
    """Three looks in a row, 3 to 30 calls a season. As often as told where guesses are as good as
    they are taken for; less often, and by how much, where all are too high."""
    draw = np.random.default_rng(20261127)
    hits: dict[str, list[bool]] = {"1": [], "2": [], "3": []}
    for _ in range(SEASONS):
        right = draw.uniform(0.1, 0.9 - off, 3).tolist()
        order = in_a_row(*(guess + off for guess in right))
        beliefs = [from_guess(guess) for guess in right]
        truth = {str(n): draw.beta(b.a, b.b) for n, b in enumerate(beliefs, start=1)}
        games = run(order, truth, int(draw.integers(3, 31)), draw)
        for one in estimates(order, {}, games):
            hits[one.look].append(covered(one, truth[one.look]))
    for look, inside in hits.items():
        assert len(inside) == SEASONS, look
        assert low <= np.mean(inside) <= high, (look, np.mean(inside))


def test_a_naive_count_of_takes_would_miss_the_later_looks() -> None:
    """Takes of all calls are no estimate of how often a look is there: what *taken* hides."""
    draw = np.random.default_rng(5)
    order = in_a_row(None, None)
    games = run(order, {"1": 0.6, "2": 0.6}, 2000, draw)
    naive = sum(game.look == "2" for game in games) / len(games)
    assert naive == pytest.approx(0.24, abs=0.03)  # .4 * .6
    assert found(order, games, "2").belief.mean == pytest.approx(0.6, abs=0.04)


def test_ranges_by_defence_hold_the_truth_where_defences_differ() -> None:
    """Each defence's truth is spread around the look's own, as much as a guess around the truth."""
    draw = np.random.default_rng(7)
    hits: list[bool] = []
    for _ in range(SEASONS):
        guess = float(draw.uniform(0.2, 0.8))
        order = in_a_row(guess)
        belief = from_guess(guess)
        look = float(np.clip(draw.beta(belief.a, belief.b), 0.02, 0.98))
        truth = {d: float(draw.beta(8 * look, 8 * (1 - look))) for d in (CHASE, SWITCH)}
        games = [
            game
            for d, share in truth.items()
            for game in run(order, {"1": share}, int(draw.integers(2, 16)), draw, (d,))
        ]
        hits += [covered(e, truth[e.defence]) for e in estimates(order, {}, games) if e.defence]
    assert 0.87 <= np.mean(hits) <= 0.93, np.mean(hits)
