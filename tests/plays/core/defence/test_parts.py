"""What a margin is made of is told so that a coach can add it up."""

from __future__ import annotations

import re

import pytest

from plays.core.check.check import check
from plays.core.defence.parts import parts_of
from plays.core.play import AgeGroup, Play
from shared.core.language import ENGLISH
from tests.languages import language
from tests.plays.core.demo_plays import DEMO

SUM = r"([\d.,]+) \+ ([\d.,]+) − ([\d.,]+) = (−?[\d.,]+) s"


@pytest.mark.parametrize("play", DEMO[:6], ids=[play.key for play in DEMO[:6]])
def test_reacting_and_running_less_the_flight_is_the_margin(play: Play) -> None:
    """Plain arithmetic: each figure is rounded to a hundredth, so the sum is off by two at most."""
    for verdict in check(play, age=AgeGroup.U16).verdicts:
        *_, last = parts_of(verdict, {}, ENGLISH)
        found = re.match(SUM, last)
        if found:
            reaction, run, flight, margin = (float(n.replace("−", "-")) for n in found.groups())
            assert reaction + run - flight == pytest.approx(margin, abs=0.021)
            assert margin == pytest.approx(verdict.margin, abs=0.0051)


def test_they_are_told_in_the_readers_language_with_its_decimal_sign() -> None:
    report = check(DEMO[0], age=AgeGroup.U16)
    told = [list(parts_of(verdict, {}, language("es"))) for verdict in report.verdicts]
    sums = [each[-1] for each in told if re.match(SUM, each[-1])]
    assert sums
    assert all("," in each and "." not in each for each in sums)
