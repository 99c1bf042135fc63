"""What the count findings say, from when on, and whether their remedies mend what they say.

Five seconds to the release in every book: FIBA 17.3.1, NFHS 7-6-2, NBA 8-III. The last half
second and the shape of the remedies are ours. Moments are moved to both sides of each limit by
a written wait; the numbers in the sentences are then what the wait makes them.
"""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest

from plays.core.check.check import PlayFinding, apply_remedy, check
from plays.core.play import AgeGroup, Cue, Look, Moment, Phase, Play, Point
from shared.core.finding import Severity
from tests.plays.core.demo_plays import DEMO
from tests.plays.core.samples import cut, down_screen, still, with_cues

AGE = AgeGroup.U16
COUNTS = ("count_over", "count_tight", "count_in_turn", "count_none")


def found(play: Play, *codes: str) -> list[PlayFinding]:
    return [finding for finding in check(play, age=AGE).findings if finding.code in codes]


def earliest(play: Play, look: str = "l1") -> float:
    return check(play, age=AGE).line.window(look).earliest


def leaving_at(moment: float) -> Play:
    """2 waits as long as it takes for the ball to leave the hand at a moment."""
    wait = moment - earliest(with_cues(still(), "c2", Cue(Moment.SIGNAL)))
    play = with_cues(still(), "c2", Cue(Moment.SIGNAL, wait=wait))
    assert earliest(play) == pytest.approx(moment)
    return play


def shown(moment: float) -> str:
    return f"{moment:.1f}".removesuffix(".0")


@pytest.mark.parametrize(
    ("moment", "codes"),
    [
        (4.5, set()),
        (4.54, set()),
        (4.56, {"count_tight"}),
        (4.99, {"count_tight"}),
        (5.01, {"count_over", "count_none"}),
    ],
)
def test_from_when_on_the_count_is_a_finding(moment: float, codes: set[str]) -> None:
    assert {finding.code for finding in found(leaving_at(moment), *COUNTS)} == codes


def test_a_look_after_the_count_says_by_how_much() -> None:
    (over,) = found(leaving_at(5.7), "count_over")
    assert over.sentence == (
        "Look 1 from the 1 to the 2 can leave the hand at 5.7 s at the earliest: "
        "0.7 s after the count of 5."
    )
    assert over.severity is Severity.SERIOUS
    assert over.when == pytest.approx(5.7)
    (none,) = found(leaving_at(5.7), "count_none")
    assert none.sentence == "No look can leave the hand inside the count of 5."
    # 5.7 s has to become 4.5 s: half a second before the end.
    assert none.remedy == "Drop an action, or start the first one 1.2 s sooner."
    assert none.severity is Severity.SERIOUS


def test_a_look_in_the_last_half_second_is_a_warning_that_says_so() -> None:
    (tight,) = found(leaving_at(4.8), "count_tight")
    assert tight.sentence == (
        "Look 1 from the 1 to the 2 can leave the hand at 4.8 s at the earliest: "
        "that is in the last half second of the count."
    )
    assert tight.severity is Severity.WARNING


def test_the_shorter_wait_it_asks_for_is_enough_and_not_a_tenth_too_much() -> None:
    play = leaving_at(5.73)
    (over,) = found(play, "count_over")
    assert over.remedy == "Let the 2 wait 1.3 s less."  # 1.23 s to half a second before, rounded up
    assert over.fix is not None
    assert over.fix.later == pytest.approx(-1.3)
    assert not found(apply_remedy(play, over.fix), *COUNTS)
    short = replace(over.fix, later=over.fix.later + 0.2)
    assert found(apply_remedy(play, short), "count_tight")


def jogging(metres: float) -> Play:
    """2 jogs so far to the catch and waits for nothing but the signal."""
    play = still()
    starts = tuple(
        replace(s, at=Point(0.0, 8.0 - metres) if s.role == "2" else s.at) for s in play.starts
    )
    jog = cut("c2", "2", (0.0, 8.0), easy=True)
    return replace(play, starts=starts, phases=(Phase("p", "Jog", (jog,)),))


def test_so_many_metres_nearer_brings_the_receiver_so_many_seconds_sooner() -> None:
    """A start nearer spares the metres that are run fastest, not those of the first steps."""
    way = next(n / 4 for n in range(8, 80) if earliest(jogging(n / 4)) > 4.8)
    before = earliest(jogging(way))
    assert before < 5.0
    (finding,) = found(jogging(way), "count_tight")
    told = re.fullmatch(r"Let the 2 start ([\d.]+) m nearer to the catch\.", finding.remedy)
    assert told, finding.remedy
    metres = float(told[1])
    assert not found(jogging(way - metres), *COUNTS)
    assert found(jogging(way - 0.6 * metres), "count_tight")
    assert finding.fix is None


def test_looks_before_it_push_a_look_over_the_count() -> None:
    """Many looks at people who stand there: each costs the thrower a glance."""
    stay = cut("c2", "2", (0.2, 3.0))
    looks = tuple(Look(f"l{n}", "1", "2", "c2") for n in range(1, 13))
    play = replace(still(), phases=(Phase("p", "Cut", (stay,)),), looks=looks)
    line = check(play, age=AGE).line
    late = [window for window in line.windows if window.in_turn > 5.05]
    told = found(play, "count_in_turn")
    assert [finding.look for finding in told] == [window.look.id for window in late]
    assert late
    first, window = told[0], late[0]
    at, over = shown(window.in_turn), shown(window.in_turn - 5)
    assert first.sentence == (
        f"If the looks before it are passed up, look {window.index + 1} from the 1 to the 2 leaves "
        f"the hand at {at} s: {over} s after the count of 5."
    )
    assert first.remedy == "Move it up in the order, or drop a look before it."
    assert first.severity is Severity.WARNING


