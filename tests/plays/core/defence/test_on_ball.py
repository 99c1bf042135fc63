"""Screens on the ball, and hand-offs. That the giver's body screens for who takes the ball, that
two may switch there, and that a second defender who goes to the ball leaves the roller, is common
practice, no source. A body in the way of a follower is plain.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from plays.core.defence.march import Marking
from plays.core.defence.verdict import Scheme, Tactic, Verdict, against, marked
from plays.core.document.form import problems
from plays.core.motion.clock import timeline
from plays.core.motion.pace import pace_of
from plays.core.play import (
    ActionKind,
    AgeGroup,
    Cut,
    Defence,
    DefenceRead,
    Formation,
    Look,
    Moment,
    PassKind,
    Phase,
    Play,
    Point,
    Role,
    RuleSet,
    ScreenStyle,
    Situation,
    Start,
)
from tests.plays.core.samples import after, cut, dribble, on_set, screen
from tests.plays.test_demo_plays import PLAYS

U16 = pace_of(AgeGroup.U16)
FREE = replace(U16, screened=0.0)
ROLL = Look("roll", "2", "5", "rolls", PassKind.DIRECT)
HOLDS = tuple(replace(cut(f"hold-{role}", role), kind=ActionKind.HOLD) for role in ("1", "3", "4"))
STARTS = {"1": (-6.8, 3.0), "3": (6.9, 1.5), "4": (-6.9, 1.2), "5": (0.0, 7.6)}


def half_court(ball: Role, second: tuple[float, float], *actions: object) -> Play:
    places = STARTS | {"2": second}
    return Play(
        key="on-ball",
        name="On the ball",
        situation=Situation.HALF_COURT,
        formation=Formation.SPREAD,
        court=RuleSet.FIBA,
        level=AgeGroup.U16,
        call="Ball",
        thrower=None,
        ball=ball,
        starts=tuple(Start(role, Point(*at)) for role, at in sorted(places.items())),  # type: ignore[arg-type]
        phases=(Phase("p", "Take it", (*actions, *HOLDS)),),  # type: ignore[arg-type]
        looks=(ROLL,),
    )


def handed_off() -> Play:
    """2 runs over the top of 5, takes the ball, drives to the left; 5 rolls down the right."""
    give = replace(cut("gives", "5"), kind=ActionKind.HANDOFF, to="2")
    return half_court(
        "5",
        (4.6, 7.4),
        cut("comes", "2", (0.9, 8.4), (0.0, 8.3)),
        replace(give, cues=(after(Moment.END, "comes"),)),
        dribble("drives", "2", (-1.2, 7.8), (-3.4, 5.6)),
        cut("rolls", "5", (1.2, 2.6), cut=Cut.ROLL, cues=(after(Moment.START, "drives", 0.5),)),
    )


def screened() -> Play:
    """The same with the ball in 2's hands and a screen on it."""
    return half_court(
        "2",
        (1.2, 8.6),
        screen("on-ball", "5", "2", (0.2, 8.0), screen=ScreenStyle.BALL),
        dribble("drives", "2", (-0.6, 8.4), (-3.4, 5.6), cues=(on_set("on-ball"),)),
        cut("rolls", "5", (1.2, 2.6), cut=Cut.ROLL, cues=(after(Moment.START, "drives", 0.8),)),
    )


BOTH = pytest.mark.parametrize("play", [handed_off(), screened()], ids=["handed", "screened"])


def when(play: Play, tactic: Tactic | Scheme, moment: float) -> tuple[complex, ...]:
    """Where the defenders of 2 and 5, and 2 and 5, are then."""
    line = timeline(play, U16)
    defenders = marked(line, tactic).at(np.array([moment]))[0][0]
    people = line.places(np.array([moment]))[0]
    return tuple(map(complex, (defenders[1], defenders[4], people[1], people[4])))


