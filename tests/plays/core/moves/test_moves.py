"""Mirror, slide and turn: exact, undone by themselves, and nothing left behind."""

from __future__ import annotations

from dataclasses import replace

import pytest

from plays.core.court.courts import court
from plays.core.document.file import content_hash, read_play, write_play
from plays.core.moves.moves import (
    NoSpotError,
    OffTheLineError,
    OwnBaselineError,
    mirror,
    slide,
    turn,
)
from plays.core.moves.off_court import off_court, pull_in, texts_to_reread
from plays.core.moves.origins import MoveStep, copied, step_words, steps
from plays.core.play import (
    Counter,
    Defence,
    Defender,
    Formation,
    Look,
    Origin,
    Phase,
    Play,
    Point,
    RuleSet,
    Situation,
    Spot,
    Start,
)
from shared.core.language import ENGLISH
from tests.plays.core.samples import cut, thrown_in

PLAY = thrown_in(
    "lantern",
    ((7.8, 8.325), (5.5, 8.3), (4.0, 8.3), (2.5, 8.3), (0.0, 5.8)),
    Phase(
        "p1",
        "Right stack opens",
        (
            cut("a", "2", (6.9, 1.0), teach=("Off the left shoulder.",)),
            cut("b", "4", (1.0, 6.0), (-5.5, 5.8)),
        ),
    ),
    name="Lantern left",
    formation=Formation.LINE_ACROSS,
    looks=(Look("l1", "1", "2", "a", condition="2 is free on the right", at=Point(6.9, 1.2)),),
    counters=(
        Counter(
            "c",
            Defence.SWITCH,
            "p1",
            "Slip LEFT.",
            replace=(cut("b", "4", (2.0, 3.0)),),
            add=(cut("d", "5", (2.45, 2.8), teach=("Seal right.",)),),
            looks=(Look("l2", "1", "5", "d", condition="left hand", at=Point(2.4, 2.6)),),
        ),
    ),
    defenders=(Defender("2", Point(5.4, 7.4)), Defender("5")),
    call="Right {5}",
    use="Against a team that trails on the left, near side",
    teach=("Left foot first",),
    errors=("Leaves right away",),
    cautions=("Mind the wall behind the right corner",),
)


def test_mirror_moves_every_place_and_every_text() -> None:
    moved = mirror(PLAY)
    assert moved.spot == Spot("sideline", "left", 8.325)
    assert moved.start_of("1") == Point(-7.8, 8.325)
    assert moved.start_of("5") == Point(0.0, 5.8)
    phase = moved.phases[0]
    assert phase.title == "Left stack opens"
    assert phase.actions[0].path == (Point(-6.9, 1.0),)
    assert phase.actions[0].teach == ("Off the right shoulder.",)
    assert phase.actions[1].path == (Point(-1.0, 6.0), Point(5.5, 5.8))
    assert moved.looks[0].at == Point(-6.9, 1.2)
    assert moved.looks[0].condition == "2 is free on the left"
    counter = moved.counters[0]
    assert counter.says == "Slip RIGHT."
    assert counter.replace[0].path == (Point(-2.0, 3.0),)
    assert counter.add[0].path == (Point(-2.45, 2.8),)
    assert counter.add[0].teach == ("Seal left.",)
    assert counter.looks[0].at == Point(-2.4, 2.6)
    assert counter.looks[0].condition == "right hand"
    assert moved.defenders == (Defender("2", Point(-5.4, 7.4)), Defender("5"))
    assert moved.use == "Against a team that trails on the right, near side"
    assert moved.teach == ("Right foot first",)
    assert moved.errors == ("Leaves right away",)
    assert moved.cautions == ("Mind the wall behind the left corner",)
    assert (moved.name, moved.call) == (PLAY.name, PLAY.call)  # names are the coach's
    assert moved.origin == Origin(content_hash(PLAY), "mirror")


def test_a_mirrored_zero_is_written_as_zero() -> None:
    assert b"-0" not in write_play(mirror(replace(PLAY, starts=(Start("5", Point(0.0, 5.8)),))))


