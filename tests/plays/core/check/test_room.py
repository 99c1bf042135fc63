"""How much room two people need, and whether the metres of a remedy make it."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest

from plays.core.check.check import PlayFinding, check
from plays.core.check.space import held_within
from plays.core.motion.clock import timeline
from plays.core.motion.pace import pace_of
from plays.core.motion.timeline import Timeline
from plays.core.play import AgeGroup, Look, Phase, Play, Spacing
from tests.plays.core.check.test_rules import starting
from tests.plays.core.samples import cut, still

U16 = pace_of(AgeGroup.U16)


def found(play: Play, code: str) -> list[PlayFinding]:
    return [finding for finding in check(play, age=AgeGroup.U16).findings if finding.code == code]


def test_a_range_of_distance_is_missed_by_so_much_or_kept() -> None:
    at = {start.role: start.at for start in still().starts}
    apart = math.dist(at["2"], at["5"])
    inside = replace(still(), spacing=(Spacing("2", "5", apart - 1, apart + 1),))
    assert found(inside, "spacing_off") == []
    near = replace(still(), spacing=(Spacing("2", "5", apart + 1, apart + 3),))
    far = replace(still(), spacing=(Spacing("2", "5", apart - 3, apart - 1),))
    assert [metres(each) for each in found(near, "spacing_off")] == [1.0]
    assert "further apart" in found(near, "spacing_off")[0].remedy
    assert "nearer" in found(far, "spacing_off")[0].remedy


def metres(finding: PlayFinding) -> float:
    told = re.search(r"([\d.]+) m ", finding.remedy)
    assert told, finding.remedy
    return float(told.group(1))


def pair(apart: float) -> Play:
    """2 and 5 come to catches this far apart, seen at once."""
    return replace(
        still(),
        phases=(Phase("p", "Two", (cut("a", "2", (3.0, 6.0)), cut("b", "5", (3.0 - apart, 6.0)))),),
        looks=(Look("l1", "1", "2", "a"), Look("l2", "1", "5", "b")),
    )


def lines(flight: float, choose: float) -> tuple[Timeline, float]:
    """The pair with passes that fly this long, and the distance one defender holds."""
    line = timeline(pair(1.0), replace(U16, choose=choose))
    one, other = (
        replace(w, throw=replace(w.throw, seconds=seconds))
        for w, seconds in zip(line.windows, (flight, flight + 0.3), strict=True)
    )
    return line, held_within(one, other, line)


def test_a_defender_who_has_no_time_to_step_holds_two_arms() -> None:
    """Halfway between two catches, reaching to both sides."""
    line, held = lines(flight=0.3, choose=0.3)
    assert held == pytest.approx(2.0 * line.pace.side_reach)
    assert lines(flight=0.2, choose=0.5)[1] == pytest.approx(held)


@pytest.mark.parametrize("spare", [0.1, 0.4, 0.8])
def test_a_defender_with_time_holds_what_a_sprint_adds_on_both_sides(spare: float) -> None:
    """The quicker pass decides; d = V (t - T (1 - exp(-t/T))), the integral of the sprint law
    of Furusawa, Hill and Parkinson (1927)."""
    line, held = lines(flight=0.25 + spare, choose=0.25)
    top, constant = line.pace.game_speed, line.pace.time_constant
    run = top * (spare - constant * (1.0 - math.exp(-spare / constant)))
    assert held == pytest.approx(2.0 * (line.pace.side_reach + run), rel=1e-6)


def test_the_metres_further_apart_are_enough_and_hardly_more() -> None:
    (finding,) = found(pair(1.0), "one_holds_both")
    assert "are 1 m apart" in finding.sentence
    more = metres(finding)
    assert not found(pair(1.0 + more), "one_holds_both")
    assert found(pair(1.0 + more - 0.25), "one_holds_both")


def test_out_of_the_lane_by_the_metres_it_says_is_out_of_the_lane() -> None:
    """The pass runs up the line from the thrower at y = 8.325 to 2 at (0, 8): 5 stands beside."""
    close = starting(still(), r5=(4.0, 8.0))
    (finding,) = found(close, "lane_crowded")
    slope = (8.325 - 8.0) / 7.8
    aside = (8.0 + 4.0 * slope - 8.0) * math.cos(math.atan(slope))
    assert metres(finding) == pytest.approx(0.8 - aside, abs=0.06)  # 0.8 m: elbow room, ours
    moved = starting(still(), r5=(4.0, 8.0 - metres(finding)))
    assert not found(moved, "lane_crowded")


def test_a_path_led_out_by_the_metres_it_says_runs_into_nobody() -> None:
    run = replace(still(), phases=(Phase("p", "Run", (cut("a", "3", (-1.0, 5.0)),)),), looks=())
    start, end = (-6.9, 1.0), (-1.0, 5.0)
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    length = math.dist(start, end)
    across = (-(end[1] - start[1]) / length, (end[0] - start[0]) / length)

    def standing(aside: float) -> Play:
        return starting(
            run, r5=(middle[0] + aside * across[0], middle[1] + aside * across[1]), r4=(0.0, 10.0)
        )

    (finding,) = found(standing(0.3), "run_into")
    assert metres(finding) == pytest.approx(0.5, abs=0.05)  # 0.8 - 0.3
    assert found(standing(0.45), "run_into")
    assert not found(standing(0.55), "run_into")  # shoulders touch at half a metre
    assert not found(standing(0.3 + metres(finding)), "run_into")
