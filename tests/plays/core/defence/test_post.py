"""A post player and the own defender's place: a straight pass past who is behind, a lob over who
is in front. That each takes away the one and gives the other is common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from plays.core.check.check import check
from plays.core.defence.guarding import STANDARD
from plays.core.defence.margin import thrown_over
from plays.core.defence.screens import seals
from plays.core.defence.verdict import Tactic, Verdict, against
from plays.core.drawing.strip import count_strip
from plays.core.motion.clock import timeline
from plays.core.motion.pace import pace_of
from plays.core.motion.timeline import Timeline
from plays.core.play import (
    AgeGroup,
    Cut,
    Defence,
    DefenceRead,
    Defender,
    Look,
    Moment,
    PassKind,
    Phase,
    Play,
    Point,
    Stance,
)
from tests.plays.core.samples import after, cut, thrown_in

U16 = pace_of(AgeGroup.U16)


def post(cut_: Cut | None = Cut.SEAL, stance: Stance = Stance.FRONT) -> Play:
    """5 posts up on the ball side and goes to the rim; the thrower's defender is at the ball."""
    ask = cut("ask", "5", (3.2, 3.2), cut=Cut.POST_UP)
    go = cut("go", "5", (1.5, 2.3), cut=cut_, cues=(after(Moment.END, "ask", 0.5),))
    return thrown_in(
        "post",
        ((7.8, 8.325), (-6.0, 5.0), (-6.9, 1.6), (-2.4, 8.4), (2.4, 4.0)),
        Phase("p", "Post", (ask, go)),
        looks=(
            Look("entry", "1", "5", "ask", PassKind.OVERHEAD),
            Look("lob", "1", "5", "go", PassKind.LOB),
        ),
        defenders=(Defender("1", at=Point(6.4, 9.3)), Defender("5", stance=stance)),
    )


def judged(play: Play) -> dict[str, Verdict]:
    (verdicts,) = against([timeline(play, U16)], [Tactic.CHASE])
    return {verdict.look: verdict for verdict in verdicts}


def reading(one: Defence, other: Defence) -> Play:
    """The entry against one place of the 5's defender, the lob against the other; none is drawn."""
    plain = post()
    entry, lob = plain.looks
    looks = (
        replace(entry, read=DefenceRead(one, ("5",))),
        replace(lob, read=DefenceRead(other, ("5",))),
    )
    return replace(plain, looks=looks, defenders=plain.defenders[:1])


def test_a_read_decides_and_each_look_is_judged_in_the_defence_that_it_reads() -> None:
    right = judged(reading(Defence.BEHIND, Defence.FRONT))
    assert right["entry"].there
    assert right["lob"].there
    assert [right[look].tactic for look in ("entry", "lob")] == [Tactic.BEHIND, Tactic.FRONT]
    wrong = judged(reading(Defence.FRONT, Defence.BEHIND))
    assert not wrong["entry"].there
    assert not wrong["lob"].there


def test_a_read_is_one_glance_for_all_the_looks_that_it_decides() -> None:
    """Who has seen where the defender stands does not look again for the other answer."""
    read = timeline(reading(Defence.BEHIND, Defence.FRONT), U16).windows
    order = timeline(replace(post(), defenders=post().defenders[:1]), U16).windows
    assert order[1].in_turn >= order[0].in_turn + U16.glance - 1e-9
    assert read[1].in_turn == pytest.approx(max(read[1].earliest, 0.0))
    assert read[0].in_turn == order[0].in_turn


def test_an_answer_that_is_covered_in_its_own_defence_is_said() -> None:
    found = check(reading(Defence.FRONT, Defence.BEHIND), age=AgeGroup.U16).findings
    said = [each.sentence for each in found if each.code == "look_covered"]
    assert any("is the answer to a fronting defence" in sentence for sentence in said)
    good = check(reading(Defence.BEHIND, Defence.FRONT), age=AgeGroup.U16)
    assert all(each.code != "look_covered" for each in good.findings)
    strip = count_strip(good.line, good)
    assert [bar.read for row in strip.rows for bar in row.looks] == [Defence.BEHIND, Defence.FRONT]


def test_behind_gives_the_pass_and_in_front_gives_the_lob() -> None:
    behind, front = judged(post(stance=Stance.BETWEEN)), judged(post())
    assert behind["entry"].there
    assert not behind["lob"].there
    assert front["lob"].there
    assert not front["entry"].there


def test_who_seals_has_the_defender_in_front_on_the_back() -> None:
    """Held up no longer than by a screen, and only on the way round whoever seals."""
    sealed, ran = judged(post())["lob"], judged(post(Cut.POP))["lob"]
    assert [held.screener for held in sealed.held] == ["5"]
    assert 0.0 < sealed.held[0].seconds <= U16.screened
    assert sealed.margin > ran.margin
    behind = judged(post(stance=Stance.BETWEEN))["lob"]
    assert behind.held == ()


def test_a_seal_stands_from_its_start_to_its_end() -> None:
    line = timeline(post(), U16)
    times, guards = np.array([0.0]), np.arange(5)[None, :]
    (held,) = seals(line, times, guards)
    move = line.move("go")
    assert move is not None
    assert (held.begin, held.end) == pytest.approx((move.start, move.end))
    assert held.at == pytest.approx(3.2 + 3.2j)
    assert held.index == 4
    assert seals(timeline(post(Cut.POP), U16), times, guards) == ()
    swapped = np.array([[0, 1, 2, 4, 3]])
    assert [each.index for each in seals(line, times, swapped)] == [3]


@pytest.mark.parametrize(
    ("before", "lost"),
    [(0.8, 1.5), (2.6, U16.turn_180), (-1.0, 0.0)],
    ids=["near", "far", "behind"],
)
def test_under_a_lob_who_is_in_front_loses_time_and_who_is_behind_none(
    before: float, lost: float
) -> None:
    line: Timeline = timeline(post(), U16)
    window = line.window("lob")
    way = (window.target - window.origin) / abs(window.target - window.origin)
    places = np.full((1, 5), window.target - before * way)
    found = thrown_over(window, places, np.arange(5)[None, :], U16, STANDARD)
    assert found[0, 4] == pytest.approx(lost)
    assert (found[0, :4] == 0.0).all()
