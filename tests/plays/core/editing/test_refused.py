"""A gesture that does not fit the play is refused with its reason, and changes nothing."""

from __future__ import annotations

from dataclasses import replace

import pytest

from plays.core.editing.apply import applied
from plays.core.editing.branch import with_run
from plays.core.editing.commands import (
    Act,
    AddCounter,
    Command,
    JoinScreens,
    MovePoint,
    OrderLooks,
    Place,
    RemovePhase,
    RenamePhase,
    SetCue,
    SetHow,
    SetOther,
)
from plays.core.editing.looks import may_receive, ordered, receiving
from plays.core.editing.refused import (
    GONE,
    LAST_PHASE,
    NO_BALL,
    NO_PLACE,
    NOBODY,
    TITLE,
    RefusedError,
)
from plays.core.limits import MAX_NAME
from plays.core.play import ActionKind, Cut, Defence, JointShape, PassKind, Play, Point
from plays.core.sequence.course import with_counter
from shared.core.language import ENGLISH
from tests.languages import language
from tests.plays.core.editing.test_editing import at, begun, box, drawn

TOP = at("top")


def with_pass() -> Play:
    return applied(box(), Act("entry", "1", ActionKind.PASS, other="3"))


@pytest.mark.parametrize(
    ("command", "reason", "role"),
    [
        (Act("entry", "2", ActionKind.PASS, other="3"), NO_BALL, "2"),
        (Act("entry", "2", ActionKind.DRIBBLE, TOP), NO_BALL, "2"),
        (Act("entry", "2", ActionKind.CUT), NO_PLACE, ""),
        (Act("entry", "4", ActionKind.SCREEN, TOP, "4"), NOBODY, "4"),
        (Act("entry", "1", ActionKind.PASS, other="1"), NOBODY, "1"),
        (SetOther("5-screen", "5"), NOBODY, "5"),
        (SetOther("4-cut", "3"), GONE, ""),
        (SetOther("nothing", "3"), GONE, ""),
        (SetHow("nothing", easy=True), GONE, ""),
        (MovePoint("nothing", 0, TOP), GONE, ""),
        (JoinScreens("5-screen", JointShape.STAGGER), GONE, ""),
        (RenamePhase("entry", "   "), TITLE, ""),
        (RenamePhase("entry", "x" * (MAX_NAME + 1)), TITLE, ""),
        (RenamePhase("nothing", "A name"), GONE, ""),
        (RemovePhase("entry"), LAST_PHASE, ""),
        (RemovePhase("nothing"), GONE, ""),
        (OrderLooks(("4-cut", "nothing")), GONE, ""),
    ],
)
def test_a_gesture_that_does_not_fit_says_why(command: Command, reason: str, role: str) -> None:
    with pytest.raises(RefusedError) as refused:
        applied(box(), command)
    assert (refused.value.template, refused.value.role) == (reason, role)


def test_a_reason_is_said_in_the_readers_language_and_names_who_it_is() -> None:
    refused = RefusedError(NOBODY, "5")
    assert refused.said(ENGLISH) == "Say for whom or to whom: somebody other than the 5."
    assert "5" in refused.said(language("es"))
    assert refused.said(language("es")) != refused.said(ENGLISH)


def test_who_has_no_start_cannot_be_moved() -> None:
    bare = replace(begun(), starts=tuple(s for s in begun().starts if s.role != "4"))
    with pytest.raises(RefusedError) as refused:
        applied(bare, Place("4", TOP))
    assert refused.value.template == GONE


def test_a_title_of_just_the_length_is_taken() -> None:
    named = applied(box(), RenamePhase("entry", "x" * MAX_NAME))
    assert named.phases[0].title == "x" * MAX_NAME
    assert named.phases[0].id == box().phases[0].id


def test_a_pass_goes_to_somebody_else_by_a_tap_and_keeps_how_it_is_thrown() -> None:
    play = applied(with_pass(), SetHow("1-pass", pass_kind=PassKind.LOB))
    thrown = next(a for a in applied(play, SetOther("1-pass", "5")).actions() if a.id == "1-pass")
    assert (thrown.to, thrown.pass_kind) == ("5", PassKind.LOB)


def test_receiving_cuts_stand_in_written_order_without_who_is_idle() -> None:
    play = drawn(
        box(),
        Act("entry", "2", ActionKind.CUT, at("left corner"), cut=Cut.CLEAR_OUT),
        Act("entry", "5", ActionKind.CUT, at("right corner")),
    )
    assert [each.id for each in receiving(play)] == ["4-cut", "3-cut", "5-cut"]
    easy = applied(play, SetHow("5-cut", easy=True))
    assert [each.id for each in receiving(easy)] == ["4-cut", "3-cut"]
    assert [each.id for each in receiving(applied(play, SetHow("3-cut", decoy=True)))] == [
        "4-cut",
        "5-cut",
    ]
    held = applied(play, Act("entry", "2", ActionKind.HOLD))
    assert not any(may_receive(a) for a in held.actions() if a.kind is ActionKind.HOLD)


def test_looks_are_ordered_as_receivers_are_tapped_and_a_new_one_is_made() -> None:
    play = applied(box(), Act("entry", "5", ActionKind.CUT, at("right corner")))
    assert [look.action for look in play.looks] == ["4-cut", "3-cut", "5-cut"]
    two = ordered(play, ("5-cut", "4-cut"))
    assert [(look.action, look.passer, look.receiver) for look in two.looks] == [
        ("5-cut", "1", "5"),
        ("4-cut", "1", "4"),
    ]
    again = ordered(two, ("3-cut", "3-cut", "5-cut"))
    assert [look.action for look in again.looks] == ["3-cut", "5-cut"]
    assert len({look.id for look in again.looks}) == 2


def test_a_counter_run_otherwise_keeps_only_what_differs() -> None:
    play = applied(box(), AddCounter(Defence.SWITCH, box().phases[0].id, "Slip."))
    (counter,) = play.counters
    same = with_counter(play, counter)
    assert with_run(play, counter.id, same) == play
    moved = applied(same, MovePoint("3-cut", 0, Point(1.0, 7.0)))
    (changed,) = with_run(play, counter.id, moved).counters
    assert [action.id for action in changed.replace] == ["3-cut"]
    assert not changed.add
    with pytest.raises(RefusedError) as refused:
        with_run(play, "gone", moved)
    assert refused.value.template == GONE


def test_what_waits_for_nothing_that_is_there_is_refused() -> None:
    with pytest.raises(RefusedError):
        applied(box(), SetCue("nothing", None))
