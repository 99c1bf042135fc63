"""The difference of two revisions: told by role, in the sheet's own words, and never silent."""

from __future__ import annotations

import json
from collections.abc import Iterator
from copy import deepcopy
from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest

from coachbook.demo.files import demo_play, demo_plays
from plays.core.document.file import BadPlay, read_play, to_json
from plays.core.document.form import problems
from plays.core.moves.moves import mirror
from plays.core.play import (
    Conditions,
    Cue,
    Defence,
    DefenceRead,
    Moment,
    PassKind,
    Play,
    Point,
    Role,
    Swap,
    Variant,
)
from plays.core.words.difference import EVERYBODY, UNTOLD, difference
from plays.core.words.part import part_of
from tests.languages import language
from tests.plays.core.samples import with_action

PLAYS = demo_plays()
GANGWAY = demo_play("gangway")


def told(old: Play, new: Play) -> list[tuple[Role | None, str]]:
    return [(change.role, change.sentence) for change in difference(old, new)]


def with_looks(play: Play, *order: int) -> Play:
    return replace(play, looks=tuple(play.looks[n - 1] for n in order))


@pytest.mark.parametrize("play", PLAYS, ids=lambda play: play.key)
def test_the_same_play_has_no_difference(play: Play) -> None:
    assert difference(play, play) == ()
    assert difference(play, replace(play, key="other")) == ()
    assert difference(play, read_play(to_json(play))) == ()


def test_a_new_cue_and_two_looks_swapped() -> None:
    """Role 4 now waits for a screen, and looks 2 and 3 change places: three sentences."""
    screen = next(a for a in GANGWAY.actions() if a.kind == "screen")
    runner = next(
        a
        for a in GANGWAY.actions()
        if a.role not in (screen.role, screen.cutter) and not a.cues and a.kind == "cut"
    )
    waits = replace(runner, cues=(Cue(Moment.SET, screen.id),))
    new = with_looks(with_action(GANGWAY, waits), 1, 3, 2, *range(4, len(GANGWAY.looks) + 1))
    found = told(GANGWAY, new)
    assert found[0] == (None, "Looks 2 and 3 have swapped places.")
    step = next(s for s in part_of(new, runner.role).steps if s.action == runner.id)
    assert "ait" in step.text  # "Wait until ..."
    assert (runner.role, f"Step {step.number} is now: {step.text}") in found
    assert {role for role, _ in found} <= {None, runner.role}


def test_looks() -> None:
    count = len(GANGWAY.looks)
    assert count == 4
    assert told(GANGWAY, with_looks(GANGWAY, 2, 3, 1, 4))[0][1].startswith("The looks have a new")
    gone = GANGWAY.looks[1]
    assert told(GANGWAY, with_looks(GANGWAY, 1, 3, 4))[0] == (
        None,
        f"The look {gone.passer} to {gone.receiver} (it was look 2) is gone.",
    )
    assert told(with_looks(GANGWAY, 1, 3, 4), GANGWAY)[0] == (
        None,
        f"New as look 2: {gone.passer} to {gone.receiver}.",
    )
    first = replace(GANGWAY.looks[0], condition="Always.", guess=0.5)
    assert [
        sentence
        for _, sentence in told(GANGWAY, replace(GANGWAY, looks=(first, *GANGWAY.looks[1:])))
    ][:2] == ["Look 1 is now there when: Always.", "The coach's guess for look 1 is now 50 %."]


def test_texts_are_told_one_by_one() -> None:
    new = replace(
        GANGWAY, name="Plank", teach=(*GANGWAY.teach[1:], "Breathe."), cautions=(), use=""
    )
    assert told(GANGWAY, new) == [
        (None, "The play is now called “Plank”."),
        (None, "When to use it is no longer said."),
        (None, "New teaching cue: Breathe."),
        (None, f"Teaching cue gone: {GANGWAY.teach[0]}"),
        *((None, f"Caution gone: {line}") for line in GANGWAY.cautions),
    ]


def test_a_cue_of_a_step_belongs_to_its_role() -> None:
    action = next(a for a in GANGWAY.actions() if a.teach)
    number = next(s.number for s in part_of(GANGWAY, action.role).steps if s.action == action.id)
    new = with_action(GANGWAY, replace(action, teach=("Low and wide.",)))
    assert told(GANGWAY, new) == [
        (action.role, f"New cue for step {number}: “Low and wide.”"),
        *((action.role, f"Step {number} no longer has the cue “{c}”.") for c in action.teach),
    ]


def test_a_place_that_moves_by_a_hand_is_still_told() -> None:
    action = next(a for a in GANGWAY.actions() if a.kind == "cut" and a.path)
    end = action.path[-1]
    nudged = replace(action, path=(*action.path[:-1], Point(end.x + 0.01, end.y)))
    (found,) = told(GANGWAY, with_action(GANGWAY, nudged))
    assert found[0] == action.role
    assert "a little another way" in found[1]


def test_a_moved_play_is_told_in_one_sentence() -> None:
    found = told(GANGWAY, mirror(GANGWAY))
    assert (None, EVERYBODY) in found
    assert not [sentence for _, sentence in found if "a little" in sentence]


