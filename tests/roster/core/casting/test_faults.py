"""Every fault that a cast made by hand can have."""

from __future__ import annotations

from plays.core.play import ROLES
from roster.core.cast import Assignment, Cast, Slot, cast_of, slots
from roster.core.casting.faults import cast_problems, too_few
from roster.core.names import Names
from shared.core.finding import Severity

NAMES = Names({1: "Ida", 2: "Noor", 3: "Mia"}, {"lantern": "Lantern"})


def told(*assignments: Assignment, **checks: object) -> list[tuple[str, str]]:
    problems = cast_problems(Cast(assignments), NAMES, **checks)  # type: ignore[arg-type]
    return [(problem.code, problem.sentence) for problem in problems]


def test_a_sound_cast_has_no_problem() -> None:
    cast = cast_of({slot: f"{slot.role}{slot.depth}" for slot in slots(["a", "b"], 3)})
    assert cast_problems(cast, plays=["a", "b"], roster=[a.player for a in cast.assignments]) == ()


def test_one_player_in_two_roles_at_one_depth() -> None:
    first, second = Assignment("lantern", "1", 1, 1), Assignment("lantern", "4", 1, 1)
    assert told(first, second) == [
        (
            "twice_at_depth",
            "Ida is in roles 1 and 4 of Lantern, and can fill only one of them at a time.",
        )
    ]
    (problem,) = cast_problems(Cast((first, second)))
    assert problem.slots == (first.slot, second.slot)


def test_two_depths_or_two_plays_are_no_fault() -> None:
    assert told(Assignment("lantern", "1", 1, 1), Assignment("lantern", "4", 2, 1)) == []
    assert told(Assignment("lantern", "1", 1, 1), Assignment("other", "4", 1, 1)) == []


def test_twice_in_one_role_and_a_slot_filled_twice() -> None:
    twice = told(Assignment("lantern", "3", 1, 2), Assignment("lantern", "3", 2, 2))
    assert twice == [("twice_in_role", "Noor stands in role 3 of Lantern more than once.")]
    both = told(Assignment("lantern", "3", 1, 2), Assignment("lantern", "3", 1, 3))
    assert both == [("slot_twice", "Noor and Mia are both first in role 3 of Lantern.")]


def test_one_assignment_said_twice_is_no_fault() -> None:
    """A repeated request is harmless: who stands at one depth stands there once."""
    ida = Assignment("lantern", "3", 1, 1)
    assert told(ida, ida) == []


def test_places_that_do_not_exist() -> None:
    assert [code for code, _ in told(Assignment("lantern", "1", 4, 1))] == ["no_such_place"]


def test_who_has_left_who_is_out_and_a_role_with_nobody() -> None:
    ida = Assignment("lantern", "1", 1, 1)
    (left,) = told(ida, roster=[2, 3])
    assert left == (
        "not_on_roster",
        "Role 1 of Lantern, first: the player has left the roster, and nobody stands there.",
    )
    (out,) = told(ida, out=[1])
    assert out == ("out", "Ida is out, and stands first in role 1 of Lantern.")
    holes = cast_problems(Cast((ida,)), NAMES, plays=["lantern"])
    assert [problem.slots for problem in holes] == [
        (Slot("lantern", role, 1),) for role in ROLES[1:]
    ]
    assert holes[0].sentence == "Nobody is cast in role 2 of Lantern."


def test_all_faults_at_once() -> None:
    found = told(
        Assignment("lantern", "1", 1, 1),
        Assignment("lantern", "2", 1, 1),
        Assignment("lantern", "2", 2, 1),
        Assignment("lantern", "2", 1, 2),
        out=[2],
    )
    assert [code for code, _ in found] == ["twice_at_depth", "twice_in_role", "slot_twice", "out"]


def test_fewer_than_five_players() -> None:
    assert too_few([1, 2, 3, 4, 5], NAMES) is None
    assert too_few([], NAMES) == "Nobody is available: five are needed on the floor."
    assert too_few([1], NAMES) == "Only 1 player is available: five are needed on the floor."
    assert too_few([1, 2], NAMES) == ("Only 2 players are available: five are needed on the floor.")


def test_a_place_that_does_not_exist_is_named_as_it_was_written() -> None:
    assert told(Assignment("lantern", "1", 4, 1)) == [
        ("no_such_place", "Lantern has no role 1, 4.")
    ]
    assert told(Assignment("lantern", "1", 0, 1)) == [
        ("no_such_place", "Lantern has no role 1, 0.")
    ]
    assert told(Assignment("lantern", "6", 1, 1)) == [  # type: ignore[arg-type]  # meant
        ("no_such_place", "Lantern has no role 6, first.")
    ]
    assert told(Assignment("lantern", "1", 1, 1), Assignment("lantern", "5", 1, 2)) == []
    assert told(Assignment("lantern", "1", 3, 1)) == []


def test_roles_are_told_in_order_and_each_fault_with_all_its_places() -> None:
    group = [Assignment("lantern", role, 2, 1) for role in ("4", "2", "3")]
    (found,) = cast_problems(Cast(tuple(group)), NAMES)
    assert (found.code, found.severity, found.place) == ("twice_at_depth", Severity.SERIOUS, "")
    assert found.sentence == (
        "Ida is in roles 2, 3 and 4 of Lantern, and can fill only one of them at a time."
    )
    assert found.slots == tuple(a.slot for a in group)


def test_three_in_one_slot_are_all_named() -> None:
    group = [Assignment("lantern", "3", 2, who) for who in (3, 1, 2)]
    assert told(*group) == [
        ("slot_twice", "Mia, Ida and Noor are both second in role 3 of Lantern.")
    ]


def test_who_left_is_not_told_to_be_out_as_well() -> None:
    ida = Assignment("lantern", "2", 2, 1)
    assert [code for code, _ in told(ida, roster=[2], out=[1])] == ["not_on_roster"]
    assert told(ida, roster=[1], out=[1]) == [
        ("out", "Ida is out, and stands second in role 2 of Lantern.")
    ]
    assert told(ida, roster=[1], out=[2]) == []


def test_holes_are_told_of_the_plays_that_are_asked_about() -> None:
    five = tuple(Assignment("lantern", role, 1, n) for n, role in enumerate(ROLES))
    assert told(*five, plays=["lantern"]) == []
    assert [said for _, said in told(*five[1:], plays=["lantern", "other"])][:2] == [
        "Nobody is cast in role 1 of Lantern.",
        "Nobody is cast in role 1 of other.",
    ]


def test_five_are_enough_and_four_are_not() -> None:
    assert too_few([1, 2, 3, 4], NAMES) == (
        "Only 4 players are available: five are needed on the floor."
    )
    assert too_few([1, 2, 3, 4, 5, 6], NAMES) is None
