"""What is said of a rep before it counts, word by word. Our own rules."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

import pytest

from practice.core.reps.rep import Id, Mode, Rep, Slip, as_cast
from practice.core.reps.rep_rules import Present, check_rep
from shared.core.finding import Finding, Severity
from shared.core.language import ENGLISH

FIVE = as_cast({"1": "ada", "2": "bo", "3": "cy", "4": "di", "5": "eva"})
NAMES: dict[Id, str] = {"ada": "Ada", "bo": "Bo", "cy": "Cy", "di": "Di", "eva": "Eva"}
REP = Rep("a", "tue", "lantern", Mode.LIVE, datetime(2026, 3, 3, 18, tzinfo=UTC), FIVE)
HERE = Present(NAMES)


def found(present: Present = HERE, **changes: Any) -> list[Finding]:
    return list(check_rep(replace(REP, **changes), present, ENGLISH))


@pytest.mark.parametrize(
    ("present", "code", "severity", "sentence"),
    [
        (
            Present({who: name for who, name in NAMES.items() if who != "di"}),
            "not_here",
            Severity.SERIOUS,
            "di is not on this team's list for this practice.",
        ),
        (
            Present(NAMES, absent=frozenset({"di"}), out=frozenset({"di"})),
            "absent",
            Severity.SERIOUS,
            "Di was marked absent: correct the attendance, or swap role 4.",
        ),
        (
            Present(NAMES, out=frozenset({"di"}), limited=frozenset({"di"})),
            "out",
            Severity.SERIOUS,
            (
                "Di is out until cleared. This app does not decide on a return to play: "
                "local rules and licensed advice come first."
            ),
        ),
        (
            Present(NAMES, limited=frozenset({"di"})),
            "limited_live",
            Severity.WARNING,
            (
                "Di is marked limited: live reps leave limited players out. "
                "Local rules and licensed advice come first."
            ),
        ),
    ],
)
def test_of_all_that_keeps_somebody_out_the_first_is_told_at_their_role(
    present: Present, code: str, severity: Severity, sentence: str
) -> None:
    assert found(present) == [Finding(code, severity, "/cast/4", sentence)]


@pytest.mark.parametrize(
    ("mode", "codes"),
    [
        (Mode.WALK_THROUGH, []),
        (Mode.HALF_SPEED, []),
        (Mode.LIVE, ["limited_live"]),
        (Mode.GAME, ["limited_live"]),
    ],
)
def test_limited_players_stay_out_of_what_is_live(mode: Mode, codes: list[str]) -> None:
    present = Present(NAMES, limited=frozenset({"bo"}), is_game=True)
    assert [one.code for one in found(present, mode=mode)] == codes


@pytest.mark.parametrize(
    ("changes", "wanted"),
    [
        ({"clean": True}, []),
        ({"clean": False, "erred": "4"}, []),
        (
            {"erred": "4"},
            [("clean_erred", "serious", "/erred", "A clean rep cannot name a role that erred.")],
        ),
        (
            {"slip": Slip.LATE},
            [("clean_erred", "serious", "/erred", "A clean rep cannot name a role that erred.")],
        ),
        (
            {"clean": False},
            [("no_erred", "note", "/erred", "A rep with an error should say which role erred.")],
        ),
        (
            {"mode": Mode.GAME},
            [("game_mode", "serious", "/mode", "Only a game has reps in game mode.")],
        ),
        (
            {"cast": FIVE[:4], "clean": False, "erred": "5"},
            [
                ("empty_role", "serious", "/cast/5", "Nobody is in role 5."),
                (
                    "erred_empty",
                    "serious",
                    "/erred",
                    "Role 5 erred, but nobody was in that role.",
                ),
            ],
        ),
    ],
)
def test_a_result_that_does_not_fit_is_told(
    changes: dict[str, Any], wanted: list[tuple[str, str, str, str]]
) -> None:
    said = [(one.code, str(one.severity), one.place, one.sentence) for one in found(**changes)]
    assert said == wanted


def test_a_game_has_reps_in_game_mode_and_in_others() -> None:
    game = Present(NAMES, is_game=True)
    assert found(game, mode=Mode.GAME) == []
    assert found(game, mode=Mode.LIVE) == []


def test_one_person_in_three_roles_is_told_at_each_of_them() -> None:
    cast = as_cast({"1": "ada", "2": "bo", "3": "ada", "4": "di", "5": "ada"})
    sentence = "Ada is in roles 1, 3 and 5 at once: a rep needs five different people."
    assert found(cast=cast) == [
        Finding("two_roles", Severity.SERIOUS, f"/cast/{role}", sentence) for role in "135"
    ]


def test_everything_that_is_wrong_is_told_at_once_people_first() -> None:
    present = Present(NAMES, absent=frozenset({"bo"}))
    odd = found(present, cast=FIVE[:3], erred="4", mode=Mode.GAME)
    assert [one.code for one in odd] == [
        "empty_role",
        "empty_role",
        "absent",
        "clean_erred",
        "erred_empty",
        "game_mode",
    ]
