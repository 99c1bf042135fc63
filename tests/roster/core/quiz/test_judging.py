"""Places pointed at, metre by metre. The 1.5 m and the 0.3 m are our own choice."""

from __future__ import annotations

import re
from math import dist

import pytest

from coachbook.demo.files import demo_play
from plays.core.court.courts import court
from plays.core.court.spots import named_spots
from plays.core.play import Point
from roster.core.quiz import judging
from roster.core.quiz.question import Judged, QuestionKind, RoleQuestion, played

FLOOR = court(demo_play("gangway").court)
TRUTH = Point(0.0, 10.5)  # a stretch of floor with no landmark near it


def question(at: Point | None, variant: int | None = None) -> RoleQuestion:
    return RoleQuestion(
        "k", QuestionKind.END, "?", ("a", "b"), frozenset({1}), "b", "p", at=at, variant=variant
    )


def test_one_of_the_choices_is_right_by_its_place() -> None:
    assert judging.choose(question(None), 1) == Judged(True)
    for number in (0, 2, -1):
        assert judging.choose(question(None), number) == Judged(False)


def test_a_question_about_no_place_cannot_be_pointed_at() -> None:
    with pytest.raises(ValueError, match=re.escape("k does not ask for a place")):
        judging.point(question(None), FLOOR, TRUTH)


@pytest.mark.parametrize(("off", "right"), [(0.0, True), (1.5, True), (1.501, False), (3.0, False)])
def test_a_metre_and_a_half_is_near_enough(off: float, right: bool) -> None:
    assert min(dist(spot, TRUTH) for spot in judging.wrong_landmarks(FLOOR, TRUTH).values()) > 3
    found = judging.point(question(TRUTH), FLOOR, Point(off, TRUTH.y))
    assert found.right is right
    assert found.metres == pytest.approx(off)


def test_who_points_nearer_to_another_landmark_is_told_which() -> None:
    spots = judging.wrong_landmarks(FLOOR, TRUTH)
    for key, spot in spots.items():
        found = judging.point(question(TRUTH), FLOOR, spot)
        assert not found.right
        assert found.nearer in {each for each in spots if dist(spots[each], spot) < 1e-9}, key
        assert found.metres == pytest.approx(dist(spot, TRUTH))


def test_all_names_within_a_foot_of_the_nearest_stand_for_the_truth() -> None:
    spots = named_spots(FLOOR)
    for truth in spots.values():
        wrong = judging.wrong_landmarks(FLOOR, truth)
        own = {key for key, spot in spots.items() if dist(spot, truth) <= 0.3}
        assert own
        assert set(wrong) == set(spots) - own


def test_a_question_of_another_call_is_about_the_play_run_so() -> None:
    play = demo_play("tidegate")
    assert play.variants[0].swaps, "its further call swaps two jobs"
    assert played(play, question(None)) is play
    other = played(play, question(None, variant=0))
    assert other.actions() != play.actions()
    with pytest.raises(IndexError):
        played(play, question(None, variant=1))
