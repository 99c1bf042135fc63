"""The bands: an interval that holds what it says, words by the share of draws, fine steps.

Simulation: the uncertain numbers are drawn anew, independently and with other seeds, all off by up
to a fifth at once, and the margins that come of it are held against the interval.
"""

from __future__ import annotations

import json
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from plays.core.check.bands import Band, _word, bands, verdicts_at
from plays.core.defence.uncertain import Constants, draws, range_of
from plays.core.defence.verdict import How, Tactic, Word, against
from plays.core.motion.clock import timeline
from plays.core.motion.pace import pace_of
from plays.core.moves.moves import mirror
from plays.core.play import AgeGroup, Play
from tests.plays.core.demo_plays import DEMO
from tests.plays.core.samples import box, down_screen

PLAYS = (*DEMO[:3], box(), down_screen())


@cache
def band_of(index: int) -> tuple[Band, ...]:
    play = PLAYS[index]
    return bands(play, Tactic.CHASE, pace_of(play.level))


@pytest.mark.parametrize("index", range(len(PLAYS)))
def test_with_all_off_by_a_fifth_the_interval_holds_85_of_100_margins(index: int) -> None:
    play, names = PLAYS[index], Constants.uncertain()
    chance = np.random.default_rng(1000 + index)
    factors = [
        dict(zip(names, chance.uniform(0.8, 1.2, len(names)).tolist(), strict=True))
        for _ in range(100)
    ]
    drawn = verdicts_at(play, Tactic.CHASE, Constants(pace_of(play.level)), {}, factors)
    found = band_of(index)
    held = [
        one.low <= verdict.margin <= one.high
        for verdicts in drawn
        for one, verdict in zip(found, verdicts, strict=True)
    ]
    assert np.mean(held) >= 0.85


@pytest.mark.parametrize("index", range(len(PLAYS)))
def test_the_word_is_that_of_most_draws(index: int) -> None:
    for band in band_of(index):
        assert band.low <= band.median <= band.high
        assert band.open + band.contested + band.covered + band.late == pytest.approx(1.0)
        if band.word is Word.OPEN:
            assert band.open >= 0.5
        if band.word is Word.COVERED:
            assert band.open + band.contested < 0.5
        assert Band.from_json(json.loads(json.dumps(band.to_json()))).word is band.word


@pytest.mark.parametrize(
    ("shares", "word"),
    [
        ((0.5, 0.5, 0.0, 0.0), Word.OPEN),
        ((0.49, 0.51, 0.0, 0.0), Word.CONTESTED),
        ((0.3, 0.2, 0.5, 0.0), Word.CONTESTED),
        ((0.2, 0.29, 0.51, 0.0), Word.COVERED),
        ((0.5, 0.0, 0.0, 0.5), Word.OPEN),
        ((0.3, 0.19, 0.0, 0.51), Word.PAST),
    ],
)
def test_half_of_the_draws_make_a_word(shares: tuple[float, ...], word: Word) -> None:
    open_, contested, covered, late = shares
    band = replace(
        band_of(0)[0], open=open_, contested=contested, covered=covered, late=late, word=Word.PAST
    )
    assert _word(band, Word.PAST) is word


def test_draws_are_the_same_every_time_and_lie_in_their_ranges() -> None:
    assert draws(16, seed=3) == draws(16, seed=3) != draws(16, seed=4)
    for name in Constants.uncertain():
        low, high = range_of(name)
        values = [each[name] for each in draws(64)]
        assert low <= min(values) <= 0.97
        assert 1.03 <= max(values) <= high
        assert np.median(values) == pytest.approx(1.0, abs=0.03)


TACTICS = (Tactic.CHASE, Tactic.TIGHT, Tactic.SWITCH, Tactic.SAG)


def words_of(play: Play, how: How) -> list[Word]:
    line = timeline(play, pace_of(AgeGroup.U16))
    judged = against([line] * len(TACTICS), TACTICS, how=how)
    return [verdict.word for verdicts in judged for verdict in verdicts]


@pytest.mark.parametrize("play", DEMO, ids=lambda play: play.key)
def test_a_step_four_times_as_fine_flips_no_word(play: Play) -> None:
    usual = How(curves=0)
    fine = How(step=usual.step / 4.0, points=usual.points * 2, curves=0)
    assert words_of(play, usual) == words_of(play, fine)


@pytest.mark.parametrize("play", DEMO, ids=lambda play: play.key)
def test_a_mirror_changes_no_word(play: Play) -> None:
    how = How(curves=0)
    assert words_of(play, how) == words_of(mirror(play), how)
