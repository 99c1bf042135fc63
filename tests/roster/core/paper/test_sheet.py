"""What a sheet says for now, while somebody is out: whole sentences, in the order of the roles.

Who steps in is our own rule: the next in depth, as far as they are not placed already.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, date, datetime

import pytest

from plays.core.calls import CallName
from plays.core.play import ROLES
from roster.core.cast import PlayerId, Slot, cast_of
from roster.core.paper.sheet import CarriedPlay, Sheet, SheetPart, sheet_of
from shared.core.language import ENGLISH
from tests.plays.core.demo_plays import DEMO

DAY = date(2026, 11, 25)
PUBLISHED = datetime(2026, 10, 12, 18, 0, tzinfo=UTC)
PLAYS = {play.key: play for play in DEMO}
CARRIED = CarriedPlay(1, PLAYS["gangway"], PUBLISHED, "Gangway")
NAMES = ("Ann", "Bea", "Cia", "Dia", "Eva", "Fay", "Gun", "Hedda")
PEOPLE: dict[PlayerId, CallName] = {n: CallName(name, str(n)) for n, name in enumerate(NAMES, 1)}
FIRST = {Slot(1, role, 1): n for n, role in enumerate(ROLES, 1)}


def sheet(
    player: PlayerId, out: set[PlayerId], more: Mapping[Slot, PlayerId] | None = None
) -> Sheet:
    cast = cast_of({**FIRST, **(more or {})})
    return sheet_of(
        player, PEOPLE, [CARRIED], cast, team="Herons", made_on=DAY, language=ENGLISH, out=out
    )


def parts(
    player: PlayerId, out: set[PlayerId], more: Mapping[Slot, PlayerId] | None = None
) -> list[SheetPart]:
    return list(sheet(player, out, more).parts)


SECOND = {Slot(1, "3", 2): 6, Slot(1, "5", 2): 7}


def test_with_everybody_there_nothing_is_said() -> None:
    (part,) = parts(1, set(), SECOND)
    assert (part.for_now, part.stands_in_for, part.depth) == ((), (), 1)
    assert part.names == {"1": "Ann", "2": "Bea", "3": "Cia", "4": "Dia", "5": "Eva"}


def test_who_takes_which_role_is_told_of_each_that_is_out_in_order() -> None:
    (part,) = parts(1, {3, 5}, SECOND)
    assert part.for_now == (
        "For now Fay takes role 3 in place of Cia.",
        "For now Gun takes role 5 in place of Eva.",
    )
    assert part.names == {"1": "Ann", "2": "Bea", "3": "Fay", "4": "Dia", "5": "Gun"}


def test_a_role_that_nobody_is_left_for_is_told_to_be_open() -> None:
    (part,) = parts(1, {4}, SECOND)
    assert part.for_now == ("For now nobody takes role 4.",)
    assert "4" not in part.names
    (both,) = parts(1, {3, 4, 6}, SECOND)
    assert both.for_now == ("For now nobody takes role 3.", "For now nobody takes role 4.")


def test_who_steps_in_is_told_to_be_first_for_now() -> None:
    (part,) = parts(6, {3, 4}, SECOND)
    assert part.for_now == (
        "For now you are first here, in place of Cia.",
        "For now nobody takes role 4.",
    )
    assert (part.stands_in_for, part.depth) == ((), 2)


def test_who_stands_in_behind_somebody_who_is_there_is_told_of_the_others() -> None:
    (part,) = parts(6, {5}, SECOND)
    assert part.for_now == ("For now Gun takes role 5 in place of Eva.",)
    assert (part.stands_in_for, part.depth) == (("Cia",), 2)


def test_who_is_out_reads_a_sheet_as_if_they_were_there() -> None:
    (part,) = parts(3, {3}, SECOND)
    assert part.for_now == ()


def test_a_first_who_has_to_fill_another_role_is_told_who_is_in_theirs() -> None:
    """Bea is first in role 2 and the only one left for role 4; Hedda is second in role 2."""
    more = {Slot(1, "4", 2): 2, Slot(1, "2", 2): 8}
    moved, own = parts(2, {4}, more)
    assert (moved.role, own.role) == ("4", "2")
    assert moved.for_now == ("For now you are first here, in place of Dia.",)
    assert own.for_now[0] == "For now you take role 4 in this play; Hedda is here."


def test_plays_without_a_role_of_the_player_are_left_out() -> None:
    assert sheet(8, set()).parts == ()
    with pytest.raises(KeyError):
        sheet(99, set())
