"""Text and diagram say the same: every fact of the document is told, once, and nothing else.

The facts are derived a second time in ``told``, straight from the document.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from pathlib import Path

import pytest
from hypothesis import given

from plays.core.document.file import read_play
from plays.core.play import ROLES, Play, Role
from plays.core.sequence.after_look import ways
from plays.core.sequence.course import with_counter
from plays.core.sequence.cues import CueGraph, Why
from plays.core.words.part import part_of
from plays.core.words.role_part import RolePart
from shared.core.language import ENGLISH
from tests.languages import language
from tests.plays.core.samples import with_action
from tests.plays.core.words.spoken_plays import everything
from tests.plays.core.words.told import complaints, expected, seconds_said
from tests.strategies import sound_plays


def each_way(play: Play) -> list[Play]:
    """Every way the play goes, as a play that has no other: what is said of the look that a
    rotation is for, `test_after_look` holds."""
    found = []
    for way in ways(play):
        known = {action.id for action in way.actions()}
        looks = tuple(look for look in way.looks if look.action in known)
        phases = tuple(replace(phase, after=()) for phase in way.phases)
        found.append(replace(way, phases=phases, looks=looks) if len(ways(play)) > 1 else play)
    return found


FILES = sorted((Path(__file__).parents[4] / "coachbook" / "demo" / "plays").glob("*.json"))
PLAYS = [everything(), *(read_play(path.read_bytes()) for path in FILES)]
COUNTERED = [with_counter(play, counter) for play in PLAYS for counter in play.counters]
RUNS = [way for play in PLAYS + COUNTERED for way in each_way(play)]
NAMES: dict[Role, str] = {"1": "Ada", "2": "Bo", "3": "Olga", "4": "Noor", "5": "Ida"}


def test_there_are_plays_to_tell() -> None:
    assert len(PLAYS) >= 15
    assert len(RUNS) > 2 * len(PLAYS)


@pytest.mark.parametrize("names", [NAMES, {}, {"5": "Ida"}], ids=["cast", "nobody", "some"])
@pytest.mark.parametrize("play", RUNS, ids=lambda play: play.key)
def test_every_fact_is_told_once_and_nothing_else(play: Play, names: dict[Role, str]) -> None:
    for role in ROLES:
        found = complaints(expected(play, role, names), part_of(play, role, names))
        assert not found, (role, found)


@given(sound_plays())
def test_every_fact_of_a_random_play_is_told_once(play: Play) -> None:
    for way, role in product(each_way(play), ROLES):
        found = complaints(expected(way, role, NAMES), part_of(way, role, NAMES))
        assert not found, (role, found)


@pytest.mark.parametrize("play", PLAYS, ids=lambda play: play.key)
def test_the_count_notices_each_sentence_that_is_lost_or_doubled(play: Play) -> None:
    for role in ROLES:
        told, part = expected(play, role, NAMES), part_of(play, role, NAMES)
        for index, step in enumerate(part.steps):
            for sentence in step.sentences:
                less = tuple(said for said in step.sentences if said != sentence)
                for sentences in (less, (*step.sentences, sentence)):
                    assert complaints(told, with_step(part, index, sentences))


def with_step(part: RolePart, index: int, sentences: tuple[str, ...]) -> RolePart:
    steps = list(part.steps)
    steps[index] = replace(steps[index], wait=(), act=sentences, then=())
    return replace(part, steps=tuple(steps))


@pytest.mark.parametrize("play", PLAYS, ids=lambda play: play.key)
def test_another_document_is_another_text(play: Play) -> None:
    """Change who, whom, where or after what of each action: the old text no longer fits."""
    for action in play.actions():
        if not action.path:
            continue
        end = action.path[-1]
        across = end._replace(x=end.x + 3.0 if end.x < 0 else end.x - 3.0)
        moved = replace(action, path=(*action.path[:-1], across))
        other = with_action(play, moved)
        old = part_of(play, action.role, NAMES)
        assert complaints(expected(other, action.role, NAMES), old), action.id


@pytest.mark.parametrize("play", RUNS, ids=lambda play: play.key)
def test_steps_are_the_roles_own_actions_in_written_order(play: Play) -> None:
    for role in ROLES:
        own = [(p.id, a.id) for p in play.phases for a in p.actions if a.role == role]
        part = part_of(play, role)
        assert [(step.phase, step.action) for step in part.steps] == own
        assert [step.number for step in part.steps] == list(range(1, len(own) + 1))


@pytest.mark.parametrize("play", RUNS, ids=lambda play: play.key)
def test_waits_in_seconds_are_told_to_the_nearest_half(play: Play) -> None:
    waiting = CueGraph(play).waits
    for role in ROLES:
        for step in part_of(play, role).steps:
            asked = [k.wait for k in waiting[step.action].links if k.why is Why.CUE and k.wait > 0]
            said = seconds_said(step.text)
            assert len(said) == len(asked), step.text
            assert all(abs(a - b) <= 0.25 for a, b in zip(sorted(said), sorted(asked), strict=True))


@pytest.mark.parametrize("play", RUNS, ids=lambda play: play.key)
def test_spanish_tells_as_many_facts_with_the_same_names(play: Play) -> None:
    for role in ROLES:
        here = part_of(play, role, NAMES, ENGLISH).sentences()
        there = part_of(play, role, NAMES, language("es")).sentences()
        assert len(here) == len(there)
        for english, spanish in zip(here, there, strict=True):
            assert english != spanish
            for name in NAMES.values():
                assert english.count(f"{name} (") == spanish.count(f"{name} (")
