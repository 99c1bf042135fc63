"""Reading and writing the cast of a team.

Every change goes through ``change_cast``: it looks at what is there now, refuses what has
moved on meanwhile or would be faulty, and keeps a step that can be undone.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.db import transaction
from django.db.models import F, QuerySet

from plays.core.play import ROLES, Role
from roster.core.cast import DEPTHS, Assignment, Cast, PlayerId, Slot
from roster.core.casting.changes import CastChange, changes, stale, with_changes
from roster.core.casting.faults import cast_problems
from roster.core.names import Names
from roster.models import Casting, CastStep, PackagePlay, Player, Team
from shared.models import User
from shared.record import note_change

Slots = Mapping[tuple[Role, int], Player]
Kind = CastStep.Kind

FAULTY = ("twice_at_depth", "twice_in_role")  # what no cast may be saved with


class CastChangedError(Exception):
    """Somebody else has changed this cast since it was shown."""


class FaultyCastError(ValueError):
    """A change that would have somebody twice in one five; ``sentences`` say who and where."""

    def __init__(self, sentences: Sequence[str]) -> None:
        super().__init__(" ".join(sentences))
        self.sentences = tuple(sentences)


@dataclass(frozen=True, slots=True)
class CastCell:
    """One role of one play in the grid: the players by depth, None where nobody is."""

    role: Role
    players: tuple[Player | None, ...]

    @property
    def is_open(self) -> bool:
        return self.players[0] is None


@dataclass(frozen=True, slots=True)
class CastRow:
    entry: PackagePlay
    cells: tuple[CastCell, ...]


def package_with_cast(team: Team) -> QuerySet[PackagePlay]:
    """The plays a team carries, with their cast: three queries whatever the size."""
    rows = team.package.all().carried().with_cast().select_related("play", "revision", "cast_for")
    return rows.defer("play__search", "revision__document", "cast_for__document")


def row_of(entry: PackagePlay) -> CastRow:
    filled = {(c.role, c.depth): c.player for c in entry.castings.all()}
    cells = tuple(
        CastCell(role, tuple(filled.get((role, depth)) for depth in DEPTHS)) for role in ROLES
    )
    return CastRow(entry, cells)


def cast_value(entries: Iterable[PackagePlay]) -> Cast:
    """The cast as the core computes with it, by primary keys."""
    return Cast(tuple(c.value() for entry in entries for c in entry.castings.all()))


@transaction.atomic
def save_cast(entry: PackagePlay, slots: Slots, user: User, *, seen_version: int) -> None:
    """Write the whole cast of one play. Raises CastChangedError, having written nothing."""
    locked = _locked(entry.team_id, [entry.pk])
    if not locked or locked[0].cast_version != seen_version:
        raise CastChangedError
    wanted = Cast(
        tuple(Assignment(entry.pk, role, depth, who.pk) for (role, depth), who in slots.items())
    )
    _write(entry.team_id, locked, changes(cast_value(locked), wanted), user, Kind.HAND)


@transaction.atomic
def change_cast(
    team: Team, accepted: Sequence[CastChange], user: User, kind: Kind = Kind.HAND
) -> CastStep | None:
    """Make these changes, or none of them. No step where nothing changes.

    Raises CastChangedError when a slot is no longer as ``before`` says, or its player or
    play no longer there; FaultyCastError when somebody would be twice in one five.
    """
    locked = _locked(team.pk, {change.slot.play for change in accepted})
    if {change.slot.play for change in accepted} - {entry.pk for entry in locked}:
        raise CastChangedError
    wanted = {change.after for change in accepted if change.after is not None}
    if team.players.present().filter(pk__in=wanted).count() != len(wanted):
        raise CastChangedError
    if stale(cast_value(locked), accepted):
        raise CastChangedError
    return _write(team.pk, locked, accepted, user, kind)


def undo(step: CastStep, user: User) -> CastStep | None:
    """Put back what a step changed, where nothing of it has been changed again since.

    Raises CastChangedError or FaultyCastError, having written nothing.
    """
    with transaction.atomic():
        if step.undone:
            raise CastChangedError
        made = change_cast(step.team, [_inverse(c) for c in step.changes], user, Kind.UNDONE)
        step.undone = True
        step.save(update_fields=["undone"])
        return made


def step_changes(step: CastStep) -> tuple[CastChange, ...]:
    return tuple(
        CastChange(Slot(c["entry"], c["role"], c["depth"]), c["before"], c["after"])
        for c in step.changes
    )


@transaction.atomic
def clear_player(player: Player, user: User | None) -> None:
    """Let a player's places in the cast fall open, and their locks with them."""
    held = player.castings.select_related("entry")
    locked = _locked(player.team_id, {casting.entry_id for casting in held})
    carried = {entry.pk for entry in locked}
    open_now = [CastChange(c.value().slot, player.pk, None) for c in held if c.entry_id in carried]
    _write(player.team_id, locked, open_now, user, Kind.LEFT)
    player.castings.all().delete()  # in plays that were dropped, too
    player.locks.all().delete()
    player.lessons.filter(done=False).delete()


