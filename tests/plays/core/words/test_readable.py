"""Short sentences of plain words, and no number beside a person's number."""

from __future__ import annotations

import re
from statistics import median

import pytest

from coachbook.demo.files import demo_plays
from plays.core.moves.variants import all_calls
from plays.core.play import ROLES, Play, Role
from plays.core.words.part import part_of
from tests.languages import language
from tests.plays.core.words.readable import grade, grade_of, sentences_of, syllables
from tests.plays.core.words.spoken_plays import everything

PLAYS = [call for play in demo_plays() for call in all_calls(play)]
HARDEST = 8.0
EASY = 5.0
TYPICAL = 3.0


@pytest.mark.parametrize(
    ("sentence", "expected"),
    # by hand: 0.39 words + 11.8 syllables/words - 15.59, in one sentence
    [("Wait.", -3.40), ("Run to the ball.", -2.23), ("Seal your defender at the basket.", 4.45)],
)
def test_the_formula(sentence: str, expected: float) -> None:
    assert grade(sentence) == pytest.approx(expected, abs=0.01)


def test_syllables_are_those_of_the_dictionary() -> None:
    assert [syllables(word) for word in ("block", "elbow", "defender", "2")] == [1, 2, 3, 1]
    with pytest.raises(KeyError):
        syllables("bloqueo")


@pytest.mark.parametrize("play", PLAYS, ids=lambda play: play.key)
def test_no_sentence_is_above_the_eighth_grade(play: Play) -> None:
    for role in ROLES:
        for sentence in told(play, role, "en"):
            assert grade(sentence) <= HARDEST, sentence


@pytest.mark.parametrize("play", PLAYS, ids=lambda play: play.key)
def test_a_part_reads_like_the_third_grade(play: Play) -> None:
    for role in ROLES:
        part = part_of(play, role)
        grades = [grade(said) for text in part.sentences() for said in sentences_of(text)]
        assert median(grades) <= TYPICAL, role


@pytest.mark.parametrize("play", PLAYS, ids=lambda play: play.key)
def test_all_that_a_role_reads_is_at_most_the_fifth_grade(play: Play) -> None:
    for role in ROLES:
        assert grade_of(told(play, role, "en")) <= EASY, role


def test_hardly_any_sentence_is_above_the_fifth_grade() -> None:
    found = {said for play in PLAYS for role in ROLES for said in told(play, role, "en")}
    hard = {said for said in found if grade(said) > EASY}
    assert len(hard) <= 0.05 * len(found), sorted(hard)


def told(play: Play, role: Role, code: str) -> list[str]:
    """All that a role reads of a play, sentence by sentence, what the coach typed included."""
    part = part_of(play, role, None, language(code))
    counters = [
        text
        for counter in part.counters
        for text in (counter.says, counter.same, *(change.text for change in counter.changes))
    ]
    teach = [cue for step in part.steps for cue in step.teach]
    return [said for text in (*part.sentences(), *counters, *teach) for said in sentences_of(text)]


PERSON = re.compile(r"\b(?:[Tt]he|número|númeroa?l?) [1-5]\b|\([1-5]\)|\b[1-5](?='s\b)")
COUNT = re.compile(r"\b\d+(?:[.,]\d+)?\b")


@pytest.mark.parametrize("code", ["en", "es"])
@pytest.mark.parametrize("play", [*PLAYS, everything()], ids=lambda play: play.key)
def test_no_count_in_figures_stands_beside_a_person(play: Play, code: str) -> None:
    for role in ROLES:
        part = part_of(play, role, None, language(code))
        changed = [c.text for counter in part.counters for c in counter.changes]
        for text in (*part.sentences(), *changed):
            for sentence in sentences_of(text):
                rest, persons = PERSON.subn("", sentence)
                typed = sentence.startswith(("When:", "Cuándo:", "That is:", "Es decir:"))
                assert typed or not persons or not COUNT.search(rest), sentence


def test_a_count_beside_a_person_is_found() -> None:
    said = "Pass to the 2 at 2 steps above the top."
    rest, persons = PERSON.subn("", said)
    assert persons
    assert COUNT.search(rest)


@pytest.mark.parametrize("code", ["en", "es"])
@pytest.mark.parametrize("play", [*PLAYS, everything()], ids=lambda play: play.key)
def test_no_sentence_has_two_full_stops(play: Play, code: str) -> None:
    for role in ROLES:
        part = part_of(play, role, None, language(code))
        changed = [c.text for counter in part.counters for c in counter.changes]
        for text in (*part.sentences(), *changed):
            assert not re.search(r"\.\s*\.", text), text
