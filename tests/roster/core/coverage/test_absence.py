"""Coverage in game time, and absences, held against counting five by five."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest

from roster.core.coverage.absence import absences, covered
from roster.core.coverage.squad import Squad
from tests.roster.core.coverage.squads import some_squad, squad_knowing


def counted(squad: Squad, play: int, out: tuple[str, ...] = ()) -> float:
    """The weighted share of fives without ``out`` that can run a play, by trying all orders."""
    from itertools import permutations

    total = able = 0.0
    fives = combinations(range(len(squad.players)), 5)
    for five, weight in zip(fives, squad.floor.weights, strict=True):
        if any(squad.players[p] in out for p in five):
            continue
        total += weight
        if any(all(squad.known[p, play, k] for k, p in enumerate(o)) for o in permutations(five)):
            able += weight
    return able / total


@pytest.mark.parametrize("out", [(), ("p1",), ("p1", "p4")])
def test_coverage_of_each_play_counted_by_hand(out: tuple[str, ...]) -> None:
    squad = some_squad(1, players=8, plays=3, share=0.5)
    found = covered(squad, out)
    for column, play in enumerate(squad.plays):
        assert found.share(play) == pytest.approx(counted(squad, column, out))
    assert found.package == pytest.approx(found.shares.mean())


def test_importance_weighs_the_plays() -> None:
    squad = some_squad(1, players=8, plays=3, share=0.5)
    squad.importance[:] = [3.0, 1.0, 0.0]
    shares = covered(squad).shares
    assert covered(squad).package == pytest.approx((3 * shares[0] + shares[1]) / 4)


def test_losses_are_differences_of_coverage_and_come_sorted() -> None:
    squad = some_squad(2)
    for size in (1, 2):
        found = absences(squad, size)
        assert {a.out for a in found} == set(combinations(squad.players, size))
        lost = [absence.lost for absence in found]
        assert lost == sorted(lost, reverse=True)
        worst = found[0]
        difference = covered(squad).package - covered(squad, worst.out).package
        assert worst.lost == pytest.approx(difference)
        assert worst.lost > 0


def test_nobody_is_missed_where_everybody_knows_everything() -> None:
    """Fair: an absence is not charged with the game time of the absent player."""
    squad = squad_knowing(np.ones((10, 3, 5), dtype=np.bool_))
    assert all(absence.lost == pytest.approx(0) for absence in absences(squad, 2))


def test_players_who_know_the_same_are_missed_alike() -> None:
    """Symmetry: three players for each role, equal minutes; everybody's loss is the same.

    Of the 2002 fives without one player 3^4 * 2 = 162 can run it, of all 3003 it is 243.
    """
    known = np.zeros((15, 1, 5), dtype=np.bool_)
    known[np.arange(15), 0, np.arange(15) % 5] = True
    squad = squad_knowing(known)
    assert covered(squad).package == pytest.approx(243 / 3003)
    single = absences(squad)
    assert {absence.out for absence in single} == {(f"p{n}",) for n in range(15)}
    for absence in single:
        assert absence.covered.package == pytest.approx(162 / 2002)
        assert absence.broken == ()
    pairs = {absence.out: absence.covered for absence in absences(squad, 2)}
    assert pairs["p0", "p5"].package == pytest.approx(81 / 1287)
    assert pairs["p0", "p1"].package == pytest.approx(2 * 2 * 27 / 1287)


def test_the_only_one_who_can_breaks_the_play() -> None:
    known = np.ones((8, 2, 5), dtype=np.bool_)
    known[1:, 0, 0] = False  # only p0 knows role 1 of play a
    worst = absences(squad_knowing(known))[0]
    assert worst.out == ("p0",)
    assert worst.broken == ("a",)
    assert worst.covered.nobody == ("a",)
    assert worst.covered.share("a") == 0
    assert worst.covered.share("b") == pytest.approx(1)


def test_fewer_than_five_left() -> None:
    squad = squad_knowing(np.ones((5, 1, 5), dtype=np.bool_))
    assert covered(squad).package == pytest.approx(1)
    assert covered(squad, ["p0"]).package == 0
    assert covered(squad, ["p0"]).nobody == ("a",)
    assert covered(squad, ["somebody else"]).package == pytest.approx(1)