def _locked(team: int, plays: Iterable[object]) -> list[PackagePlay]:
    """These plays with their cast; other writers wait until this transaction is over."""
    rows = PackagePlay.objects.carried().filter(team=team, pk__in=list(plays))
    return list(rows.select_for_update().with_cast())


def _write(
    team: int,
    entries: Sequence[PackagePlay],
    accepted: Sequence[CastChange],
    user: User | None,
    kind: Kind,
) -> CastStep | None:
    if not accepted:
        return None
    _refuse_faults(entries, accepted)
    touched = {change.slot.play for change in accepted}
    for entry in entries:
        if entry.pk in touched:
            _fill(entry, [change for change in accepted if change.slot.play == entry.pk])
            _note(entry, accepted, user)
    rows = PackagePlay.objects.filter(pk__in=touched)
    rows.update(cast_version=F("cast_version") + 1)
    if kind != Kind.LEFT:  # a coach has looked at these plays
        rows.update(cast_for=None)
    return CastStep.objects.create(
        team_id=team, user=user, kind=kind, changes=[_as_json(change) for change in accepted]
    )


def _refuse_faults(entries: Sequence[PackagePlay], accepted: Sequence[CastChange]) -> None:
    people: dict[PlayerId, str] = {
        c.player_id: str(c.player) for entry in entries for c in entry.castings.all()
    }
    people |= {who.pk: str(who) for who in Player.objects.filter(pk__in=_players(accepted))}
    names = Names(people, {entry.pk: entry.spoken() for entry in entries})
    found = cast_problems(with_changes(cast_value(entries), accepted), names)
    wrong = [problem.sentence for problem in found if problem.code in FAULTY]
    if wrong:
        raise FaultyCastError(wrong)


def _fill(entry: PackagePlay, accepted: Sequence[CastChange]) -> None:
    gone = [
        casting.pk
        for casting in entry.castings.all()
        if any((casting.role, casting.depth) == change.slot[1:] for change in accepted)
    ]
    Casting.objects.filter(pk__in=gone).delete()
    Casting.objects.bulk_create(
        Casting(entry=entry, role=change.slot.role, depth=change.slot.depth, player_id=change.after)
        for change in accepted
        if change.after is not None
    )


def _note(entry: PackagePlay, accepted: Sequence[CastChange], user: User | None) -> None:
    mine = [_as_json(change) for change in accepted if change.slot.play == entry.pk]
    note_change(user, "cast", entry, team=entry.team_id, after=mine)


def _players(accepted: Iterable[CastChange]) -> set[Any]:
    return {who for change in accepted for who in (change.before, change.after)} - {None}


def _as_json(change: CastChange) -> dict[str, Any]:
    slot = change.slot
    return {
        "entry": slot.play,
        "role": slot.role,
        "depth": slot.depth,
        "before": change.before,
        "after": change.after,
    }


def _inverse(kept: Mapping[str, Any]) -> CastChange:
    slot = Slot(kept["entry"], kept["role"], kept["depth"])
    return CastChange(slot, kept["after"], kept["before"])
