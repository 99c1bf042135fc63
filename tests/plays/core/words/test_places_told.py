"""Two people never start with the same words, and who moves is never told to be where they were."""

from __future__ import annotations

from dataclasses import replace
from math import cos, dist, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coachbook.demo.files import demo_plays
from plays.core.moves.variants import all_calls
from plays.core.play import ROLES, Cut, Phase, Play, Point, Start
from plays.core.sequence.course import final_places
from plays.core.words.part import part_of
from tests.languages import language
from tests.plays.core.samples import cut, thrown_in
from tests.plays.core.words.spoken_plays import everything
from tests.strategies import sound_plays

PLAYS = [*(call for play in demo_plays() for call in all_calls(play)), everything()]
places = st.builds(Point, st.floats(-7, 7), st.floats(0.5, 13.5))


def starts_of(play: Play, code: str) -> set[tuple[str, ...]]:
    return {part_of(play, role, None, language(code)).start for role in ROLES}


@pytest.mark.parametrize("code", ["en", "es"])
@pytest.mark.parametrize("play", PLAYS, ids=lambda play: play.key)
def test_nobody_starts_with_the_words_of_another(play: Play, code: str) -> None:
    assert len(starts_of(play, code)) == len(ROLES)


@given(st.lists(places, min_size=5, max_size=5), st.sampled_from([0.0, 0.3, 0.7]))
def test_nobody_starts_with_the_words_of_another_wherever_they_stand(
    found: list[Point], tight: float
) -> None:
    """Anywhere, and drawn together as in a tight stack."""
    middle = found[0]
    drawn = [
        Point(p.x * (1 - tight) + middle.x * tight, p.y * (1 - tight) + middle.y * tight)
        for p in found
    ]
    starts = tuple(Start(role, at) for role, at in zip(ROLES, drawn, strict=True))
    assert len(starts_of(replace(everything(), starts=starts), "en")) == len(ROLES)


@pytest.mark.parametrize("play", PLAYS, ids=lambda play: play.key)
def test_who_ends_elsewhere_is_not_told_the_place_of_the_start(play: Play) -> None:
    complaints(play)


@given(sound_plays())
def test_who_ends_elsewhere_in_any_play_is_not_told_the_place_of_the_start(play: Play) -> None:
    complaints(play)


def complaints(play: Play) -> None:
    final = final_places(play)
    for role in ROLES:
        part = part_of(play, role)
        if dist(final[role], play.start_of(role)) >= 0.6:
            begin = part.start[0].removeprefix("Start ").removeprefix("at ")
            assert part.ending.removeprefix("You end ").removeprefix("at ") != begin


@given(places, st.floats(0, 6.3), st.sampled_from(list(Cut)))
def test_a_move_of_60_centimetres_is_told_as_one(here: Point, angle: float, style: Cut) -> None:
    there = Point(here.x + 0.6 * cos(angle), here.y + 0.6 * sin(angle))
    play = thrown_in(
        "nudge",
        ((-7.8, 8.325), here, (2.45, 5.8), (-2.45, 1.8), (2.45, 1.8)),
        Phase("one", "One", (cut("a", "2", there, cut=style),)),
    )
    part = part_of(play, "2")
    begin = part.start[0].removeprefix("Start ").removeprefix("at ")
    assert not part.steps[0].sentences[-1].endswith((f" to {begin}", f" at {begin}"))
    assert part.ending != part.start[0]


def starting_at(*places: tuple[float, float]) -> Play:
    """The thrower on the left, the others where told, without a plan to move."""
    starts = (Start("1", Point(-7.8, 8.325)), *map(Start, ROLES[1:], (Point(*p) for p in places)))
    return replace(everything(), starts=starts)


@pytest.mark.parametrize(
    ("places", "said"),
    [
        # in a line along the sideline: ranks, and the next on both sides
        (
            ((3.0, 2.6), (3.0, 4.3), (3.0, 6.0), (3.0, 7.7)),
            ("number three in the line", "between the 3 and the 5"),
        ),
        # an outer one of a line that ends at the edge of the court
        (((0, 7.0), (2.6, 4.6), (2.6, 1.6), (2.6, 3.1)), ("one in the line", "the baseline")),
        # a diagonal of three who touch elbows is no line up or across
        (
            ((0, 7.0), (3.2, 3.0), (4.0, 3.8), (4.8, 4.6)),
            ("right beside you.", "between the 3 and the 5"),
        ),
        # two by the sideline
        (((0, 7.0), (5.2, 4.2), (6.2, 4.3), (-2.0, 4.6)), ("the 3 and the sideline",)),
    ],
)
def test_where_people_stand_tight_a_place_is_told_by_them(
    places: tuple[tuple[float, float], ...], said: tuple[str, ...]
) -> None:
    told = " ".join(part_of(starting_at(*places), "4").start)
    assert all(words in told for words in said), told


@pytest.mark.parametrize(
    "places",
    [
        ((0, 7.0), (3.0, 3.0), (3.8, 3.2), (3.2, 4.0)),  # round a corner
        ((0, 7.0), (5.2, 4.2), (4.2, 4.3), (-2.0, 4.6)),  # the other is at the sideline
        ((-6.0, 9.0), (6.0, 2.0), (0, 5.0), (-6.0, 2.0)),  # wide apart
    ],
)
def test_nobody_stands_between_who_is_not_on_both_sides(
    places: tuple[tuple[float, float], ...],
) -> None:
    assert "between the" not in " ".join(part_of(starting_at(*places), "4").start)
