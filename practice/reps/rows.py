"""Rows for sound reps and called plays, and the sums that follow from them."""

from __future__ import annotations

import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from practice.core.reps.called import CalledPlay, worth
from practice.core.reps.log import Run
from practice.core.reps.rep import Id, Rep, Undo
from practice.models import CalledPlay as CalledRow
from practice.models import CalledRole, RepRole
from practice.models import Rep as RepRow
from practice.reps.called import GameSurroundings, game_surroundings
from practice.reps.sums import remake, remake_games
from practice.reps.surroundings import Surroundings, surroundings
from roster.models import Team
from shared.core.finding import Finding
from shared.core.language import Language
from shared.models import User

# Our own name space, for ids that are no UUID and for a second rep under a taken id.
IDS: Final = uuid.UUID("5f2b7a52-0c1e-4d29-8a35-6f4f4b6a9f10")


@dataclass(frozen=True, slots=True)
class BatchSurroundings:
    """What a batch is held against, its reps and its called plays each by their own rules."""

    reps: Surroundings
    called: GameSurroundings

    def against(self, run: Run, language: Language) -> tuple[Finding, ...]:
        """Why one cannot count as it is; nothing for a sound one."""
        if isinstance(run, CalledPlay):
            return self.called.against(run, language)
        return self.reps.against(run, language)


def around(team: Team, runs: Sequence[Run]) -> BatchSurroundings:
    """What these are held against."""
    reps, called = _kinds(runs)
    return BatchSurroundings(surroundings(team, reps), game_surroundings(team, called))


def uuid_of(tap_id: str) -> uuid.UUID:
    """The id as the database keeps it; for one that is no UUID always the same other one."""
    try:
        return uuid.UUID(tap_id)
    except ValueError:
        return uuid.uuid5(IDS, tap_id)


def known_ids(keys: Sequence[uuid.UUID]) -> set[uuid.UUID]:
    """Those of these under which a rep or a called play is stored."""
    return {
        *RepRow.objects.filter(pk__in=keys).values_list("pk", flat=True),
        *CalledRow.objects.filter(pk__in=keys).values_list("pk", flat=True),
    }


def write(
    runs: Sequence[Run], where: BatchSurroundings, user: User, key: uuid.UUID | None = None
) -> None:
    """Rows for sound reps and called plays. A conflict is the same tap, sent twice at once.

    ``key`` is the id under which a single one was held.
    """
    reps, called = _kinds(runs)
    RepRow.objects.bulk_create(
        [_rep_row(rep, where.reps, user, key) for rep in reps], ignore_conflicts=True
    )
    RepRole.objects.bulk_create(
        [
            RepRole(rep_id=key or uuid_of(rep.id), role=role, player_id=int(who))
            for rep in reps
            for role, who in rep.cast
        ],
        ignore_conflicts=True,
    )
    if called:
        _write_called(called, where.called, user, key)


def _write_called(
    called: Sequence[CalledPlay], where: GameSurroundings, user: User, key: uuid.UUID | None
) -> None:
    CalledRow.objects.bulk_create(
        [_called_row(each, where, user, key) for each in called], ignore_conflicts=True
    )
    CalledRole.objects.bulk_create(
        [
            CalledRole(called_id=key or uuid_of(each.id), role=role, player_id=int(who))
            for each in called
            for role, who in each.cast
        ],
        ignore_conflicts=True,
    )


def sum_up(runs: Sequence[Run], undos: Sequence[Undo] = ()) -> None:
    """Bring the sums of every practice, game and play up to date that these are of."""
    reps, called = _kinds(runs)
    touched = {(int(rep.practice), int(rep.play)) for rep in reps}
    games = {(int(each.game), int(each.play)) for each in called}
    if undos:
        named = [uuid_of(undo.rep) for undo in undos]
        touched |= set(_named(RepRow, named, "practice_id"))
        games |= set(_named(CalledRow, named, "game_id"))
    if touched:
        remake({practice for practice, _ in touched}, {play for _, play in touched})
    if games:
        remake_games({game for game, _ in games}, {play for _, play in games})


def _named(
    model: type[RepRow] | type[CalledRow], keys: list[uuid.UUID], where: str
) -> list[tuple[int, int]]:
    rows = model._default_manager.filter(pk__in=keys).order_by()
    return list(rows.values_list(where, "entry_id"))


def _kinds(runs: Sequence[Run]) -> tuple[list[Rep], list[CalledPlay]]:
    called = [run for run in runs if isinstance(run, CalledPlay)]
    return [run for run in runs if isinstance(run, Rep)], called


def _rep_row(rep: Rep, where: Surroundings, user: User, key: uuid.UUID | None) -> RepRow:
    named = rep.revision if rep.revision in where.known_revisions else None
    return RepRow(
        id=key or uuid_of(rep.id),
        practice_id=int(rep.practice),
        entry_id=int(rep.play),
        revision_id=int(named or where.revisions[rep.play]),
        unit_id=_int_or_none(rep.unit, where.units),
        mode=rep.mode.value,
        is_clean=rep.clean,
        erred=rep.erred or "",
        slip=rep.slip.value if rep.slip else "",
        call=rep.call,
        at=rep.at,
        logged_by_id=user.pk,  # who is signed in, whatever the tap says
    )


def _called_row(
    called: CalledPlay, where: GameSurroundings, user: User, key: uuid.UUID | None
) -> CalledRow:
    entry = where.entries[called.play]
    return CalledRow(
        id=key or uuid_of(called.id),
        game_id=int(called.game),
        entry_id=entry.pk,
        revision=where.revision_of(called) or entry.revision,
        call=called.call,
        defence=called.defence.value if called.defence else "",
        taken=called.taken.value,
        look=called.look or "",
        result=called.result.value,
        points=worth(called.result, called.points),
        erred=called.erred or "",
        period=called.period,
        clock=called.clock,
        at=called.at,
        logged_by_id=user.pk,
    )


def _int_or_none(value: Id | None, among: frozenset[Id]) -> int | None:
    return int(value) if value is not None and value in among else None
