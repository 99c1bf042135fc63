"""A whole look once more, by small steps and without the code of the defence.

Ball: dv/dt = -k v v from a hand 0.3 m in front of the passer. Defender: stands for the reaction,
then dv/dt = (V - v)/T straight at a point, until the arm and a step reach it. The margin is the
smallest difference over points from 0.5 m off the passer to 0.5 m in front of the receiver.
Everything else of the play is far away.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from plays.core.defence.verdict import Tactic, against
from plays.core.motion.clock import timeline
from plays.core.motion.pace import Pace, pace_of
from plays.core.play import (
    Action,
    ActionKind,
    AgeGroup,
    Cue,
    Defender,
    Look,
    Moment,
    Phase,
    Play,
    Point,
)
from tests.plays.core.samples import still

STEP = 0.0005
PASSER, CATCH = 7.8 + 8.325j, 1.0 + 8.0j


def ball_times(along: np.ndarray, mean: float, pace: Pace, length: float) -> np.ndarray:
    """When the ball is so many metres from the passer, thrown so that its mean speed is right."""
    flown, fast = length - 0.6, mean
    for _ in range(30):  # the speed out of the hand, by trial
        clock, way, v = 0.0, 0.0, fast
        times, ways = [0.0], [0.0]
        while way < flown:
            v -= STEP * pace.ball_drag * v * v
            way, clock = way + STEP * v, clock + STEP
            times.append(clock)
            ways.append(way)
        fast *= (flown / mean / clock) ** -1.0 if abs(clock - flown / mean) > 1e-5 else 1.0
    return np.interp(along - 0.3, ways, times)


def run_time(metres: float, pace: Pace) -> float:
    clock, way, v = 0.0, 0.0, 0.0
    while way < metres:
        v += STEP * (pace.top_speed * pace.effort - v) / pace.time_constant
        way, clock = way + STEP * v, clock + STEP
    return clock


def reckoned(defender: complex, pace: Pace) -> float:
    length = abs(CATCH - PASSER)
    mean = pace.direct_speed * min(1.8 * length, 6.0 + 0.7 * length) / 10.2
    along = np.linspace(0.5, length - 0.5, 60)
    points = PASSER + (CATCH - PASSER) / length * along
    ball = ball_times(along, mean, pace, length)
    hand = [
        pace.choose + run_time(max(abs(point - defender) - pace.side_reach, 0.0), pace)
        for point in points
    ]
    return float(np.min(np.array(hand) - ball))


def standing(defender: complex) -> Play:
    """2 waits at the catch, with a defender who is not behind; all others are far away."""
    wait = Action("w", "2", ActionKind.HOLD, cues=(Cue(Moment.SIGNAL, wait=1.0),))
    places = ((PASSER.real, PASSER.imag), (1.0, 8.0), (-7.0, 24.0), (0.0, 25.0), (6.0, 26.0))
    play = still()
    starts = tuple(
        replace(start, at=Point(*at)) for start, at in zip(play.starts, places, strict=True)
    )
    guards = tuple(Defender(role, at=Point(*places[int(role) - 1])) for role in ("3", "4", "5"))
    return replace(
        play,
        starts=starts,
        phases=(Phase("p", "Wait", (wait,)),),
        looks=(Look("l", "1", "2", "w"),),
        defenders=(
            Defender("1", at=Point(-7.0, 26.0)),
            Defender("2", at=Point(defender.real, defender.imag)),
            *guards,
        ),
    )


@pytest.mark.parametrize("age", [AgeGroup.U12, AgeGroup.ADULT])
@pytest.mark.parametrize("defender", [1.8 + 6.0j, 2.5 + 6.2j, 4.0 + 6.0j, 4.5 + 10.5j, 2.0 + 4.5j])
def test_a_whole_look_comes_out_the_same_by_steps(defender: complex, age: AgeGroup) -> None:
    pace = pace_of(age)
    (verdicts,) = against([timeline(standing(defender), pace)], [Tactic.CHASE])
    assert verdicts[0].margin == pytest.approx(reckoned(defender, pace), abs=0.02)
