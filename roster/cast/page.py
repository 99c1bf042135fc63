"""The grid of the cast as its page shows it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from django.utils.translation import gettext as _

from plays.core.play import ROLES, Role
from roster.cast.changes import step_changes
from roster.cast.loaded import TeamCast
from roster.cast.needs_change import needs_changed
from roster.cast.proposals import Suggestion
from roster.core.cast import DEPTHS, Cast, PlayerId, Slot
from roster.core.casting.change_words import change_in_words
from roster.core.casting.changes import CastChange
from roster.core.casting.depths import DEPTHS_IN_WORDS
from roster.core.casting.faults import too_few
from roster.models import Availability, CastLock, CastStep, PackagePlay, Player

STEPS_SHOWN = 20


@dataclass(frozen=True, slots=True)
class CastPlace:
    """One slot: who fills it, and who would if the open suggestion were accepted.

    ``steps_in`` is for who is first on the floor now because somebody is out.
    """

    entry: int
    role: Role
    depth: int
    player: Player | None
    name: str
    is_locked: bool
    steps_in: bool
    change: CastChange | None
    suggested: str

    @property
    def depth_name(self) -> str:
        return _(DEPTHS_IN_WORDS[self.depth])

    @property
    def id(self) -> str:
        return f"slot-{self.entry}-{self.role}-{self.depth}"


@dataclass(frozen=True, slots=True)
class GridCell:
    role: Role
    places: tuple[CastPlace, ...]

    @property
    def is_open(self) -> bool:
        return self.places[0].player is None

    @property
    def first(self) -> str:
        return self.places[0].name

    @property
    def is_out(self) -> bool:
        who = self.places[0].player
        return who is not None and who.availability == Availability.OUT

    @property
    def steps_in(self) -> str:
        """Who is first on the floor now in place of somebody who is out; empty otherwise."""
        return next((place.name for place in self.places if place.steps_in), "")


@dataclass(frozen=True, slots=True)
class GridRow:
    """A play; ``needs`` says in sentences what its revision asks that the last one did not."""

    entry: PackagePlay
    call: str
    cells: tuple[GridCell, ...]
    needs: tuple[str, ...]
    holes: int

    @property
    def is_changing(self) -> bool:
        """Whether an open suggestion changes somebody here."""
        return any(place.change for cell in self.cells for place in cell.places)


@dataclass(frozen=True, slots=True)
class StepLine:
    """One line of the record: who changed what, and when."""

    step: CastStep
    sentences: tuple[str, ...]
    at: datetime
    who: str


def grid_rows(known: TeamCast, suggested: Sequence[Suggestion] = ()) -> list[GridRow]:
    """Plays by roles, with names at three depths: one more query, for the locks."""
    changing = {change.slot: change for each in suggested for change in each.changes}
    plays = [entry.pk for entry in known.entries]
    locks = {
        (lock.entry_id, lock.role, lock.player_id): lock.depth
        for lock in CastLock.objects.filter(entry__in=plays)
    }
    return [_row(entry, known, changing, locks) for entry in known.entries]


def team_note(known: TeamCast) -> str | None:
    """Why no five can be made up, or None."""
    if not known.players:
        return _("Nobody is on the roster yet.")
    return too_few([pk for pk in known.players if pk not in known.out], known.names)


def without_a_part(known: TeamCast, cast: Cast) -> tuple[int, ...]:
    """Who can play and has no place in a cast, in the order of the roster."""
    placed = {a.player for a in cast.assignments}
    return tuple(pk for pk in known.players if pk not in known.out and pk not in placed)


def left_out(known: TeamCast, cast: Cast) -> str:
    """The same by name; empty when everybody has one."""
    return known.names.all_players(without_a_part(known, cast))


def step_lines(known: TeamCast, steps: Sequence[CastStep]) -> list[StepLine]:
    """The steps in words, with the names of those who have left as they were."""
    gone = {c.before for step in steps for c in step_changes(step) if c.before not in known.players}
    left: dict[PlayerId, str] = {
        who.pk: str(who) for who in Player.objects.filter(pk__in=[pk for pk in gone if pk])
    }
    return [
        StepLine(
            step,
            tuple(_said(change, known, left) for change in step_changes(step)),
            step.at,
            str(step.user) if step.user else "–",
        )
        for step in steps
    ]


def _row(
    entry: PackagePlay,
    known: TeamCast,
    changing: Mapping[Slot, CastChange],
    locks: Mapping[tuple[int, str, int], int],
) -> GridRow:
    filled = {(c.role, c.depth): c.player for c in entry.castings.all()}
    now = known.first_five(entry.pk)

    def place(role: Role, depth: int) -> CastPlace:
        player = filled.get((role, depth))
        change = changing.get(Slot(entry.pk, role, depth))
        first_now = player is not None and depth > 1 and now.get(role) == player.pk
        lock = locks.get((entry.pk, role, player.pk)) if player else None
        return CastPlace(
            entry.pk,
            role,
            depth,
            player,
            known.names.player(player.pk) if player else "",
            is_locked=lock is not None and lock in {0, depth},
            steps_in=first_now,
            change=change,
            suggested=_name(change.after, known) if change else "",
        )

    cells = tuple(GridCell(role, tuple(place(role, depth) for depth in DEPTHS)) for role in ROLES)
    holes = sum(cell.is_open for cell in cells)
    needs = tuple(needs_changed(entry, known))
    return GridRow(entry, known.names.play(entry.pk), cells, needs, holes)


def _name(player: PlayerId | None, known: TeamCast) -> str:
    return "–" if player is None else known.names.player(player)


def _said(change: CastChange, known: TeamCast, left: Mapping[PlayerId, str]) -> str:
    names = replace(known.names, players={**left, **known.names.players})
    return change_in_words(change, names)