def test_slide_moves_all_as_far_as_the_spot() -> None:
    moved = slide(PLAY, 5.8)
    assert moved.spot == Spot("sideline", "right", 5.8)
    assert moved.start_of("1") == Point(7.8, 5.8)
    assert moved.phases[0].actions[1].path == (Point(1.0, 3.475), Point(-5.5, 3.275))
    assert moved.counters[0].looks[0].at == Point(2.4, 0.075)
    assert moved.defenders[0].at == Point(5.4, 4.875)
    assert moved.use == PLAY.use
    assert moved.origin == Origin(content_hash(PLAY), "slide 8.325 5.8")


def test_slide_tells_all_who_leave_the_court() -> None:
    moved = slide(PLAY, 5.8)
    assert [(found.role, found.action, found.metres) for found in off_court(moved)] == [
        ("2", "a", 1.525),
        ("2", None, 1.325),
    ]
    assert [found.sentence(ENGLISH) for found in off_court(moved)] == [
        "The 2 runs 1.52 m off the court.",
        "The 2 would catch the ball 1.32 m off the court.",
    ]
    assert read_play(write_play(moved)) == moved  # a normal document all the same
    assert off_court(PLAY) == ()


def test_starts_and_counters_off_the_court_are_told() -> None:
    found = off_court(slide(PLAY, 2.0))
    assert [one.role for one in found if one.action is None] == ["5", "2", "5"]
    assert {one.action for one in found if one.counter == "c"} == {"b", "d", None}


def test_what_left_the_court_can_be_pulled_in() -> None:
    out = slide(PLAY, 2.0)
    mended = pull_in(out)
    assert off_court(mended) == ()
    assert mended.phases[0].actions[0].path == (Point(6.9, 0.5),)
    assert mended.start_of("1") == out.start_of("1")
    assert mended.start_of("2") == out.start_of("2")
    assert [step_words(step, ENGLISH) for step in steps(mended)] == [
        "moved along the line, from 8.325 m to 2 m",
        "pulled in where it left the court",
    ]
    assert pull_in(mended) is mended
    assert pull_in(PLAY) is PLAY


def test_beyond_half_is_told_but_not_of_a_press_break() -> None:
    moved = slide(PLAY, 14.2)
    assert {one.kind for one in off_court(moved)} == {"backcourt"}
    assert [one.role for one in off_court(moved)] == ["2", "3", "4"]
    assert off_court(replace(moved, situation=Situation.PRESS_BREAK)) == ()


def test_slide_along_the_baseline_goes_across() -> None:
    turned = turn(PLAY)
    moved = slide(turned, 5.0)
    before, after = turned.start_of("2"), moved.start_of("2")
    assert turned.spot is not None
    assert after == pytest.approx((before.x + 5.0 - turned.spot.along, before.y))


def test_turn_keeps_depth_and_the_way_to_the_basket() -> None:
    moved = turn(PLAY)
    assert moved.spot == Spot("baseline", "right", 3.364)  # 2.45 m and 3 ft: ours under FIBA
    assert moved.situation is Situation.BASELINE
    assert moved.start_of("1") == Point(3.364, -0.3)
    # 2 stood 2.0 m in from the sideline, 0.025 m nearer the baseline than the spot
    assert moved.start_of("2") == Point(3.339, 2.0)
    assert moved.start_of("4") == Point(3.339, 5.0)
    assert moved.phases[0].actions[0].path == (Point(6.9, 1.0),)  # the corner is a corner
    assert moved.formation is PLAY.formation
    assert moved.use == PLAY.use
    assert moved.origin == Origin(content_hash(PLAY), "turn 8.325 3.364")


