"""Over and under a screen. That a defender who goes under gives up the catch outside, and one who
goes over on the cutter's back the way to the basket, is common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from plays.core.defence.guarding import STANDARD
from plays.core.defence.march import march
from plays.core.defence.stance import script
from plays.core.defence.verdict import How, Scheme, Tactic, Verdict, against
from plays.core.document.file import read_play, write_play
from plays.core.document.form import problems
from plays.core.drawing.strip import count_strip
from plays.core.motion.clock import timeline
from plays.core.motion.pace import pace_of
from plays.core.play import AgeGroup, Defence, DefenceRead, Defender, Look, Phase, Play, Point
from plays.core.shorthand.read import read
from plays.core.shorthand.write import shorthand
from plays.core.words.part import part_of
from shared.core.language import ENGLISH
from tests.languages import language
from tests.plays.core.samples import cut, on_set, screen, thrown_in

U16 = pace_of(AgeGroup.U16)
OUTSIDE, INSIDE = (5.8, 6.4), (1.2, 2.6)
PIN = (4.4, 4.2)


def pinned(end: tuple[float, float]) -> Play:
    """2 comes out of the corner off a down screen of the 4, and catches outside or in the lane."""
    over_it = (4.6, 5.0)
    rest = (
        cut("stay3", "3", (-2.0, 8.6), easy=True),
        cut("stay5", "5", (-6.8, 1.9), easy=True),
    )
    pin = screen("pin", "4", "2", PIN)
    out = cut("out", "2", over_it, end, cues=(on_set("pin"),))
    return thrown_in(
        "pinned",
        ((7.8, 8.325), (6.0, 2.0), (-2.6, 8.4), (2.4, 5.8), (-6.6, 1.6)),
        Phase("p", "Down screen", (pin, out, *rest)),
        looks=(Look("catch", "1", "2", "out"),),
        defenders=(Defender("1", at=Point(6.4, 9.3)),),
    )


def judged(play: Play, tactic: Tactic | Scheme) -> Verdict:
    ((verdict,),) = against([timeline(play, U16)], [tactic])
    return verdict


def test_under_gives_the_catch_outside_and_over_the_way_to_the_basket() -> None:
    outside, inside = pinned(OUTSIDE), pinned(INSIDE)
    assert judged(outside, Tactic.UNDER).margin > judged(outside, Tactic.OVER).margin + 0.1
    assert judged(inside, Tactic.OVER).margin > judged(inside, Tactic.UNDER).margin + 0.1


def test_who_goes_over_comes_past_on_the_trail_and_who_goes_under_behind_the_screener() -> None:
    line = timeline(pinned(OUTSIDE), U16)
    screener, basket = complex(*PIN), complex(0.0, 1.575)
    ways = {}
    for tactic in (Tactic.OVER, Tactic.UNDER):
        wanted = script(line, Scheme(tactic), still_out=True)
        (marking,) = march([wanted])
        held = float(marking.held[-1].sum()) if marking.obstacles else 0.0
        side = ((marking.places[:, 1] - screener) * np.conj(basket - screener)).real
        passing = np.abs(marking.places[:, 1] - screener) < 1.5
        ways[tactic] = held, float(side[passing].max() / abs(basket - screener))
    assert ways[Tactic.OVER][0] > 0.1  # the screen has held this one up
    assert ways[Tactic.UNDER][0] == 0.0
    assert ways[Tactic.UNDER][1] == pytest.approx(STANDARD.under, abs=0.4)
    assert ways[Tactic.OVER][1] < ways[Tactic.UNDER][1] - 0.2


def test_only_who_is_named_goes_under() -> None:
    play = pinned(OUTSIDE)
    named, other = (judged(play, Scheme(Tactic.UNDER, (role,))) for role in ("2", "3"))
    assert named.margin == pytest.approx(judged(play, Tactic.UNDER).margin, abs=1e-6)
    assert other.margin == pytest.approx(judged(play, Tactic.CHASE).margin, abs=1e-6)


@pytest.mark.parametrize("tactic", [Tactic.OVER, Tactic.UNDER])
@pytest.mark.parametrize("end", [OUTSIDE, INSIDE])
def test_half_the_step_moves_no_margin_by_two_hundredths(
    tactic: Tactic, end: tuple[float, float]
) -> None:
    line = timeline(pinned(end), U16)
    (coarse,), (fine,) = (against([line], [tactic], how=How(step=s))[0] for s in (0.02, 0.01))
    assert coarse.margin == pytest.approx(fine.margin, abs=0.02)


def test_the_mirrored_play_is_judged_alike() -> None:
    play = pinned(OUTSIDE)

    def flipped(point: Point) -> Point:
        return Point(-point.x, point.y)

    mirrored = replace(
        play,
        spot=replace(play.spot, side="left") if play.spot else None,
        starts=tuple(replace(start, at=flipped(start.at)) for start in play.starts),
        phases=(
            replace(
                play.phases[0],
                actions=tuple(
                    replace(each, path=tuple(map(flipped, each.path)))
                    for each in play.phases[0].actions
                ),
            ),
        ),
    )
    for tactic in (Tactic.OVER, Tactic.UNDER):
        assert judged(mirrored, tactic).margin == pytest.approx(judged(play, tactic).margin)


def reading(defence: Defence) -> Play:
    play = pinned(OUTSIDE)
    read_ = DefenceRead(defence, ("2",))
    return replace(play, looks=(replace(play.looks[0], read=read_),))


@pytest.mark.parametrize("defence", [Defence.OVER, Defence.UNDER])
def test_a_look_that_reads_it_is_judged_in_it_whatever_is_chosen(defence: Defence) -> None:
    play = reading(defence)
    alone = judged(pinned(OUTSIDE), Scheme(Tactic(defence.value), ("2",))).margin
    for tactic in (Tactic.CHASE, Tactic.SWITCH):
        verdict = judged(play, tactic)
        assert verdict.tactic.value == defence.value
        assert verdict.margin == pytest.approx(alone)


def test_the_read_is_kept_by_the_file_and_the_text_and_told_in_both_languages() -> None:
    play = reading(Defence.UNDER)
    assert problems(play) == ()
    assert read_play(write_play(play)).looks == play.looks
    text = shorthand(play)
    assert "against under on 2" in text
    again = read(text).play
    assert again is not None
    assert again.looks[0].read == DefenceRead(Defence.UNDER, ("2",))
    assert "When your defender goes under the screen." in told(play, "2")
    assert "When the defender of the 2 goes under the screen." in told(play, "1")
    spanish = part_of(play, "2", {}, language("es"))
    assert "When your defender goes under the screen." not in spanish.sentences()
    (look,) = (look for row in count_strip(timeline(play, U16)).rows for look in row.looks)
    assert look.read is Defence.UNDER


def told(play: Play, role: str) -> tuple[str, ...]:
    return part_of(play, role, {}, ENGLISH).sentences()  # type: ignore[arg-type]


@pytest.mark.parametrize("whose", [("3",), ()])
def test_nobody_goes_under_a_screen_that_is_not_there(whose: tuple[str, ...]) -> None:
    play = pinned(OUTSIDE)
    if not whose:
        actions = tuple(a for a in play.phases[0].actions if a.id != "pin")
        actions = tuple(replace(a, cues=()) for a in actions)
        play = replace(play, phases=(replace(play.phases[0], actions=actions),))
    read_ = DefenceRead(Defence.UNDER, whose)  # type: ignore[arg-type]
    faulty = replace(play, looks=(replace(play.looks[0], read=read_),))
    assert "no_screen" in {fault.code for fault in problems(faulty)}