def leaves(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    if isinstance(value, dict | list):
        for key, inner in value.items() if isinstance(value, dict) else enumerate(value):
            yield from leaves(inner, (*path, key))
    else:
        yield path


def altered(document: dict[str, Any], path: tuple[Any, ...]) -> Play | None:
    """The play with one value of its document changed, where that is a sound play."""
    copy = deepcopy(document)
    holder = copy
    for key in path[:-1]:
        holder = holder[key]
    value = holder[path[-1]]
    if isinstance(value, bool):
        holder[path[-1]] = not value
    elif isinstance(value, str):
        holder[path[-1]] = value + " anew"
    else:
        holder[path[-1]] = value - 0.25 if value > 0.5 else value + 0.125
    try:
        play = read_play(json.dumps(copy))
    except BadPlay:
        return None
    return None if problems(play) else play


@pytest.mark.parametrize("play", PLAYS, ids=lambda play: play.key)
def test_no_single_value_changes_in_silence(play: Play) -> None:
    """Whatever one value of the document is changed, a sentence says so, and back again.

    Every fourth value, a different quarter for each play: all kinds of values come by.
    """
    document, tried = to_json(play), 0
    for path in list(leaves(document))[len(play.key) % 4 :: 4]:
        changed = altered(document, path)
        if changed is None or path == ("key",) or path[0] == "origin":
            continue
        tried += 1
        for old, new in ((play, changed), (changed, play)):
            sentences = [sentence for _, sentence in told(old, new)]
            assert sentences, path
            assert UNTOLD not in sentences, path
            assert all(
                sentence and "{" not in sentence.replace(play.call, "") for sentence in sentences
            )
    assert tried > 10


EMPTIED: tuple[dict[str, Any], ...] = (
    {"series": ""},
    {"call": ""},
    {"use": ""},
    {"looks": ()},
    {"counters": ()},
    {"needs": ()},
    {"defenders": ()},
    {"teach": ()},
    {"errors": ()},
    {"cautions": ()},
    {"conditions": Conditions(seconds_left_to=9.0)},
)


@pytest.mark.parametrize("change", EMPTIED, ids=lambda change: next(iter(change)))
def test_no_part_of_a_play_is_lost_in_silence(change: dict[str, Any]) -> None:
    changed = [(play, replace(play, **change)) for play in PLAYS]
    lost = [(old, new) for old, new in changed if old != new]
    assert lost
    assert all(difference(old, new) and difference(new, old) for old, new in lost)


def test_any_two_plays_can_be_compared_in_any_language() -> None:
    for code in ("en", "es"):
        for old, new in pairwise(PLAYS):
            assert difference(old, new, language(code))


def only_look(**changes: Any) -> list[str]:
    """What is told to all of a change of the second look."""
    changed = replace(GANGWAY.looks[1], **changes)
    new = replace(GANGWAY, looks=(GANGWAY.looks[0], changed, *GANGWAY.looks[2:]))
    return [sentence for role, sentence in told(GANGWAY, new) if role is None]


def test_each_thing_about_a_look_has_a_sentence_of_its_own() -> None:
    look = GANGWAY.looks[1]
    assert look.read is None
    assert look.guess is not None
    assert only_look(shot=True) == ["Look 2 now ends in a shot."]
    assert only_look(guess=None) == ["The coach's guess for look 2 is taken back."]
    assert only_look(pass_kind=PassKind.LOB) == ["Look 2 is now a lob."]
    assert only_look(condition="") == ["Look 2 has no condition any more."]
    read = DefenceRead(Defence.SAG, (look.receiver,))
    (sentence,) = only_look(read=read)
    assert sentence.startswith("Look 2 is now thrown so: When ")
    shot = replace(
        GANGWAY, looks=tuple(replace(each, shot=True, read=read) for each in GANGWAY.looks[:1])
    )
    bare = replace(shot, looks=(replace(shot.looks[0], shot=False, read=None),))
    assert [said for role, said in told(shot, bare) if role is None] == [
        "Look 1 no longer ends in a shot.",
        "Look 1 reads no defender any more.",
    ]


def test_lines_in_another_order_are_told_once() -> None:
    assert len(GANGWAY.teach) > 1
    turned = replace(GANGWAY, teach=GANGWAY.teach[::-1], cautions=GANGWAY.cautions[::-1])
    assert told(GANGWAY, turned) == [
        (None, "The lines of the teaching, the errors or the cautions have a new order.")
    ]


def test_calls_are_told_one_by_one() -> None:
    red, blue = Variant("Red", mirror=True), Variant("Blue", "fist", (Swap("2", "3"),))

    def changes(old: tuple[Variant, ...], new: tuple[Variant, ...]) -> list[str]:
        before, after = (replace(GANGWAY, variants=each) for each in (old, new))
        return [sentence for role, sentence in told(before, after) if role is None]

    assert changes((red, blue), (blue, red)) == ["The calls stand in a new order."]
    assert changes((red,), (red, blue)) == ["New call “Blue” for another way to run it."]
    assert changes((red, blue), (red,)) == ["The call “Blue” is gone."]
    assert changes((blue,), (replace(blue, sign="palm"),)) == ["The sign for “Blue” has changed."]
    assert changes((red,), (replace(red, mirror=False, swaps=(Swap("4", "5"),)),)) == [
        "What the call “Red” means has changed."
    ]
