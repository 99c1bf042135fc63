"""Answers kept and read: what is due for a player, and what a team has understood."""

from __future__ import annotations

import json
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime

from django.db import IntegrityError, transaction

from plays.core.play import ROLES, Role
from plays.values import play_value
from roster.core.cast import PlayerId
from roster.core.quiz.making import questions
from roster.core.quiz.question import Judged, RoleQuestion
from roster.core.quiz.spacing import Memory, answered, recall
from roster.models import PackagePlay, Player, QuizAnswer
from roster.sheets.load import TeamSheets
from shared.core.language import ENGLISH
from shared.core.numbers import hundredths
from shared.pieces import kept

Place = tuple[PlayerId, Role]  # an entry of the package, and a role of it
Keys = Mapping[Place, tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class Last:
    """A player's last answer to a question, and how many there were."""

    number: int
    right: bool
    memory: Memory


@dataclass(frozen=True, slots=True)
class Evidence:
    """What a player remembered of a role when last asked; ``expected`` is the model's share now."""

    asked: int
    right: int
    total: int
    last: datetime
    expected: float

    @property
    def percent(self) -> int:
        return hundredths(self.expected)


def question_keys(loaded: TeamSheets) -> Keys:
    """The questions of every role that the team carries, by key alone."""

    def make() -> bytes:
        found = [
            [int(carried.id), role, [q.key for q in questions(carried.play, role, {}, ENGLISH)]]
            for carried in loaded.package
            for role in ROLES
        ]
        return json.dumps(found).encode()

    facts = ("quiz keys", [(each.id, each.play.key) for each in loaded.package], loaded.contents)
    read = json.loads(kept(loaded.team.pk, facts, make))
    return {(entry, role): tuple(keys) for entry, role, keys in read}


def last_answers(player: Player) -> dict[Place, dict[str, Last]]:
    """The player's last answer to each question they were ever asked: one query."""
    found: dict[Place, dict[str, Last]] = {}
    for row in QuizAnswer.objects.filter(player=player):
        place: Place = (row.entry_id, row.role)  # type: ignore[assignment]
        found.setdefault(place, {})[row.question] = _last(row)
    return found


def due(keys: Iterable[str], said: Mapping[str, Last], now: datetime) -> list[str]:
    """What to ask now: never asked yet, or about to be forgotten."""
    return [key for key in keys if key not in said or said[key].memory.due <= now]


def keep(
    player: Player,
    place: Place,
    question: RoleQuestion,
    judged: Judged,
    *,
    number: int,
    now: datetime,
) -> bool:
    """Keep an answer, and whether it is the first for this turn: sent again it changes nothing."""
    entry, role = int(place[0]), place[1]
    said = QuizAnswer.objects.filter(
        player=player, entry_id=entry, role=role, question=question.key
    ).last()
    if number != (said.number if said else 0) + 1:
        return False
    at = now.astimezone(UTC)
    memory = answered(_last(said).memory if said else None, right=judged.right, at=at)
    try:
        with transaction.atomic():
            QuizAnswer.objects.create(
                player=player,
                entry_id=entry,
                role=role,
                question=question.key,
                number=number,
                right=judged.right,
                metres=judged.metres,
                memory=memory.to_json(),
                said_at=now,
            )
    except IntegrityError:
        return False
    return True


def evidence(said: Mapping[str, Last], keys: Collection[str], now: datetime) -> Evidence | None:
    """What the last answers say of a role as it is now; None where nobody was asked."""
    found = [said[key] for key in keys if key in said]
    if not found:
        return None
    at = now.astimezone(UTC)
    return Evidence(
        asked=len(found),
        right=sum(last.right for last in found),
        total=len(keys),
        last=max(last.memory.last for last in found),
        expected=sum(recall(last.memory, at) for last in found) / len(found),
    )


def recalled(player: Player, entry: PackagePlay, role: Role, now: datetime) -> Evidence | None:
    """What a player remembered of a role of the play as it is carried."""
    keys = [each.key for each in questions(play_value(entry.revision), role, {}, ENGLISH)]
    return evidence(last_answers(player).get((entry.pk, role), {}), keys, now)


def _last(row: QuizAnswer) -> Last:
    return Last(row.number, row.right, Memory.from_json(row.memory))
