"""What a new revision changes for one role, as its player is told: nothing of others' parts.

No source outside: what is "mine" is what the role's part of the sheet says, so it is held to that.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from coachbook.demo.files import demo_play, demo_plays
from plays.core.play import ROLES, Play, Role, Variant
from plays.core.words.difference import difference, role_changes
from plays.core.words.part import part_of

PLAYS = demo_plays()
GANGWAY = demo_play("gangway")


def changed(old: Play, new: Play) -> list[Role]:
    return [role for role in ROLES if role_changes(old, new, role)]


def taught(play: Play, role: Role, cue: str) -> Play:
    """The same play with one more cue for the first step of a role."""
    first = part_of(play, role).steps[0].action
    phases = tuple(
        replace(
            phase,
            actions=tuple(
                replace(a, teach=(*a.teach, cue)) if a.id == first else a for a in phase.actions
            ),
        )
        for phase in play.phases
    )
    return replace(play, phases=phases)


@pytest.mark.parametrize("play", PLAYS, ids=lambda play: play.key)
def test_what_only_the_staff_reads_is_no_change_for_a_player(play: Play) -> None:
    guesses = tuple(replace(look, guess=0.01) for look in play.looks)
    other = replace(play, use="Never", needs=(), errors=("None",), looks=guesses, series="Odd")
    assert difference(play, other)
    assert changed(play, other) == []


@pytest.mark.parametrize("role", ROLES)
def test_a_cue_is_new_for_its_role_alone(role: Role) -> None:
    other = taught(GANGWAY, role, "Hands up")
    assert changed(GANGWAY, other) == [role]
    (said,) = role_changes(GANGWAY, other, role)
    assert said.endswith("“Hands up”")


def test_looks_that_change_places_are_new_for_those_in_them() -> None:
    """The thrower reads them; a receiver reads which look it is; who is none hears nothing."""
    one, two, *rest = GANGWAY.looks
    other = replace(GANGWAY, looks=(two, one, *rest))
    people = {one.passer, one.receiver, two.passer, two.receiver}
    assert set(changed(GANGWAY, other)) == people
    assert people < set(ROLES)


def test_a_new_answer_is_new_for_those_who_do_something_else() -> None:
    """Of every counter of the demo plays, taken out and put back."""
    compared = 0
    for play in PLAYS:
        for counter in play.counters:
            less = replace(play, counters=tuple(c for c in play.counters if c is not counter))
            others = {
                role
                for role in ROLES
                for told in part_of(play, role).counters
                if told.id == counter.id and told.changes
            }
            assert set(changed(less, play)) == set(changed(play, less)) == others
            compared += len(others) not in (0, len(ROLES))
    assert compared > 5


def test_a_new_call_is_everybodys() -> None:
    other = replace(GANGWAY, variants=(Variant("Anchor", mirror=True),))
    assert changed(GANGWAY, other) == list(ROLES)
    assert changed(other, GANGWAY) == list(ROLES)
