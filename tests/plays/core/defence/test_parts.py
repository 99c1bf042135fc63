"""What a margin is made of is told so that a coach can add it up."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import pytest

from plays.core.check.check import check
from plays.core.defence.parts import parts_of
from plays.core.defence.verdict import Held, Verdict
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


def verdict_with(margin: float, held: tuple[Held, ...] = (), **parts: Any) -> Verdict:
    """The verdict on some look, with parts of our own: the rest of it is not told."""
    found = check(DEMO[0], age=AgeGroup.U16).verdicts[0]
    return replace(found, margin=margin, turn=2.5, held=held, parts=replace(found.parts, **parts))


def test_each_part_has_its_sentence_and_who_holds_is_named() -> None:
    verdict = verdict_with(
        0.25,
        (Held("4", 0.5), Held("5", 0.3)),
        stopper="3",
        flight=0.6,
        reaction=0.35,
        run=0.5,
        metres=2.0,
        reach=0.7,
        along=1.5,
        length=4.0,
    )
    assert list(parts_of(verdict, {"3": "Runa", "4": "Ida"}, ENGLISH)) == [
        "With every number as the table has it:",
        "Thrown at 2.5 s, the ball is 1.5 m on its way after 0.60 s.",
        "The defender of Runa is 2.0 m from there; an arm and a step reach 0.7 m.",
        "Reacting takes 0.35 s, the run 0.50 s.",
        "Until then Ida has held that defender up for 0.50 s.",
        "Until then 5 has held that defender up for 0.30 s.",
        "0.35 + 0.50 − 0.60 = 0.25 s of margin",
    ]


def test_a_body_in_the_way_has_no_sum_and_nobody_near_is_said() -> None:
    blocked = verdict_with(-0.6, stopper="2", reaction=0.0, run=0.0)
    assert list(parts_of(blocked, {}, ENGLISH))[-1] == (
        "The body of the defender of 2 is in its way."
    )
    assert list(parts_of(verdict_with(5.1), {}, ENGLISH)) == ["No defender can be there."]
    assert len(list(parts_of(verdict_with(5.0, stopper="2", reaction=0.1), {}, ENGLISH))) > 1


@pytest.mark.parametrize(("along", "says"), [(3.15, "at the catch"), (3.05, "3.0 m on its way")])
def test_the_last_part_of_the_way_counts_as_the_catch(along: float, says: str) -> None:
    """Our own rule: from nine tenths of the way, less half a metre, on: 3.1 m of 4."""
    told = list(parts_of(verdict_with(0.1, along=along, length=4.0), {}, ENGLISH))
    assert f"the ball is {says} after" in told[1]
