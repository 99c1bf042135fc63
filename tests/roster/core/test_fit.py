"""Fit: worked by hand, and the ways in which it must always move."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plays.core.play import AgeGroup, Need, Quality
from roster.core.fit import MARKS, fit, fit_table, in_words, needs_differ
from roster.core.people import (
    RATINGS,
    BadRatingError,
    Player,
    reach_rating,
    standing_reach,
)

THROWER = (
    Need("1", Quality.PASSING, 4, 3),
    Need("1", Quality.FINISHING, 2, 1),
    Need("2", Quality.SCREENING, 3, 1),
)


def rated(**ratings: int | None) -> Player:
    return Player("p", {Quality(name): rating for name, rating in ratings.items()})


def test_mean_of_marks_by_weight() -> None:
    """Passing 3 where 4 is asked (.65, weight 3), finishing 5 where 2 is asked (.99, weight 1)."""
    found = fit(THROWER, rated(passing=3, finishing=5), "1")
    assert found.value == pytest.approx((3 * 0.65 + 0.99) / 4)
    assert (found.low, found.high, found.rests_on) == (found.value, found.value, 1.0)
    assert [term.gap for term in found.terms] == [-1, 3]


def test_unknown_is_not_zero() -> None:
    found = fit(THROWER, rated(finishing=5), "1")
    assert found.rests_on == 0.25
    assert found.low == pytest.approx((3 * 0.1 + 0.99) / 4)
    assert found.value == pytest.approx((3 * 0.65 + 0.99) / 4)
    assert found.high == pytest.approx((3 * 0.95 + 0.99) / 4)


def test_explained_term_by_term() -> None:
    found = fit(THROWER, rated(passing=3, finishing=5), "1")
    assert in_words(found, thrower=True) == (
        "Strong finisher, below the passing that this thrower needs."
    )
    assert in_words(fit(THROWER, rated(), "2")) == "Screening not rated."
    assert in_words(fit(THROWER, rated(), "5")) == "This role asks for nothing in particular."


def test_reach_follows_from_height() -> None:
    """Gryko 2022: girls U14 167.8 cm tall reach 223.5 cm on average."""
    assert standing_reach(167.8) == pytest.approx(2.235, abs=0.005)
    assert standing_reach(165.3) == pytest.approx(2.206, abs=0.01)
    assert reach_rating(167.8, AgeGroup.U14) == 3
    assert reach_rating(182, AgeGroup.U14) == 5
    assert reach_rating(182, AgeGroup.ADULT) == 3
    assert reach_rating(None, AgeGroup.U14) is None


def test_reach_as_a_need() -> None:
    needs = [Need("5", Quality.REACH, 4)]
    tall, short = Player(1, height_cm=178), Player(2, height_cm=158)
    assert fit(needs, tall, "5", AgeGroup.U14).value > fit(needs, short, "5", AgeGroup.U14).value
    unknown = fit(needs, Player(3), "5", AgeGroup.U14)
    assert unknown.rests_on == 0
    assert in_words(unknown) == "Height not known."


@pytest.mark.parametrize("rating", [0, 6, -1])
def test_a_rating_out_of_range(rating: int) -> None:
    with pytest.raises(BadRatingError):
        rated(passing=rating)


def test_the_same_need_twice_counts_as_the_higher() -> None:
    twice = [Need("1", Quality.SPEED, 2), Need("1", Quality.SPEED, 5)]
    assert [term.level for term in fit(twice, rated(speed=3), "1").terms] == [5]


def test_marks_rise_and_meeting_a_need_is_the_greatest_step_but_one() -> None:
    marks = [MARKS[gap] for gap in range(-4, 5)]
    steps = [b - a for a, b in pairwise(marks)]
    assert all(step > 0 for step in steps)
    assert all(later <= earlier for earlier, later in pairwise(steps[2:]))
    assert (marks[0], marks[-1]) == (0.0, 1.0)


needs_strategy = st.lists(
    st.builds(
        Need,
        role=st.just("3"),
        quality=st.sampled_from(Quality),
        level=st.sampled_from(RATINGS),
        weight=st.integers(1, 3),
    ),
    max_size=5,
)
players_strategy = st.builds(
    Player,
    id=st.just("p"),
    ratings=st.dictionaries(
        st.sampled_from([q for q in Quality if q is not Quality.REACH]),
        st.none() | st.sampled_from(RATINGS),
    ),
    height_cm=st.none() | st.integers(130, 210),
)


@given(needs_strategy, players_strategy)
def test_always_between_its_limits(needs: list[Need], player: Player) -> None:
    found = fit(needs, player, "3", AgeGroup.U16)
    assert 0 <= found.low <= found.value + 1e-12 <= found.high + 2e-12 <= 1 + 3e-12


@given(needs_strategy, players_strategy, st.sampled_from(Quality))
def test_a_better_rating_never_lowers_the_fit(
    needs: list[Need], player: Player, quality: Quality
) -> None:
    def with_rating(rating: int) -> float:
        other = Player("p", {**player.ratings, quality: rating}, player.height_cm)
        return fit(needs, other, "3", AgeGroup.U16).value

    values = [with_rating(rating) for rating in RATINGS]
    assert values == sorted(values)


def test_table_of_everybody_for_every_role() -> None:
    players = [rated(passing=5, finishing=1), rated(passing=1, screening=5)]
    table = fit_table([THROWER, ()], players)
    assert table.shape == (2, 2, 5)
    assert table[0, 0, 0] == fit(THROWER, players[0], "1").value
    assert table[1, 0, 1] == fit(THROWER, players[1], "2").value
    assert (table[:, 1] == MARKS[0]).all()


def test_a_fit_that_rests_on_nothing_has_no_number_for_people() -> None:
    assert fit(THROWER, rated(), "1").hundredths is None
    assert fit(THROWER, rated(passing=5), "5").hundredths is None
    assert fit(THROWER, rated(passing=3, finishing=5), "1").hundredths == 74  # 2.94 / 4 = 0.735


def test_terms_are_told_from_strong_to_unknown_and_the_weightier_first() -> None:
    needs = (
        Need("1", Quality.SPEED, 3, 1),
        Need("1", Quality.PASSING, 4, 1),
        Need("1", Quality.FINISHING, 2, 1),
        Need("1", Quality.STRENGTH, 2, 3),
        Need("1", Quality.SHOOTING, 3, 1),
    )
    player = rated(speed=3, passing=3, finishing=5, strength=3)
    assert [term.gap for term in fit(needs, player, "1").terms] == [0, -1, 3, 1, None]
    said = in_words(fit(needs, player, "1"))
    order = [said.lower().index(word) for word in ("strong ", "finisher", "pass", "not rated")]
    assert order == sorted(order)
    assert said.endswith("not rated.")
    assert said[0].isupper()
    assert "this role" in said
    assert "this thrower" in in_words(fit(needs, player, "1"), thrower=True)


def test_needs_differ_role_by_role_in_whatever_order_they_are_written() -> None:
    assert needs_differ(THROWER, THROWER[::-1]) == []
    assert needs_differ((), ()) == []
    assert needs_differ(THROWER, ()) == ["1", "2"]
    assert needs_differ((), THROWER) == ["1", "2"]
    assert needs_differ(THROWER, THROWER[:2]) == ["2"]
    moved = (THROWER[0], THROWER[1], Need("5", Quality.SCREENING, 3, 1))
    assert needs_differ(THROWER, moved) == ["2", "5"]
    twice = (*THROWER, THROWER[0])
    assert needs_differ(THROWER, twice) == [], "the same thing asked twice asks no more"


@pytest.mark.parametrize(
    "other",
    [
        Need("2", Quality.STRENGTH, 3, 1),
        Need("2", Quality.SCREENING, 4, 1),
        Need("2", Quality.SCREENING, 3, 2),
    ],
)
def test_another_quality_level_or_weight_is_another_need(other: Need) -> None:
    assert needs_differ(THROWER, (*THROWER[:2], other)) == ["2"]