def roll(play: Play, tactic: Tactic | Scheme) -> Verdict:
    ((verdict,),) = against([timeline(play, U16)], [tactic])
    return verdict


def lost(marking: Marking) -> float:
    """The seconds that the defender of 2 has been held up."""
    return sum(seconds for _, seconds in marking.cost(marking.step * (len(marking.places) - 2), 1))


@BOTH
def test_the_sample_is_a_sound_play(play: Play) -> None:
    assert problems(play) == ()


@BOTH
@pytest.mark.parametrize("tactic", [Tactic.TIGHT, Tactic.OVER])
def test_who_stands_there_holds_the_defender_who_follows_the_ball(
    play: Play, tactic: Tactic
) -> None:
    held, free = (marked(timeline(play, pace), tactic) for pace in (U16, FREE))
    assert 0.1 < lost(held) <= U16.screened + 1e-9
    assert lost(free) == 0.0
    times = np.arange(0.0, timeline(play, U16).end, 0.02)
    men = timeline(play, U16).places(times)[:, 1]
    gaps = [np.abs(marking.at(times)[0][:, 1] - men) for marking in (held, free)]
    assert (gaps[0] - gaps[1]).max() > 0.2


def test_nobody_is_held_by_a_giver_who_is_passed_too_wide() -> None:
    play = handed_off()
    comes, *rest = play.phases[0].actions
    wide = replace(comes, path=(Point(1.8, 9.6), Point(0.0, 9.6)))
    play = replace(play, phases=(replace(play.phases[0], actions=(wide, *rest)),))
    assert lost(marked(timeline(play, U16), Tactic.TIGHT)) == 0.0


@BOTH
def test_two_switch_where_the_ball_is_taken(play: Play) -> None:
    end = timeline(play, U16).spans["drives"].end
    for tactic, swapped in ((Tactic.SWITCH, True), (Tactic.CHASE, False)):
        of_2, of_5, two, five = when(play, tactic, end)
        assert (abs(of_5 - two) < abs(of_5 - five)) is swapped
        assert (abs(of_2 - five) < abs(of_2 - two)) is swapped


@BOTH
def test_in_a_trap_the_second_defender_goes_to_the_ball_and_leaves_the_roller(play: Play) -> None:
    end = timeline(play, U16).spans["drives"].end
    of_2, of_5, two, five = when(play, Tactic.TRAP, end)
    assert abs(of_5 - two) < 1.5
    assert abs(of_2 - two) < 2.5
    assert min(abs(of_2 - five), abs(of_5 - five)) > 2.5
    named, all_, plain = (
        roll(play, tactic).margin
        for tactic in (Scheme(Tactic.TRAP, ("5",)), Tactic.TRAP, Tactic.CHASE)
    )
    assert named == pytest.approx(all_)
    assert named > plain + 0.3
    assert roll(play, Scheme(Tactic.TRAP, ("2",))).margin == pytest.approx(plain)


def test_a_trap_names_who_screens_on_the_ball_or_hands_it_off() -> None:
    for play in (handed_off(), screened()):
        for role, faults in (("5", set()), ("3", {"who_traps"})):
            read = DefenceRead(Defence.TRAP, (role,))  # type: ignore[arg-type]
            reading = replace(play, looks=(replace(ROLL, read=read),))
            assert {fault.code for fault in problems(reading)} == faults


def test_the_roll_of_the_demo_is_there_when_two_go_with_the_ball() -> None:
    play = PLAYS["paper-lantern"]
    plain = replace(play, looks=tuple(replace(look, read=None) for look in play.looks))
    margins = []
    for each in (play, plain):
        (verdicts,) = against([timeline(each, pace_of(play.level))], [Tactic.CHASE])
        margins += [(v.margin, v.there) for v in verdicts if v.look == "roll"]
    assert margins[0][1]
    assert margins[0][0] > margins[1][0] + 0.3
    assert not margins[1][1]