@pytest.mark.parametrize(
    ("rule_set", "along"),
    [
        (RuleSet.NFHS, 9 * 0.3048),  # 7-5-3 V: 3 ft outside the lane line
        (RuleSet.NBA, 11 * 0.3048),  # Rule 1 V: baseline marks
    ],
)
def test_turn_goes_to_the_place_of_the_book(rule_set: RuleSet, along: float) -> None:
    moved = turn(replace(PLAY, court=rule_set))
    assert moved.spot is not None
    assert moved.spot.along == pytest.approx(along, abs=0.0005)


def test_turn_goes_back_to_where_it_came_from() -> None:
    low = slide(PLAY, 6.5)
    assert turn(turn(low)) == low
    around = mirror(turn(mirror(turn(PLAY))))
    assert around == PLAY


def test_a_baseline_play_turns_to_the_throw_in_mark() -> None:
    play = replace(turn(PLAY), origin=None)
    moved = turn(play)
    assert moved.spot == Spot("sideline", "right", 8.325)  # FIBA 2.5.6 V
    assert turn(moved) == play


def test_turn_to_a_place_of_choice() -> None:
    moved = turn(PLAY, 4.2)
    assert moved.spot == Spot("baseline", "right", 4.2)
    assert turn(moved) == PLAY


def test_without_a_spot_there_is_no_slide_and_no_turn() -> None:
    half_court = replace(PLAY, spot=None, thrower=None)
    with pytest.raises(NoSpotError, match="Lantern left"):
        turn(half_court)
    with pytest.raises(NoSpotError, match="Lantern left"):
        slide(half_court, 5)
    assert mirror(mirror(half_court)) == half_court


def _from_the_far_end() -> Play:
    spot = Spot("baseline", "right", 2.6, far=True)
    starts = (Start("1", Point(2.6, 28.3)), *PLAY.starts[1:])
    return replace(PLAY, situation=Situation.PRESS_BREAK, spot=spot, starts=starts)


def test_from_the_own_baseline_a_play_is_mirrored_and_slid() -> None:
    play = _from_the_far_end()
    other = mirror(play)
    assert other.spot == Spot("baseline", "left", 2.6, far=True)
    assert other.start_of("1") == Point(-2.6, 28.3)
    moved = slide(play, 4.0)
    assert moved.spot == Spot("baseline", "right", 4.0, far=True)
    assert moved.start_of("1") == Point(4.0, 28.3)
    assert moved.start_of("2") == Point(6.9, 8.3)
    assert slide(mirror(moved), 2.6) == other


def test_from_the_own_baseline_there_is_no_turn() -> None:
    with pytest.raises(OwnBaselineError, match=r"Lantern left.*own baseline"):
        turn(_from_the_far_end())


def test_from_the_own_baseline_the_whole_court_is_used() -> None:
    play = replace(_from_the_far_end(), situation=Situation.LAST_SHOT)
    deep = replace(play, starts=(*play.starts[:4], Start("5", Point(0.0, 25.0))))
    assert off_court(deep) == ()
    near = replace(deep, spot=PLAY.spot, starts=(PLAY.starts[0], *deep.starts[1:]))
    assert [(one.kind, one.role) for one in off_court(near)] == [("backcourt", "5")]


@pytest.mark.parametrize("along", [-0.1, 28.1, float("nan"), float("inf")])
def test_a_spot_off_the_line_is_refused(along: float) -> None:
    with pytest.raises(OffTheLineError, match="sideline"):
        slide(PLAY, along)


def test_a_spot_off_the_baseline_is_refused() -> None:
    with pytest.raises(OffTheLineError, match="baseline"):
        turn(PLAY, 7.6)


def test_a_slide_to_the_same_place_changes_nothing() -> None:
    assert slide(PLAY, 8.325) is PLAY


def test_slides_add_up() -> None:
    assert slide(slide(PLAY, 7.0), 6.0) == slide(PLAY, 6.0)
    assert slide(slide(PLAY, 7.0), 8.325) == PLAY


def test_the_origin_of_a_play_edited_after_the_move_is_kept() -> None:
    edited = replace(mirror(PLAY), use="Late in the game")
    back = mirror(edited)
    assert back.origin == Origin(content_hash(PLAY), "mirror; mirror")
    assert mirror(back) == edited


