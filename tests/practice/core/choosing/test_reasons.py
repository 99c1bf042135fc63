"""What is said of a package: each sentence held to the package that it is said of."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from plays.core.defence.verdict import Tactic
from practice.core.choosing.programme import best_package
from practice.core.choosing.question import Candidate, Occasion, PackageQuestion, RuledOut
from practice.core.choosing.reasons import Telling, difference, open_ends, reasons
from practice.core.choosing.score import package_of
from practice.core.learning.coming import KINDS
from shared.core.language import ENGLISH
from tests.practice.core.choosing.cases import question


def play(number: int, occasion: Occasion, worth: float, **changed: object) -> Candidate:
    usual = Candidate(
        id=number,
        covers=frozenset({occasion}),
        minutes=10.0,
        worth=dict.fromkeys(KINDS, worth),
        holds=frozenset(KINDS),
    )
    return replace(usual, **changed)  # type: ignore[arg-type]


def telling(asked: PackageQuestion, picks: set[int] | None = None) -> Telling:
    package = best_package(asked) if picks is None else package_of(asked, picks, ())
    names = {one.id: f"Play {one.id}" for one in asked.candidates}
    return Telling(asked, package, names, ENGLISH)


def told(asked: PackageQuestion, picks: set[int] | None = None) -> dict[object, str]:
    return {one.play: " ".join(one.told) for one in reasons(telling(asked, picks), {})}


BASE = (Occasion.BASELINE,)


def test_a_play_says_where_it_is_first_and_where_second() -> None:
    zone = {**dict.fromkeys(KINDS, 0.2), Tactic.ZONE: 0.9}
    plays = (play(1, *BASE, 0.5), replace(play(2, *BASE, 0.2), worth=zone), play(3, *BASE, 0.1))
    said = told(PackageQuestion(plays, occasions=BASE, minutes=30.0), {1, 2, 3})
    assert said[1] == "First choice on the baseline, except against a 2-3 zone."
    assert said[2] == "First choice on the baseline against a 2-3 zone."
    assert said[3] == "Others picked are better on the baseline."
    both = told(PackageQuestion(plays[:1], occasions=BASE, minutes=30.0), {1})
    assert both[1] == "First choice on the baseline, whatever they do."


def test_a_play_that_is_out_says_why() -> None:
    plays = (
        play(1, *BASE, 0.5),
        play(2, *BASE, 0.2),
        play(3, *BASE, 0.9, bar=RuledOut.LEVEL),
        play(4, *BASE, 0.9),
        play(5, Occasion.HALF_COURT, 0.9),
    )
    asked = PackageQuestion(plays, occasions=BASE, minutes=15.0, bans=frozenset({4}))
    said = told(asked)
    assert said[2] == (
        "Better on the same occasions: Play 1. Takes 10 min to learn; 5 min are left."
    )
    assert said[3] == "Meant for older players."
    assert said[4] == "You want it out."
    assert said[5] == "You asked for none of its occasions."
    begun = told(replace(asked, minutes=90.0, beginnings=1))
    assert begun[2].endswith("The practices left have no room to begin another play.")


def test_the_series_and_the_other_side_are_told_with_their_minutes() -> None:
    left = play(1, Occasion.LEFT, 0.5, turned=frozenset({Occasion.RIGHT}), turning=3.0, series="A")
    base = play(2, *BASE, 0.5, series="A", saves={1: 1.8})
    asked = PackageQuestion(
        (left, base), occasions=(Occasion.LEFT, Occasion.RIGHT, *BASE), minutes=30.0
    )
    said = told(asked)
    assert "Learnt first of its series" in said[1]
    assert "Taught from both sides, 3 min more." in said[1]
    assert "Learnt after Play 1, of the same series: the starts they share save 1.8 min." in said[2]


def test_what_is_left_open_is_named_with_the_reason() -> None:
    plays = (
        play(1, *BASE, 0.5, holds=frozenset({Tactic.SAG})),
        play(2, Occasion.LAST_SHOT, 0.5, bar=RuledOut.LEVEL),
        play(3, Occasion.LAST_SHOT, 0.5),
        play(4, Occasion.PRESSURE, 0.5, minutes=50.0),
        play(5, Occasion.LAST_SHOT, 0.5, bar=RuledOut.LEVEL),
    )
    occasions = (*BASE, Occasion.LAST_SHOT, Occasion.PRESSURE, Occasion.LEFT)
    asked = PackageQuestion(plays, occasions=occasions, minutes=20.0, bans=frozenset({3}))
    barred = "Play 2 and Play 5 (meant for older players) and Play 3 (you want it out)"
    assert open_ends(telling(asked)) == (
        "What is picked on the baseline holds against 1 defence only.",
        f"No play for the last shot may be chosen: {barred}.",
        "The minutes do not reach for a play against pressure: Play 4, the quickest, takes 50 min.",
        "The library has no play on the left sideline.",
    )


@pytest.mark.parametrize("seed", range(12))
def test_a_difference_names_what_comes_and_goes_and_its_minutes(seed: int) -> None:
    asked = question(seed)
    here = telling(asked)
    for one in asked.open:
        if one.id in here.package.picks:
            other = best_package(replace(asked, bans=asked.bans | {one.id}))
            said = " ".join(difference(here, other, of=one.id))
            gone = set(here.package.picks) - set(other.picks) - {one.id}
            come = set(other.picks) - set(here.package.picks)
            assert names_before(said, "would go out") == gone
            assert names_before(said, "would come in") == come
            more = other.minutes - here.package.minutes
            number = re.search(r"([\d.]+) min (more|less)", said)
            assert (number is not None) == (abs(more) >= 0.05)
            if number is not None:
                assert float(number[1]) == pytest.approx(abs(more), abs=0.051)
                assert number[2] == ("more" if more > 0 else "less")


def names_before(said: str, what: str) -> set[int]:
    found = re.search(rf"((?:Play \d+(?:, | and )?)+) {what}", said)
    return {int(number) for number in re.findall(r"\d+", found[1])} if found else set()
