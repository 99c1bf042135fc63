"""Questions of the demo plays: true by the play's own data, wrong choices wrong, and stable."""

from __future__ import annotations

from dataclasses import replace
from math import dist

import pytest

from coachbook.demo.files import demo_play
from plays.core.court.courts import court
from plays.core.play import ROLES, ActionKind, Play, Point, Role, Swap, Variant
from plays.core.sequence.course import final_places, with_counter
from roster.core.quiz import judging
from roster.core.quiz.making import APART, questions
from roster.core.quiz.question import QuestionKind, RoleQuestion, played
from shared.core.language import ENGLISH
from tests.languages import language

KEYS = ("gangway", "breakwater", "foghorn", "night-ferry", "sluice", "weathervane", "tidegate")
NAMES: dict[Role, str] = {"1": "Ida", "2": "Noor", "3": "Ada", "4": "Mila", "5": "Zoë"}


def asked(play: Play, role: Role, kind: QuestionKind) -> list[RoleQuestion]:
    return [each for each in questions(play, role, NAMES, ENGLISH) if each.kind is kind]


def every() -> list[tuple[Play, Role, RoleQuestion]]:
    return [
        (play, role, question)
        for play in map(demo_play, KEYS)
        for role in ROLES
        for question in questions(play, role, NAMES, ENGLISH)
    ]


def test_every_question_can_be_answered_rightly_and_wrongly() -> None:
    found = every()
    assert {question.kind for _, _, question in found} == set(QuestionKind)
    for _, _, question in found:
        assert 0 < len(question.right) < len(question.choices)
        assert len(set(question.choices)) == len(question.choices)
        assert judging.choose(question, min(question.right)).right
        wrong = set(range(len(question.choices))) - question.right
        assert not any(judging.choose(question, number).right for number in wrong)
        assert not judging.choose(question, len(question.choices)).right


def test_places_are_those_of_the_document() -> None:
    for play, role, question in every():
        if question.kind is QuestionKind.START:
            assert question.at == play.start_of(role)
        if question.kind is QuestionKind.END:
            assert question.at == final_places(play)[role]
        if question.kind is QuestionKind.COUNTER:
            (counter,) = [each for each in play.counters if each.id == question.counter]
            assert question.at == final_places(with_counter(play, counter))[role]
            assert dist(question.at, final_places(play)[role]) >= APART


def test_who_screens_is_read_from_the_screens() -> None:
    for play, role, question in every():
        if question.kind is QuestionKind.SCREEN:
            true = {
                NAMES[a.role]
                for a in play.actions()
                if a.kind is ActionKind.SCREEN and a.cutter == role
            }
            said = {question.choices[n].split(" (")[0] for n in question.right}
            assert said == true


def test_which_look_counts_the_looks_in_their_order() -> None:
    play = demo_play("gangway")
    for role in ROLES:
        numbers = {f"look {n}" for n, look in enumerate(play.looks, 1) if look.receiver == role}
        for question in asked(play, role, QuestionKind.LOOK):
            said = {question.choices[n] for n in question.right}
            assert said == (numbers or {"none: the throw-in does not come to me"})
            assert list(question.choices) == sorted(question.choices)  # as they are counted
    passer = play.looks[0].passer
    assert asked(play, passer, QuestionKind.LOOK) == []


def test_the_same_play_asks_the_same_and_another_truth_is_another_question() -> None:
    play = demo_play("gangway")
    first, again = questions(play, "5", NAMES, ENGLISH), questions(play, "5", NAMES, ENGLISH)
    assert first == again
    start = play.start_of("5")
    moved = replace(
        play,
        starts=tuple(
            replace(each, at=Point(start.x + 1, start.y)) if each.role == "5" else each
            for each in play.starts
        ),
    )
    (before,), (after,) = (asked(each, "5", QuestionKind.START) for each in (play, moved))
    assert before.key != after.key
    assert [q.key for q in asked(play, "5", QuestionKind.SCREEN)] == [
        q.key for q in asked(moved, "5", QuestionKind.SCREEN)
    ]