def screening(far: float) -> Play:
    """4 screens for 2 and rolls, each of whose ways is so many times as long; 1 looks for the roll
    alone."""
    play = down_screen()
    middle = Point(3.2, 3.4)

    def away(point: Point) -> Point:
        return Point(middle.x + far * (point.x - middle.x), middle.y + far * (point.y - middle.y))

    starts = tuple(replace(s, at=away(s.at)) if s.role in "24" else s for s in play.starts)
    first, second, roll = play.phases[0].actions
    actions = (first, second, replace(roll, path=(away(roll.path[-1]),)))
    phases = (replace(play.phases[0], actions=actions),)
    return replace(play, starts=starts, phases=phases, looks=play.looks[1:])


WAY = re.compile(
    r"the (way|first run|run) of the (\d) (to the screen|to the catch)?\s?by ([\d.]+) m"
)


def shortened(play: Play, remedy: str, share: float = 1.0) -> Play:
    """The play with the ways of a remedy shortened by so much of what it says."""
    for kind, role, _, metres in WAY.findall(remedy):
        metre = share * float(metres)
        own = [action for action in play.actions() if action.role == role]
        at = next(start.at for start in play.starts if start.role == role)
        if kind == "run":
            (*before, end) = own[-1].path
            (came,) = before or [own[-2].path[-1]]
            last = replace(own[-1], path=(*before, toward(end, came, metre)))
            actions = tuple(last if a.id == last.id else a for a in play.phases[0].actions)
            play = replace(play, phases=(replace(play.phases[0], actions=actions),))
            continue
        nearer = toward(at, own[0].path[0], metre)
        starts = (replace(s, at=nearer) if s.role == role else s for s in play.starts)
        play = replace(play, starts=tuple(starts))
    return play


def toward(here: Point, there: Point, metres: float) -> Point:
    share = metres / math.dist(here, there)
    return Point(here.x + share * (there.x - here.x), here.y + share * (there.y - here.y))


def test_who_screens_first_catches_sooner_on_the_way_and_does_not_start_nearer() -> None:
    """The start of the 4 is that of the way to the screen, and not of the roll."""
    play = next(
        screening(n / 20) for n in range(20, 80) if earliest(screening(n / 20), "dive") > 4.65
    )
    (late,) = found(play, "count_tight")
    told = re.fullmatch(r"Let the 4 catch ([\d.]+) m sooner on the way\.", late.remedy)
    assert told, late.remedy
    assert not found(sooner(play, float(told[1])), *COUNTS)


def sooner(play: Play, metres: float) -> Play:
    """The play in which the last run ends so many metres before its end."""
    *others, last = play.phases[0].actions
    end = toward(last.path[-1], Point(3.2, 3.4), metres)
    actions = (*others, replace(last, path=(end,)))
    return replace(play, phases=(replace(play.phases[0], actions=actions),))


def test_where_nobody_can_go_sooner_the_ways_to_shorten_are_named_and_are_enough() -> None:
    """The roll waits for the cutter, who waits for the screen: a start nearer for each."""
    play = next(
        screening(n / 20) for n in range(20, 80) if earliest(screening(n / 20), "dive") > 5.2
    )
    (late,) = found(play, "count_tight", "count_over")
    assert late.remedy.startswith("Shorten what the look waits for: ")
    assert len(WAY.findall(late.remedy)) >= 2
    assert late.fix is None
    assert not found(shortened(play, late.remedy), *COUNTS)
    assert found(shortened(play, late.remedy, 0.5), "count_tight")


def test_where_half_of_every_way_is_not_enough_the_look_is_to_go() -> None:
    (late,) = found(screening(6.0), "count_over")
    assert late.remedy.startswith("Let somebody nearer catch here, or leave the look out")


def test_a_wait_of_somebody_else_along_the_chain_may_be_shorter_and_is_applied() -> None:
    late = with_cues(screening(1.0), "s4", Cue(Moment.SIGNAL, wait=3.0))
    (finding,) = found(late, "count_over", "count_tight")
    assert finding.remedy.startswith("Let the 4 wait ")
    assert finding.fix is not None
    assert finding.fix.action == "s4"
    assert not found(apply_remedy(late, finding.fix), *COUNTS)


def test_a_screener_is_never_told_to_leave_as_the_cutter_starts() -> None:
    """The roll waits until the 2 has run past: going as the 2 starts would be no screen."""
    for play in DEMO:
        for age in (AgeGroup.U10, AgeGroup.U14):
            for finding in check(play, age=age).findings:
                told = re.search(r"Let the (\d) go as the (\d) starts", finding.remedy)
                screens = {(a.role, a.cutter) for a in play.actions()}
                if finding.counter is None:  # a counter may leave the screen out
                    assert told is None or told.groups() not in screens


def test_who_waits_until_somebody_runs_past_may_go_as_they_start() -> None:
    """In Crosswind the 5 goes when the 4 and the 2 cross; younger players are late with it."""
    play = next(each for each in DEMO if each.key == "crosswind")
    told = [f for f in check(play, age=AgeGroup.U10).findings if f.look == "lob" and not f.counter]
    assert any(f.remedy.startswith("Let the 5 go as the 4 starts: ") for f in told)
