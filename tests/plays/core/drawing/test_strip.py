"""The count strip and the samples: plain values that agree with the timeline."""

from __future__ import annotations

import json
from dataclasses import replace

import numpy as np
import pytest

from plays.core.check.check import check
from plays.core.check.samples import sampled
from plays.core.defence.verdict import Tactic, marked
from plays.core.drawing.strip import count_strip
from plays.core.motion.clock import timeline
from plays.core.motion.pace import pace_of
from plays.core.motion.timeline import SHOT
from plays.core.play import ROLES, Action, ActionKind, AgeGroup, Cue, Moment
from tests.plays.core.samples import box, still

U14 = pace_of(AgeGroup.U14)


def test_strip_has_a_row_for_each_role_and_the_line_at_five() -> None:
    strip = count_strip(timeline(box(), U14))
    assert [row.role for row in strip.rows] == list(ROLES)
    assert strip.count == 5.0
    assert strip.until > 5.0


def test_bars_and_marks_are_those_of_the_timeline() -> None:
    line = timeline(box(), U14)
    row = count_strip(line).rows[3]
    ways = [(bar.kind, bar.action) for bar in row.bars]
    assert ways == [("screen", "s4"), ("held", "s4"), ("move", "r4")]
    screen, held, roll = row.bars
    span = line.spans["s4"]
    assert (screen.start, screen.end) == (span.start, span.arrive)
    assert (held.start, held.end) == (span.set, line.spans["r4"].start)
    assert roll.end == line.spans["r4"].arrive
    assert ("set", span.set) in [(mark.kind, mark.at) for mark in row.marks]


def test_a_shot_from_standing_has_a_bar_until_the_ball_is_gone() -> None:
    shot = Action("s2", "2", ActionKind.SHOT, cues=(Cue(Moment.END, "c2"),))
    play = still()
    (phase,) = play.phases
    line = timeline(replace(play, phases=(replace(phase, actions=(*phase.actions, shot)),)), U14)
    bar = count_strip(line).rows[1].bars[-1]
    assert (bar.kind, bar.does, bar.action) == ("move", "shot", "s2")
    assert bar.start == line.spans["s2"].arrive
    assert bar.end == line.spans["s2"].release
    assert bar.end - bar.start == pytest.approx(SHOT)


def test_looks_stand_in_the_receivers_row_with_their_word() -> None:
    report = check(box(), age=AgeGroup.U14, defence=Tactic.SWITCH)
    strip = count_strip(report.line, report)
    bars = {bar.look: bar for row in strip.rows for bar in row.looks}
    assert set(bars) == {look.id for look in box().looks}
    for verdict in report.verdicts:
        assert bars[verdict.look].word == verdict.word
        assert bars[verdict.look].late == (verdict.window.earliest > 5.0)
    assert [bar.number for bar in strip.rows[2].looks] == [1]
    json.dumps(strip.to_json())


def test_samples_are_the_places_of_the_timeline() -> None:
    line = timeline(box(), U14)
    samples = json.loads(json.dumps(sampled(line, hz=10.0)))
    count = len(samples["roles"]["1"]) // 2
    times = np.arange(count) / 10.0
    assert samples["end"] == pytest.approx(times[-1], abs=0.01)
    for k, role in enumerate(ROLES):
        places = line.places(times)[:, k]
        assert samples["roles"][role][0::2] == pytest.approx(list(places.real), abs=0.006)
        assert samples["roles"][role][1::2] == pytest.approx(list(places.imag), abs=0.006)
    assert len(samples["ball"]) == 3 * count


def test_the_ball_leaves_the_thrower_and_ends_with_the_receiver() -> None:
    line = timeline(still(), U14)
    samples = sampled(line)
    (flight,) = samples["flights"]
    before, after = int(flight["release"] * 25) - 1, int(flight["catch"] * 25) + 2
    ball = np.array(samples["ball"]).reshape(-1, 3)
    thrower = np.array(samples["roles"]["1"]).reshape(-1, 2)
    receiver = np.array(samples["roles"]["2"]).reshape(-1, 2)
    assert ball[before, :2] == pytest.approx(thrower[before], abs=0.02)
    assert ball[after, :2] == pytest.approx(receiver[after], abs=0.05)
    assert ball[:, 2].min() > 0.0


def test_defenders_are_sampled_too() -> None:
    line = timeline(box(), U14)
    samples = sampled(line, 25.0, marked(line, Tactic.CHASE))
    assert set(samples["defenders"]) == set(ROLES)
    assert len(samples["defenders"]["2"]) == len(samples["roles"]["2"])


def test_nobody_jumps_between_two_samples() -> None:
    line = timeline(box(), U14)
    samples = sampled(line, 25.0, marked(line, Tactic.SWITCH))
    for group in ("roles", "defenders"):
        for pairs in samples[group].values():
            steps = np.diff(np.array(pairs).reshape(-1, 2), axis=0)
            assert np.hypot(*steps.T).max() < 8.0 / 25.0


@pytest.mark.parametrize("hz", [0.5, 500.0])
def test_a_silly_frequency_is_refused(hz: float) -> None:
    with pytest.raises(ValueError, match="samples a second"):
        sampled(timeline(still(), U14), hz)


@pytest.mark.parametrize("hz", [1.0, 120.0])
def test_both_ends_of_the_frequencies_are_served(hz: float) -> None:
    samples = sampled(timeline(still(), U14), hz)
    assert samples["hz"] == hz
    assert len(samples["ball"]) == 3 * len(samples["roles"]["1"]) // 2


def test_the_ball_is_as_high_as_its_throw_at_that_share_of_the_flight() -> None:
    line = timeline(still(), U14)
    (flight,) = line.flights
    high = np.array(sampled(line, hz=120.0)["ball"]).reshape(-1, 3)[:, 2]
    times = np.arange(len(high)) / 120.0
    aloft = (times > flight.release) & (times < flight.catch)
    share = (times[aloft] - flight.release) / (flight.catch - flight.release)
    assert aloft.sum() > 10
    assert high[aloft] == pytest.approx(flight.throw.heights(share), abs=0.006)
