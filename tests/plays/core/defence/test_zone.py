"""A 2-3 zone: two in front, three behind, by the ball alone. Common practice, no source."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from plays.core.court.courts import court
from plays.core.court.spots import named_spots
from plays.core.defence.stance import Scheme, script
from plays.core.defence.verdict import Tactic, against
from plays.core.defence.zone import zone
from plays.core.motion.clock import timeline
from plays.core.motion.pace import pace_of
from plays.core.play import AgeGroup, Point, RuleSet
from tests.plays.core.samples import still

SPOTS = {key: complex(*at) for key, at in named_spots(court(RuleSet.FIBA)).items()}
U16 = pace_of(AgeGroup.U16)


def with_ball_at(*keys: str) -> np.ndarray:
    return zone(np.array([SPOTS[key] for key in keys]), RuleSet.FIBA)


def test_two_stand_in_front_and_three_behind() -> None:
    (five,) = with_ball_at("top")
    assert five.imag[:2].min() > five.imag[2:].max() + 1.5
    assert (five.real[[0, 2]] < 0.0).all()
    assert (five.real[[1, 4]] > 0.0).all()


@pytest.mark.parametrize(
    ("ball", "who"), [("right_wing", 1), ("right_corner", 4), ("left_wing", 0), ("left_corner", 2)]
)
def test_one_goes_to_the_ball_and_the_others_shift_after_it(ball: str, who: int) -> None:
    five, before = with_ball_at(ball, "top")
    apart = np.abs(five - SPOTS[ball])
    assert int(apart.argmin()) == who
    assert apart[who] < 2.0 < np.sort(apart)[1]
    towards = np.sign(SPOTS[ball].real)
    assert ((five - before).real * towards > 0.0).all()


def test_the_rim_is_never_left() -> None:
    edge = np.linspace(0.1, np.pi - 0.1, 60)
    five = zone(SPOTS["basket"] + 7.0 * np.exp(1j * edge), RuleSet.FIBA)
    assert np.abs(five - SPOTS["basket"]).min(axis=1).max() < 2.4


@pytest.mark.parametrize("rule_set", list(RuleSet))
def test_the_mirrored_ball_has_the_mirrored_zone(rule_set: RuleSet) -> None:
    balls = np.array([3.0 + 7.0j, 6.2 + 1.4j, 1.0 + 5.0j])
    there, back = zone(balls, rule_set), zone(-balls.conj(), rule_set)
    assert np.allclose(-back.conj()[:, [1, 0, 4, 3, 2]], there)


def test_it_follows_the_ball_and_nobody_else() -> None:
    moved = tuple(
        start if start.role == "1" else replace(start, at=Point(start.at.x / 2, start.at.y + 1.0))
        for start in still().starts
    )
    lines = [timeline(play, U16) for play in (still(), replace(still(), starts=moved))]
    one, other = (script(line, Scheme(Tactic.ZONE), still_out=True) for line in lines)
    n = min(len(one.aims), len(other.aims))
    assert np.allclose(one.aims[:n], other.aims[:n])
    assert one.obstacles == ()


def test_far_from_the_ball_a_zone_leaves_more_room_than_a_tight_man_to_man() -> None:
    """2 goes straight to where the ball is thrown, out of the lane: nobody of a zone follows."""
    line = timeline(still(6.0), U16)
    tight, loose = against([line, line], [Tactic.TIGHT, Tactic.ZONE])
    assert loose[0].margin > tight[0].margin
