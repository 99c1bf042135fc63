"""Choosing who fills one slot: everybody, best fit first, and what else a choice would move."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from plays.core.play import Role
from plays.values import play_value
from roster.bridge import player_value
from roster.cast.changes import FAULTY
from roster.cast.loaded import TeamCast
from roster.core.cast import Cast, PlayerId, Slot
from roster.core.casting.change_words import place_in_words
from roster.core.casting.changes import CastChange, with_changes
from roster.core.casting.faults import cast_problems
from roster.core.fit import Fit, fit
from roster.core.fit import in_words as fit_in_words
from roster.models import PackagePlay, Player


@dataclass(frozen=True, slots=True)
class CellChoice:
    """One player for the slot. ``also`` says where else they stand in this play.

    ``fault`` says why the choice cannot be made; ``swaps`` who takes their place in exchange.
    """

    player: Player
    name: str
    fit: Fit
    words: str
    also: tuple[str, ...]
    swaps: str
    fault: str
    load: int
    is_here: bool

    @property
    def hundredths(self) -> int | None:
        return self.fit.hundredths

    @property
    def is_unrated(self) -> bool:
        return self.fit.hundredths is None and bool(self.fit.terms)

    @property
    def is_sure(self) -> bool:
        return self.fit.rests_on >= 1


def choices(known: TeamCast, entry: PackagePlay, role: Role, depth: int) -> list[CellChoice]:
    """Those who can play by fit, then those who are out."""
    slot = Slot(entry.pk, role, depth)
    made = [_choice(known, entry, slot, player) for player in known.players.values()]
    return sorted(made, key=lambda c: (c.player.pk in known.out, -round(c.fit.value, 6)))


def changes_for(known: TeamCast, slot: Slot, player: PlayerId | None) -> tuple[CastChange, ...]:
    """What choosing a player for a slot moves: who stands there takes the player's old place.

    Their old place is the one in the same five, or else at another depth of the same role:
    they could not keep either.
    """
    filled = known.cast.by_slot()
    here = filled.get(slot)
    if here == player:
        return ()
    found = [CastChange(slot, here, player)]
    if player is not None:
        places = [s for s, who in filled.items() if who == player and _excludes(s, slot)]
        found += [CastChange(s, player, here if n == 0 else None) for n, s in enumerate(places)]
    return tuple(found)


def _excludes(one: Slot, other: Slot) -> bool:
    return one.play == other.play and (one.depth == other.depth or one.role == other.role)


def _choice(known: TeamCast, entry: PackagePlay, slot: Slot, player: Player) -> CellChoice:
    value = play_value(entry.revision)
    found = fit(value.needs, player_value(player), slot.role, known.group)
    moved = changes_for(known, slot, player.pk)
    places = [a for a in known.cast.of(player.pk) if a.play == entry.pk and a.slot != slot]
    return CellChoice(
        player,
        known.names.player(player.pk),
        found,
        fit_in_words(found, thrower=slot.role == value.thrower, language=known.language),
        tuple(place_in_words(a.slot, known.names) for a in places),
        _swapped(known, moved),
        _fault(known, moved),
        len(known.cast.of(player.pk)),
        known.cast.by_slot().get(slot) == player.pk,
    )


def _swapped(known: TeamCast, moved: Sequence[CastChange]) -> str:
    """Who goes to the chosen player's old place."""
    return known.names.all_players(c.after for c in moved[1:] if c.after is not None)


def _fault(known: TeamCast, moved: Sequence[CastChange]) -> str:
    """Why these changes of one play cannot be made; empty when they can."""
    if not moved:
        return ""
    play = moved[0].slot.play
    mine = Cast(tuple(a for a in known.cast.assignments if a.play == play))
    problems = cast_problems(with_changes(mine, moved), known.names)
    return " ".join(problem.sentence for problem in problems if problem.code in FAULTY)
