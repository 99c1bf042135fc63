"""A game's call sheet: who can be on the floor, what they know, and what the looks are worth."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from django.utils import timezone

from plays.core.play import ROLES, Situation
from plays.core.play import Play as PlayValue
from plays.values import play_value
from practice.bridge import moment
from practice.calls.looks import looks_against
from practice.choosing.candidates import SIDES, occasions_of
from practice.core.calls.looks import PlayLooks
from practice.core.calls.ready import OrderedCall, in_order
from practice.core.choosing.question import Occasion
from practice.models import Game
from practice.presence import out_by_game
from practice.readiness.answer import readiness_at
from roster.cast.loaded import TeamCast, team_cast
from roster.core.cast import Lesson, PlayerId, PlayId
from roster.core.coverage.floor_five import NotAFiveError, PlayFilling, the_five
from roster.core.coverage.squad import Squad
from roster.models import PackagePlay, Unit

ORDER: Final = tuple(Occasion)


@dataclass(frozen=True, slots=True)
class Calling:
    """One way to call a carried play: when, and by which of its calls, 0 for the first."""

    entry: PackagePlay
    occasion: Occasion
    call: int = 0


@dataclass(frozen=True)
class GameCalls:
    """Everything that the sheet on a phone and the one on paper are made from."""

    game: Game
    known: TeamCast
    out: frozenset[PlayerId]
    readiness: Mapping[Lesson, float] | None  # None where no rep of anybody is logged
    bar: float
    looks: Mapping[PlayId, PlayLooks]
    units: tuple[Unit, ...]

    @cached_property
    def squad(self) -> Squad:
        return self.known.squad(self.out)

    @property
    def able(self) -> tuple[int, ...]:
        """Who can be on the floor today, in the order of the roster."""
        return tuple(pk for pk in self.known.reckoned if pk not in self.out)

    def fillings(self, five: Sequence[int]) -> tuple[PlayFilling, ...]:
        """Every play for five players; among equal fillings the one that the coach has cast.

        Raises NotAFiveError for anything but five of those who can play.
        """
        if not set(five) <= set(self.able):
            raise NotAFiveError("somebody of the five is out today")
        return the_five(self.squad, five, self.by_cast)

    @cached_property
    def by_cast(self) -> tuple[PlayFilling, ...]:
        first = ((entry.pk, self.known.first_five(entry.pk, self.out)) for entry in self.entries)
        return tuple(PlayFilling(play, filling, 1.0) for play, filling in first)

    @property
    def entries(self) -> tuple[PackagePlay, ...]:
        return self.known.entries

    def lines(self, fillings: Sequence[PlayFilling]) -> tuple[OrderedCall, ...]:
        """Those that can be run, the first to call first."""
        return in_order(fillings, self.readiness, self.bar, self.looks)

    @cached_property
    def callings(self) -> tuple[Calling, ...]:
        """Every play under its occasions, in the order of these and then of the package."""
        found = [each for entry in self.entries for each in _callings(entry)]
        return tuple(sorted(found, key=lambda each: ORDER.index(each.occasion)))

    @cached_property
    def first_floor(self) -> tuple[int, ...]:
        """Who is likely on the floor at first: the first whole unit, else a play's first five."""
        able = set(self.able)
        teams = [[member.pk for member in unit.members.all()] for unit in self.units]
        teams += [[int(pk) for pk in each.filling.values()] for each in self.by_cast]
        teams.append(list(self.able[: len(ROLES)]))
        return next(
            (tuple(who) for who in teams if len(who) == len(ROLES) and set(who) <= able), self.able
        )


def game_calls(game: Game) -> GameCalls:
    """Load a game's sheet: a constant number of queries, whatever squad, package and season."""
    known = team_cast(game.team)
    away = out_by_game([game])[game.pk]
    begins = max(timezone.now(), moment(game.date, game.start))
    ready = readiness_at(game.team, begins)
    return GameCalls(
        game,
        known,
        known.out | away,
        ready.values if any(ready.values.values()) else None,
        ready.bar,
        looks_against(game, known.entries),
        tuple(game.team.units.prefetch_related("members")),
    )


def _callings(entry: PackagePlay) -> Iterator[Calling]:
    play = play_value(entry.revision)
    if play.situation is not Situation.SIDELINE:
        (occasion,) = occasions_of(play)[0]
        yield Calling(entry, occasion)
        return
    yield from _by_side(entry, play)


def _by_side(entry: PackagePlay, play: PlayValue) -> Iterator[Calling]:
    """A throw-in from its own sideline, and by its first mirrored call from the other."""
    drawn = SIDES[play.spot.side if play.spot else "right"]
    yield Calling(entry, drawn)
    turned = next((n for n, each in enumerate(play.variants, start=1) if each.mirror), None)
    if turned is not None:
        (other,) = set(SIDES.values()) - {drawn}
        yield Calling(entry, other, turned)
