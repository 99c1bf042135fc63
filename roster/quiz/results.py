"""What a team has understood, by play and role: no child stands against another."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import datetime

from plays.core.calls import call_for
from plays.core.play import ROLES, Role
from roster.core.quiz.making import questions
from roster.core.quiz.question import RoleQuestion
from roster.models import QuizAnswer
from roster.quiz.store import Place
from roster.sheets.load import TeamSheets
from shared.core.language import Language


@dataclass(frozen=True, slots=True)
class Missed:
    """A question with how many of those who were asked last answered it rightly."""

    asks: str
    truth: str
    right: int
    asked: int


@dataclass(frozen=True, slots=True)
class RoleResult:
    """A role of a play: ``people`` were asked; ``missed`` are the questions not all had right."""

    call: str
    role: Role
    people: int
    right: int
    asked: int
    missed: tuple[Missed, ...]
    last: datetime


def results(loaded: TeamSheets, language: Language) -> list[RoleResult]:
    """Every role that was asked about, where most is missing first: one query.

    Last answers count, of players who are in the role now, to the play as it is carried now.
    """
    last = _last_answers(loaded)
    found = []
    for carried in loaded.package:
        for role in ROLES:
            said = last.get((carried.id, role))
            if said:
                asked = questions(carried.told_in(language).play, role, {}, language)
                call = call_for(carried.call or carried.play.name, {}, language)
                found.append(_result(call, role, asked, said))
    kept = [each for each in found if each.asked]
    return sorted(kept, key=lambda each: (each.right / each.asked, each.call, each.role))


def _last_answers(loaded: TeamSheets) -> dict[Place, dict[tuple[int, str], QuizAnswer]]:
    cast = {(a.play, a.role, a.player) for a in loaded.cast.assignments}
    found: dict[Place, dict[tuple[int, str], QuizAnswer]] = defaultdict(dict)
    rows = QuizAnswer.objects.filter(entry__in=list(loaded.revisions), player__left_on=None)
    for row in rows.defer("memory"):
        if (row.entry_id, row.role, row.player_id) in cast:
            place: Place = (row.entry_id, row.role)  # type: ignore[assignment]
            found[place][row.player_id, row.question] = row
    return found


def _result(
    call: str,
    role: Role,
    asked: tuple[RoleQuestion, ...],
    said: dict[tuple[int, str], QuizAnswer],
) -> RoleResult:
    by_question = defaultdict(list)
    known = {question.key for question in asked}
    counted = {key: row for key, row in said.items() if key[1] in known}
    for (_, question), row in counted.items():
        by_question[question].append(row.right)
    missed = tuple(
        Missed(each.asks, each.truth, sum(rights), len(rights))
        for each in asked
        if (rights := by_question.get(each.key)) and not all(rights)
    )
    return RoleResult(
        call,
        role,
        people=len({player for player, _ in counted}),
        right=sum(row.right for row in counted.values()),
        asked=len(counted),
        missed=missed,
        last=max(row.said_at for row in said.values()),
    )
