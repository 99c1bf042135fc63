"""A play moment by moment: all that happens is told once, in order."""

from __future__ import annotations

from itertools import pairwise

import pytest

from plays.core.check.moments import moments
from plays.core.check.setting import Setting, checked
from plays.core.play import ActionKind, AgeGroup
from plays.core.words.speaker import Voice
from shared.core.language import ENGLISH
from tests.plays.core.demo_plays import DEMO

PLAYS = {play.key: play for play in DEMO}


@pytest.mark.parametrize("key", sorted(PLAYS))
def test_screens_throws_and_catches_are_told_at_their_times(key: str) -> None:
    line = checked(PLAYS[key], Setting(AgeGroup.U14)).line
    told = moments(line, Voice(ENGLISH))
    assert all(one.at <= other.at for one, other in pairwise(told))
    at = [(round(each.at, 6), each.action) for each in told]
    for span in line.spans.values():
        if span.kind is ActionKind.SCREEN and span.set is not None:
            assert (round(span.set, 6), span.action) in at
    for flight in line.flights:
        assert (round(flight.release, 6), flight.source) in at
        assert (round(flight.catch, 6), flight.source) in at
    assert all(each.says.endswith(".") and "{" not in each.says for each in told)


def test_names_are_said() -> None:
    line = checked(PLAYS["gangway"], Setting(AgeGroup.U14)).line
    told = " ".join(each.says for each in moments(line, Voice(ENGLISH, {"5": "Zoë"})))
    assert "Zoë (5)" in told


def test_the_count_runs_from_the_ball_to_five_and_the_signal_lies_between() -> None:
    """Five seconds from disposal: FIBA 17.3.1, NFHS 9-2-5, NBA Rule 8 (from memory)."""
    line = checked(PLAYS["gangway"], Setting(AgeGroup.U14)).line
    frame = [(each.at, each.says) for each in moments(line, Voice(ENGLISH)) if not each.action]
    assert [at for at, _ in frame] == [0.0, line.signal, 5.0]
    assert ["disposal" in frame[0][1], "signal" in frame[1][1], "5" in frame[2][1]] == [True] * 3


def test_every_dribble_is_told_when_it_starts() -> None:
    told = 0
    for play in PLAYS.values():
        line = checked(play, Setting(AgeGroup.U14)).line
        said = {(each.at, each.action) for each in moments(line, Voice(ENGLISH))}
        spans = [span for span in line.spans.values() if span.kind is ActionKind.DRIBBLE]
        assert {(span.start, span.action) for span in spans} <= said
        told += len(spans)
    assert told > 3


def test_a_screen_is_told_with_the_one_whom_it_is_set_for() -> None:
    line = checked(PLAYS["gangway"], Setting(AgeGroup.U14)).line
    told = {each.says for each in moments(line, Voice(ENGLISH))}
    actions = [action for phase in PLAYS["gangway"].phases for action in phase.actions]
    cutters = {(a.role, a.cutter) for a in actions if a.kind is ActionKind.SCREEN and a.cutter}
    assert cutters
    for role, cutter in cutters:
        assert f"The {role} goes to screen for the {cutter}." in told
