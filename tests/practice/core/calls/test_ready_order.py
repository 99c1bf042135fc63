"""The order of plays for five people: every rule by hand, and no rule about people."""

from __future__ import annotations

from itertools import permutations

import pytest

from plays.core.play import ROLES
from practice.core.calls.looks import PlayLooks
from practice.core.calls.ready import OrderedCall, in_order, ready_text
from roster.core.cast import Lesson, PlayId
from roster.core.coverage.floor_five import PlayFilling
from shared.core.language import ENGLISH
from shared.core.numbers import hundredths

FIVE = dict(zip(ROLES, "abcde", strict=True))


def filling(play: str, *, can: bool = True) -> PlayFilling:
    return PlayFilling(play, FIVE if can else {}, 1.0)


def ready(**weakest: float) -> dict[Lesson, float]:
    """Everybody at .95, but who has role 1 of a play."""
    return {
        Lesson(who, play, role): value if role == "1" else 0.95
        for play, value in weakest.items()
        for role, who in FIVE.items()
    }


def order(lines: tuple[OrderedCall, ...]) -> str:
    return "".join(str(line.play) for line in lines)


def test_more_of_the_five_ready_goes_before_a_better_look() -> None:
    found = in_order(
        [filling("x"), filling("y")],
        ready(x=0.5, y=0.9),
        0.8,
        {"x": PlayLooks(0.99), "y": PlayLooks(0.1)},
    )
    assert order(found) == "yx"
    assert [line.short for line in found] == [0, 1]


def test_among_equals_the_better_look_then_the_readier_then_the_package() -> None:
    plays = [filling(each) for each in "pqrs"]
    looks: dict[PlayId, PlayLooks] = {
        "p": PlayLooks(0.4),
        "q": PlayLooks(0.6),
        "r": PlayLooks(0.4),
        "s": PlayLooks(0.4),
    }
    levels = ready(p=0.85, q=0.81, r=0.9, s=0.85)
    assert order(in_order(plays, levels, 0.8, looks)) == "qrps"
    unknown: dict[PlayId, PlayLooks] = looks | {"q": PlayLooks(None)}
    assert order(in_order(plays, levels, 0.8, unknown)) == "rpsq"


def test_the_order_is_the_same_whatever_way_the_plays_come_but_for_equals() -> None:
    looks: dict[PlayId, PlayLooks] = {each: PlayLooks(n / 10) for n, each in enumerate("wxyz")}
    for each in permutations("wxyz"):
        found = in_order([filling(play) for play in each], ready(w=1, x=1, y=1, z=1), 0.8, looks)
        assert order(found) == "zyxw"


def test_without_a_rep_nobody_is_called_unready() -> None:
    (line,) = in_order([filling("x")], None, 0.8, {})
    assert (line.short, line.weakest, line.looks.chance) == (None, None, None)
    assert ready_text(line.short, ENGLISH) == "no rep logged"


def test_a_play_that_these_five_cannot_run_is_left_out() -> None:
    assert in_order([filling("x", can=False)], {}, 0.8, {}) == ()


def test_exactly_at_the_bar_is_ready_and_a_missing_rep_is_not() -> None:
    (line,) = in_order([filling("x")], ready(x=0.8), 0.8, {})
    assert line.short == 0
    (bare,) = in_order([filling("x")], {}, 0.8, {})
    assert (bare.short, bare.weakest) == (5, 0.0)


@pytest.mark.parametrize(
    ("short", "said"), [(0, "all five ready"), (1, "4 of 5 ready"), (5, "0 of 5 ready")]
)
def test_readiness_in_words(short: int, said: str) -> None:
    assert ready_text(short, ENGLISH) == said


def test_hundredths_never_show_more_than_there_is() -> None:
    assert [hundredths(each) for each in (0.0, 0.799, 0.8, 0.29, 1.0)] == [0, 79, 80, 29, 100]
