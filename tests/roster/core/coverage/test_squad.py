"""Who counts as knowing a role, and what it is worth."""

from __future__ import annotations

import numpy as np
import pytest

from roster.core.cast import Assignment, Cast, Lesson
from roster.core.coverage.absence import covered
from roster.core.coverage.fives import membership
from roster.core.coverage.squad import squad
from tests.roster.core.coverage.squads import some_squad

CAST = Cast(
    (
        Assignment("a", "1", 1, "ida"),
        Assignment("a", "1", 2, "noor"),
        Assignment("a", "1", 3, "mia"),
        Assignment("a", "2", 1, "noor"),
        Assignment("gone", "2", 1, "noor"),
        Assignment("a", "3", 1, "left the team"),
    )
)
PLAYERS = ["ida", "noor", "mia"]


def test_cast_at_any_depth_is_known_and_worth_less_with_depth() -> None:
    found = squad(PLAYERS, ["a"], CAST)
    assert found.who_knows("a", "1") == ("ida", "noor", "mia")
    assert found.who_knows("a", "2") == ("noor",)
    assert found.who_knows("a", "3") == ()
    assert list(found.worth[:, 0, 0]) == [1.0, 0.8, 0.6]


def test_with_readiness_only_the_ready_know() -> None:
    readiness = {Lesson("ida", "a", "1"): 0.9, Lesson("noor", "a", "1"): 0.59}
    found = squad(PLAYERS, ["a"], CAST, readiness=readiness, ready=0.6)
    assert found.who_knows("a", "1") == ("ida",)
    assert found.who_knows("a", "2") == ()
    assert found.worth[0, 0, 0] == 0.9
    assert squad(PLAYERS, ["a"], CAST, readiness=readiness, ready=0.5).who_knows("a", "1") == (
        "ida",
        "noor",
    )


def test_taught() -> None:
    found = squad(PLAYERS, ["a"], CAST)
    assert found.taught(Lesson("mia", "a", "3")).who_knows("a", "3") == ("mia",)
    assert found.who_knows("a", "3") == ()
    with pytest.raises(KeyError):
        found.taught(Lesson("nobody", "a", "3"))


@pytest.mark.parametrize("out", [("p0",), ("p3", "p7"), ("nobody of ours",), ()])
def test_a_squad_without_somebody_is_the_squad_with_them_out(out: tuple[str, ...]) -> None:
    whole = some_squad(4, players=9, share=0.6)
    left, supposed = (
        covered(whole.without(out)),
        covered(whole, [p for p in out if p != "nobody of ours"]),
    )
    assert np.allclose(left.shares, supposed.shares)
    assert left.nobody == supposed.nobody
    assert left.package == pytest.approx(supposed.package)


def test_one_absence_after_another_is_both_at_once() -> None:
    whole = some_squad(5, players=9, share=0.6)
    one_by_one = covered(whole.without(["p1"]).without(["p2"]))
    assert np.allclose(one_by_one.shares, covered(whole.without(["p1", "p2"])).shares)
    assert not whole.without(["p1"]).runnable()[membership(9)[:, 1]].any()