def test_the_moves_of_a_chain_can_be_told() -> None:
    moved = turn(slide(mirror(PLAY), 6.0))
    told = [step_words(step, ENGLISH) for step in steps(moved)]
    assert told == [
        "moved along the line, from 8.325 m to 6 m",
        "turned between sideline and baseline",
        "mirrored to the other side",
    ]
    assert steps(PLAY) == ()
    imported = replace(PLAY, origin=Origin("x", "from a napkin"))
    assert [step_words(step, ENGLISH) for step in steps(imported)] == ["from a napkin"]


def test_sentences_to_read_again() -> None:
    assert texts_to_reread(PLAY, "mirror") == ()
    told = texts_to_reread(PLAY, "turn")
    assert "Off the left shoulder." in told
    assert "Leaves right away" not in told
    doubtful = replace(PLAY, teach=("Go right after the screen",))
    assert texts_to_reread(doubtful, "mirror") == ("Go right after the screen",)


def test_a_copy_says_where_it_was_taken_and_what_it_came_from() -> None:
    copy = copied(PLAY, "Harbour BC; north, Gangway 2")
    assert copy.origin == Origin(content_hash(PLAY), "copy of Harbour BC, north, Gangway 2")
    (step,) = steps(copy)
    assert step_words(step, ENGLISH) == "copied from Harbour BC, north, Gangway 2"
    again = copied(mirror(copy), "Ada")
    assert again.origin is not None
    assert again.origin.content == content_hash(PLAY)
    assert [step_words(each, ENGLISH) for each in steps(again)][-1] == "copied from Ada"
    assert len(steps(again)) == 3


@pytest.mark.parametrize(
    ("step", "words"),
    [
        (MoveStep("mirror"), "mirrored to the other side"),
        (MoveStep("slide", "8.325", "5.8"), "moved along the line, from 8.325 m to 5.8 m"),
        (MoveStep("court", "FIBA", "NBA"), "carried from the FIBA court to the NBA court"),
        (MoveStep("pull in"), "pulled in where it left the court"),
        (MoveStep("from a napkin"), "from a napkin"),
    ],
)
def test_a_move_in_words(step: MoveStep, words: str) -> None:
    assert step_words(step, ENGLISH) == words


FLOOR = court(RuleSet.FIBA)  # 15 m wide and 28 m long, FIBA 2.1


@pytest.mark.parametrize(
    ("off", "inside"),
    [
        ((7.5, 3.0), (7.5, 3.0)),  # on the line: in
        ((7.6, 3.0), (7.0, 3.0)),
        ((-9.0, 3.0), (-7.0, 3.0)),
        ((2.0, -0.1), (2.0, 0.5)),
        ((2.0, 28.4), (2.0, 27.5)),
        ((7.2, -0.1), (7.2, 0.5)),  # across it was in, if nearer the line than the margin
        ((8.0, 29.0), (7.0, 27.5)),
    ],
)
def test_only_what_is_off_is_pulled_in_by_half_a_metre(
    off: tuple[float, float], inside: tuple[float, float]
) -> None:
    play = replace(PLAY, starts=(PLAY.starts[0], Start("5", Point(*off))))
    assert pull_in(play).start_of("5") == Point(*inside)
    assert pull_in(play, 0.25) != pull_in(play) or off == inside


@pytest.mark.parametrize(
    ("place", "metres"),
    [((8.0, 3.0), 0.5), ((8.0, -0.75), 0.75), ((-7.5, 28.25), 0.25), ((7.5, 0.0), None)],
)
def test_how_far_off_is_told_by_the_worse_axis(
    place: tuple[float, float], metres: float | None
) -> None:
    play = replace(
        PLAY, starts=(PLAY.starts[0], Start("5", Point(*place))), situation=Situation.PRESS_BREAK
    )
    found = [one.metres for one in off_court(play) if one.action is None and one.role == "5"]
    assert found == ([] if metres is None else [metres])