def test_a_question_stays_itself_in_another_language_and_with_other_people() -> None:
    play = demo_play("gangway")
    for role in ROLES:
        keys = [
            [q.key for q in questions(play, role, names, speech)]
            for names, speech in ((NAMES, ENGLISH), ({}, ENGLISH), (NAMES, language("es")))
        ]
        assert keys[0] == keys[1] == keys[2]
        assert len(set(keys[0])) == len(keys[0])


def test_they_are_asked_in_the_players_language() -> None:
    (question,) = [
        each
        for each in questions(demo_play("gangway"), "5", NAMES, language("es"))
        if each.kind is QuestionKind.START
    ]
    assert question.asks == "¿Dónde empiezas?"


def test_pointing_is_judged_by_distance_and_by_the_wrong_landmark() -> None:
    """FIBA's right block lies at x = 2.45 m, from 2.60 to 3.00 m up (Official Rules, diagram 3)."""
    floor = court(demo_play("gangway").court)
    base = asked(demo_play("gangway"), "5", QuestionKind.START)[0]
    block = Point(2.45, 2.8)
    question = replace(base, at=block)
    assert judging.point(question, floor, block).right
    near = judging.point(question, floor, Point(2.45, 3.4))
    assert near.metres == pytest.approx(0.6)
    assert near.right
    far = judging.point(question, floor, Point(2.45, 2.8 + 1.51))
    assert not far.right
    # Within 1.5 m of the block, and nearer to the dunker spot beside it.
    beside = judging.point(question, floor, Point(2.85, 1.6))
    assert beside.metres is not None
    assert beside.metres < judging.NEAR_ENOUGH
    assert beside.nearer == "right_dunker"
    assert not beside.right


def test_a_place_between_two_landmarks_forgives_either() -> None:
    floor = court(demo_play("gangway").court)
    base = asked(demo_play("gangway"), "5", QuestionKind.START)[0]
    middle = Point(0.0, 5.8 + (floor.arc_top_y + 0.4 - 5.8) / 2)  # from nail to top
    wrong = judging.wrong_landmarks(floor, middle)
    assert not {"nail", "top"} & set(wrong)
    assert judging.point(replace(base, at=middle), floor, Point(0.0, middle.y + 1.3)).right


def test_only_a_place_can_be_pointed_at() -> None:
    play = demo_play("gangway")
    (question,) = asked(play, "5", QuestionKind.SCREEN)
    with pytest.raises(ValueError, match="does not ask for a place"):
        judging.point(question, court(play.court), Point(0, 0))


def on_calls(play: Play, role: Role) -> dict[str, RoleQuestion]:
    return {each.asks: each for each in asked(play, role, QuestionKind.CALL)}


def test_a_call_asks_those_whose_job_it_changes_and_nobody_else() -> None:
    play = demo_play("tidegate")
    assert [role for role in ROLES if on_calls(play, role)] == ["2", "3"]
    found = on_calls(play, "2")
    whose = found["On “Tide Ada”: whose job do you do?"]
    assert whose.truth == "Ada (3)"
    assert "my own" in whose.choices
    end = found["On “Tide Ada”: where do you end?"]
    assert end.at == final_places(play)["3"], "the places of a swap without another side"
    assert "On “Tide Ada”: where do you start?" not in found, "each starts from their own place"
    assert played(play, end).start_of("2") == play.start_of("2")
    assert played(play, whose).call == "Tide {3}"


def test_from_the_other_side_start_and_end_are_asked_there() -> None:
    far = replace(demo_play("tidegate"), variants=(Variant("Far", mirror=True),))
    found = on_calls(far, "2")
    start = far.start_of("2")
    assert set(found) == {"On “Far”: where do you start?", "On “Far”: where do you end?"}
    assert found["On “Far”: where do you start?"].at == Point(-start.x, start.y)


def test_what_was_known_of_the_play_is_still_known_when_it_gets_a_call() -> None:
    play = demo_play("tidegate")
    plain = {each.key for each in questions(replace(play, variants=()), "2", NAMES, ENGLISH)}
    keys = [each.key for each in questions(play, "2", NAMES, ENGLISH)]
    assert plain < set(keys)
    assert len(keys) == len(set(keys))
    other = replace(play, variants=(Variant("Tide {4}", swaps=(Swap("2", "4"),)),))
    assert {each.key for each in asked(other, "2", QuestionKind.CALL)}.isdisjoint(keys)
