"""Readiness for the pages: the grid of players by plays, what is due, one curve."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

import numpy as np
from numpy.typing import NDArray

from plays.core.play import ROLES, Role, as_role
from plays.values import read_ahead
from practice.bridge import moment
from practice.core.readiness.assumptions import Assumptions, Offsets
from practice.core.readiness.cell import (
    Readiness,
    all_right,
    curve,
    readiness,
    sampled,
)
from practice.core.readiness.due import Due, DueFor, due
from practice.core.readiness.grid import (
    Grid,
    Ledger,
    ReadinessMark,
    grid,
    ledger,
    mark_of,
    standings,
)
from practice.core.readiness.picture import CurvePlot
from practice.core.reps.rep import Touch
from practice.models import Game, Practice
from practice.parameters import in_force, settings_row
from practice.reps.sums import touches_of
from roster.bridge import names_of
from roster.cast.changes import package_with_cast
from roster.core.names import Names
from roster.models import Casting, PackagePlay, Player, Team
from shared.core.numbers import hundredths

STEPS: Final = 160  # points of a curve
MARKS: Final = (
    *(ReadinessMark.READY, ReadinessMark.FADING, ReadinessMark.LEARNING, ReadinessMark.NEVER),
)
AHEAD: Final = timedelta(days=14)


@dataclass(frozen=True, slots=True)
class ReadinessCell:
    """One player in one play: the role they are cast in, or know best."""

    player: Player
    entry: PackagePlay
    role: Role
    value: float
    standing: ReadinessMark
    cast: bool

    @property
    def percent(self) -> int:
        return hundredths(self.value)


@dataclass(frozen=True, slots=True)
class Lacking:
    """A first-depth player who will not be ready by the game, and what would be enough."""

    player: Player
    name: str
    due: Due

    @property
    def role(self) -> Role:
        return self.due.cell[2]

    @property
    def percent(self) -> int:
        return hundredths(self.due.by_game)


@dataclass(frozen=True, slots=True)
class FiveLine:
    """One play for a game: who of its first five lacks reps, and how likely all five are right.

    ``chance`` is None where a role has nobody or somebody has no rep yet: there is no telling.
    """

    entry: PackagePlay
    lacking: tuple[Lacking, ...]
    chance: float | None
    weakest: str
    unlogged: int
    holes: int

    @property
    def is_ready(self) -> bool:
        """Whether each of the five has a role and is ready for it."""
        return not (self.holes or self.unlogged or self.lacking)


@dataclass(frozen=True, slots=True)
class PersonLine:
    """One player with a count of each mark, and the cells behind it."""

    player: Player
    cells: tuple[ReadinessCell, ...]

    def count(self, mark: ReadinessMark) -> int:
        """Among the plays that the player is cast in."""
        return sum(cell.standing is mark for cell in self.cells if cell.cast)

    @property
    def counts(self) -> list[tuple[ReadinessMark, int]]:
        return [(mark, self.count(mark)) for mark in MARKS if self.count(mark)]


@dataclass(frozen=True, slots=True)
class TeamReadiness:
    """Everything that the readiness pages of a team are made from."""

    team: Team
    entries: tuple[PackagePlay, ...]
    players: tuple[Player, ...]
    history: tuple[Touch, ...]
    assumptions: Assumptions
    offsets: Offsets

    def rows(self, on: datetime) -> list[tuple[Player, list[ReadinessCell | None]]]:
        """Players by plays on a moment; None where somebody neither plays nor knows a play."""
        book = self._ledger()
        values, marks = grid(book, on), standings(book, on)
        return [
            (
                player,
                [
                    _cell(player, entry, values.value[i, k].tolist(), marks[i, k].tolist())
                    for k, entry in enumerate(self.entries)
                ],
            )
            for i, player in enumerate(self.players)
        ]

    def _ledger(self) -> Ledger:
        players = [player.pk for player in self.players]
        plays = [entry.pk for entry in self.entries]
        return ledger(self.history, players, plays, self.assumptions, self.offsets)

    def names(self) -> Names:
        """Short names that tell everybody apart."""
        return names_of(self.players)

    def fives(self, when: DueFor) -> list[FiveLine]:
        """By play: the first five on the day of a game if nothing more is run."""
        book = self._ledger()
        values, marks = grid(book, when.game), standings(book, when.game)
        return [self._five(entry, when, values, marks) for entry in self.entries]

    def _five(
        self, entry: PackagePlay, when: DueFor, values: Grid, marks: NDArray[np.object_]
    ) -> FiveLine:
        people, names = {player.pk: player for player in self.players}, self.names()
        cells = [
            (casting.player_id, entry.pk, as_role(casting.role))
            for casting in entry.castings.all()
            if casting.depth == 1 and casting.player_id in people
        ]
        late = due(self.history, cells, when, self.assumptions, self.offsets)
        by_cell = {cell: values.at(cell) for cell in cells}
        unlogged = sum(values.mark(marks, cell) is ReadinessMark.NEVER for cell in cells)
        told = len(cells) == len(ROLES) and not unlogged
        return FiveLine(
            entry,
            tuple(Lacking(people[int(d.cell[0])], names.player(d.cell[0]), d) for d in late),
            all_right(by_cell.values()) if told else None,
            names.player(min(by_cell, key=lambda c: by_cell[c])[0]) if by_cell else "",
            unlogged,
            len(ROLES) - len(cells),
        )

    def of(self, player: Player, entry: PackagePlay, role: Role, on: datetime) -> Readiness:
        """One cell with everything it is made of."""
        cell = (player.pk, entry.pk, role)
        return readiness(self.history, cell, on, self.assumptions, self.offsets)

    def mark(self, player: Player, entry: PackagePlay, role: Role, on: datetime) -> ReadinessMark:
        """The mark of one cell."""
        cell = (player.pk, entry.pk, role)
        return mark_of(self.history, cell, on, self.assumptions, self.offsets)

    def plot(
        self, player: Player, entry: PackagePlay, role: Role, now: datetime, games: Sequence[Game]
    ) -> CurvePlot:
        """The curve from the first rep, or four weeks back, to the last game shown."""
        cell = (player.pk, entry.pk, role)
        held = sorted({t.at for t in self.history if (t.player, t.play, t.role) == cell})
        first = min([*held, now - timedelta(days=28)]) - timedelta(days=1)
        starts = [(moment(game.date, game.start), game.opponent) for game in games]
        last = max([now + AHEAD, *(start + timedelta(days=1) for start, _name in starts)])
        moments = sampled(first, last, held, STEPS)
        practices = {t.practice: t.at for t in reversed(self.history) if t.at in set(held)}
        return CurvePlot(
            curve(self.history, cell, moments, self.assumptions, self.offsets),
            tuple(sorted(practices.values())),
            tuple(each for each in starts if first <= each[0]),
            now,
            self.of(player, entry, role, now).value,
            self.assumptions.ready,
            player.name,
            entry.spoken(),
            role,
        )


def _cell(
    player: Player, entry: PackagePlay, values: Sequence[float], marks: Sequence[ReadinessMark]
) -> ReadinessCell | None:
    """The cell for values and marks by role."""
    places = [c for c in entry.castings.all() if c.player_id == player.pk]
    best = max(range(len(ROLES)), key=lambda index: values[index])
    index = ROLES.index(as_role(min(places, key=_depth).role)) if places else best
    if not places and marks[index] is ReadinessMark.NEVER:
        return None
    return ReadinessCell(player, entry, ROLES[index], values[index], marks[index], bool(places))


def team_readiness(team: Team) -> TeamReadiness:
    """Load a team's reps, cast and parameters: a constant number of queries."""
    assumptions, offsets = in_force(settings_row())
    entries = tuple(package_with_cast(team))
    read_ahead(entry.revision for entry in entries)
    return TeamReadiness(
        team,
        entries,
        tuple(team.players.present()),
        touches_of(team),
        assumptions,
        offsets,
    )


def before(game: Game, now: datetime) -> DueFor:
    """The game as a question: what is due for it, in the practices that are left."""
    rows = Practice.objects.filter(
        team=game.team_id, cancelled=False, date__range=(now.date(), game.date)
    )
    practices = tuple(moment(date, start) for date, start in rows.values_list("date", "start"))
    return DueFor(now, moment(game.date, game.start), practices)


def coming_games(team: Team, now: datetime) -> list[Game]:
    """Games that are not over yet, the next first."""
    rows = Game.objects.filter(team=team).ahead(now.date())
    return [game for game in rows if moment(game.date, game.start) >= now]


def _depth(casting: Casting) -> int:
    return casting.depth
