"""Random sound plays: the check always answers, and its parts agree with each other."""

from __future__ import annotations

import json
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from plays.core.check.check import apply_remedy, check
from plays.core.check.samples import sampled
from plays.core.defence.verdict import (
    CONTESTED,
    OPEN,
    How,
    Tactic,
    Verdict,
    against,
    marked,
)
from plays.core.drawing.strip import count_strip
from plays.core.motion.clock import timeline
from plays.core.motion.pace import pace_of
from plays.core.moves.moves import mirror
from plays.core.play import AgeGroup, Play
from tests.strategies import sound_plays


@given(sound_plays(), st.sampled_from(list(AgeGroup)), st.sampled_from(list(Tactic)))
def test_every_sound_play_can_be_checked(play: Play, age: AgeGroup, tactic: Tactic) -> None:
    report = check(play, age=age, defence=tactic)
    json.dumps(report.to_json(), allow_nan=False)
    assert len(report.verdicts) == len(play.looks)
    for verdict in report.verdicts:
        assert math.isfinite(verdict.margin)
        assert verdict.best_margin >= verdict.margin
    for finding in report.findings:
        assert finding.remedy
        if finding.fix is not None:
            check(apply_remedy(play, finding.fix), age=age, defence=tactic)


@given(sound_plays())
def test_every_sound_play_can_be_shown(play: Play) -> None:
    line = timeline(play, pace_of(AgeGroup.U14))
    json.dumps(sampled(line, 10.0, marked(line, Tactic.CHASE)), allow_nan=False)
    json.dumps(count_strip(line).to_json(), allow_nan=False)


@given(sound_plays())
def test_nobody_outruns_their_top_speed(play: Play) -> None:
    pace = pace_of(AgeGroup.ADULT)
    line = timeline(play, pace)
    places = line.places(np.arange(0.0, line.end, 0.04))
    speeds = np.abs(np.diff(places, axis=0)) / 0.04
    assert speeds.max(initial=0.0) <= pace.game_speed * 1.001


TACTICS = (Tactic.CHASE, Tactic.TIGHT, Tactic.SWITCH, Tactic.DENY)


def judged(play: Play, how: How) -> list[Verdict]:
    line = timeline(play, pace_of(AgeGroup.U14))
    return [each for found in against([line] * 4, TACTICS, how=how) for each in found]


def on_the_edge(verdict: Verdict, room: float) -> bool:
    """Whether a margin lies so near one of the limits that its word hangs on nothing."""
    return min(abs(verdict.margin - edge) for edge in (CONTESTED, OPEN)) < room


@given(sound_plays())
def test_a_mirror_changes_no_word(play: Play) -> None:
    how = How(curves=0)
    for one, other in zip(judged(play, how), judged(mirror(play), how), strict=True):
        assert one.word is other.word or on_the_edge(one, 1e-6)


@given(sound_plays())
def test_a_finer_step_flips_no_word(play: Play) -> None:
    usual = How(curves=0)
    fine = How(step=usual.step / 2.0, curves=0)
    for one, other in zip(judged(play, usual), judged(play, fine), strict=True):
        assert one.word is other.word or on_the_edge(one, 0.05)


@given(sound_plays())
def test_the_mirrored_play_has_the_same_times(play: Play) -> None:
    here = timeline(play, pace_of(AgeGroup.U14))
    there = timeline(mirror(play), pace_of(AgeGroup.U14))
    for id_, span in here.spans.items():
        assert there.spans[id_].end == pytest.approx(span.end, abs=1e-6)
    for one, other in zip(here.windows, there.windows, strict=True):
        assert other.earliest == pytest.approx(one.earliest, abs=1e-6)


@given(sound_plays())
def test_no_one_screen_is_set_before_its_screener_arrives(play: Play) -> None:
    line = timeline(play, pace_of(AgeGroup.U14))
    for span in line.spans.values():
        assert line.signal <= span.start + 1e-9 or span.start >= 0.0
        assert span.start <= span.arrive + 1e-9 <= span.end + 2e-9
        if span.set is not None:
            assert span.set >= span.arrive
