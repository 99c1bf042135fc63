"""What must hold for a rep before it counts: five distinct persons, who were there.

A rep logged without signal is never refused for these: it is kept, and its findings are
shown for a decision. The form for logging by hand uses the same findings at its fields.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from plays.core.play import ROLES, Role
from practice.core.reps.rep import PRACTICE_MODES, Id, Mode, Rep
from shared.core.finding import Finding, Severity
from shared.core.language import N_, Language

EMPTY_ROLE: Final = N_("Nobody is in role {role}.")
TWO_ROLES: Final = N_("{player} is in roles {roles} at once: a rep needs five different people.")
ABSENT: Final = N_("{player} was marked absent: correct the attendance, or swap role {role}.")
OUT_OF_SQUAD: Final = N_("{player} was not in the squad: correct the squad, or swap role {role}.")
NOT_HERE: Final = N_("{player} is not on this team's list for this practice.")
LIVE_LIMITED: Final = N_(
    "{player} is marked limited: live reps leave limited players out. "
    "Local rules and licensed advice come first."
)
OUT: Final = N_(
    "{player} is out until cleared. This app does not decide on a return to play: "
    "local rules and licensed advice come first."
)
NO_ERRED: Final = N_("A rep with an error should say which role erred.")
CLEAN_ERRED: Final = N_("A clean rep cannot name a role that erred.")
ERRED_EMPTY: Final = N_("Role {role} erred, but nobody was in that role.")
GAME_MODE: Final = N_("Only a game has reps in game mode.")


@dataclass(frozen=True, slots=True)
class Present:
    """Who was at a practice or game, and their names for the sentences."""

    names: Mapping[Id, str]
    absent: frozenset[Id] = frozenset()
    limited: frozenset[Id] = frozenset()
    out: frozenset[Id] = frozenset()
    is_game: bool = False


def check_rep(rep: Rep, present: Present, language: Language) -> tuple[Finding, ...]:
    """Every problem of one rep, each at the place where it can be mended."""
    checks = (_check_five, _check_presence, _check_result)
    return tuple(found for check in checks for found in check(rep, present, language))


def _check_five(rep: Rep, present: Present, language: Language) -> list[Finding]:
    cast = dict(rep.cast)
    found = [
        Finding(
            "empty_role", Severity.SERIOUS, f"/cast/{role}", language.say(EMPTY_ROLE, role=role)
        )
        for role in ROLES
        if role not in cast
    ]
    roles_of: dict[Id, list[Role]] = {}
    for role, who in rep.cast:
        roles_of.setdefault(who, []).append(role)
    for who, roles in roles_of.items():
        if len(roles) > 1:
            shown = language.all_of(roles)
            sentence = language.say(TWO_ROLES, player=_name(present, who), roles=shown)
            found += [
                Finding("two_roles", Severity.SERIOUS, f"/cast/{role}", sentence) for role in roles
            ]
    return found


def _check_presence(rep: Rep, present: Present, language: Language) -> list[Finding]:
    found = []
    for role, who in rep.cast:
        case = _presence(rep, present, who)
        if case is not None:
            code, severity, template = case
            sentence = language.say(template, player=_name(present, who), role=role)
            found.append(Finding(code, severity, f"/cast/{role}", sentence))
    return found


def _presence(rep: Rep, present: Present, who: Id) -> tuple[str, Severity, str] | None:
    if who not in present.names:
        return "not_here", Severity.SERIOUS, NOT_HERE
    if who in present.absent:
        return "absent", Severity.SERIOUS, OUT_OF_SQUAD if present.is_game else ABSENT
    if who in present.out:
        return "out", Severity.SERIOUS, OUT
    if who in present.limited and rep.mode in (Mode.LIVE, Mode.GAME):
        return "limited_live", Severity.WARNING, LIVE_LIMITED
    return None


def _check_result(rep: Rep, present: Present, language: Language) -> list[Finding]:
    found = []
    if rep.clean and (rep.erred is not None or rep.slip is not None):
        found.append(Finding("clean_erred", Severity.SERIOUS, "/erred", language.say(CLEAN_ERRED)))
    if not rep.clean and rep.erred is None:
        found.append(Finding("no_erred", Severity.NOTE, "/erred", language.say(NO_ERRED)))
    if rep.erred is not None and rep.player(rep.erred) is None:
        sentence = language.say(ERRED_EMPTY, role=rep.erred)
        found.append(Finding("erred_empty", Severity.SERIOUS, "/erred", sentence))
    if rep.mode not in PRACTICE_MODES and not present.is_game:
        found.append(Finding("game_mode", Severity.SERIOUS, "/mode", language.say(GAME_MODE)))
    return found


def _name(present: Present, who: Id) -> str:
    return present.names.get(who, str(who))
