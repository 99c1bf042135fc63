"""From one cast to another: changes that a coach accepts one by one, or all at once.

A change is one slot filled otherwise. Those that make no sense alone are kept together, so that
after any choice of sets the cast is still sound.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from plays.core.play import ROLES
from roster.core.cast import Cast, PlayerId, Slot, cast_of


@dataclass(frozen=True, slots=True)
class CastChange:
    """One slot that is filled otherwise; None is a hole."""

    slot: Slot
    before: PlayerId | None
    after: PlayerId | None


def changes(old: Cast, new: Cast) -> tuple[CastChange, ...]:
    """All slots in which two casts differ: plays as they come, roles and depths in order."""
    before, after = old.by_slot(), new.by_slot()
    plays = list(dict.fromkeys([*old.plays(), *new.plays()]))
    differing = [s for s in {**before, **after} if before.get(s) != after.get(s)]
    differing.sort(key=lambda s: (plays.index(s.play), ROLES.index(s.role), s.depth))
    return tuple(CastChange(slot, before.get(slot), after.get(slot)) for slot in differing)


def change_sets(old: Cast, new: Cast) -> tuple[tuple[CastChange, ...], ...]:
    """The changes in the smallest sets that can be accepted by themselves.

    Two changes hang together when one brings a player to a depth, or into a role, of a play
    which the other takes the same player from: accepting only one would have that player
    there twice. Both casts must be free of faults.
    """
    found = changes(old, new)
    group = list(range(len(found)))
    for one, change in enumerate(found):
        for other, giving in enumerate(found):
            if _needs(change, giving):
                low, high = sorted((group[one], group[other]))
                group = [low if number == high else number for number in group]
    return tuple(
        tuple(change for change, mine in zip(found, group, strict=True) if mine == number)
        for number in sorted(set(group))
    )


def with_changes(cast: Cast, accepted: Iterable[CastChange]) -> Cast:
    """The cast with these changes made; slots that were holes come last."""
    filled: dict[Slot, PlayerId] = cast.by_slot()
    for change in accepted:
        if change.after is None:
            filled.pop(change.slot, None)
        else:
            filled[change.slot] = change.after
    return cast_of(filled)


def stale(cast: Cast, accepted: Iterable[CastChange]) -> tuple[CastChange, ...]:
    """The changes whose slot is no longer as it was when they were suggested."""
    now: Mapping[Slot, PlayerId] = cast.by_slot()
    return tuple(change for change in accepted if now.get(change.slot) != change.before)


def beneath(answer: Cast, present: Cast, depth: int) -> Cast:
    """An answer down to ``depth``, and beneath it what the present cast holds.

    Who moves up in a role leaves a place beneath; whoever gave way to them takes it, unless
    they stand in that role or in that depth of the play already. Plays that the answer says
    nothing of stay as they are.
    """
    filled = answer.by_slot()
    answered = set(answer.plays())
    given_up = []
    for a in present.assignments:
        if a.play not in answered:
            filled[a.slot] = a.player
        elif a.depth > depth and a.player in answer.who(a.play, a.role):
            given_up.append(a.slot)
        elif a.depth > depth:
            filled[a.slot] = a.player
    for slot in given_up:
        free = [who for who in present.who(slot.play, slot.role) if _may_stand(who, slot, filled)]
        if free:
            filled[slot] = free[0]
    return cast_of(filled)


def _may_stand(player: PlayerId, slot: Slot, filled: Mapping[Slot, PlayerId]) -> bool:
    return not any(
        who == player
        and other.play == slot.play
        and slot[1:] != other[1:]
        and (other.role == slot.role or other.depth == slot.depth)
        for other, who in filled.items()
    )


def _needs(change: CastChange, giving: CastChange) -> bool:
    if change.after is None or change.after != giving.before or change is giving:
        return False
    one, other = change.slot, giving.slot
    return one.play == other.play and (one.depth == other.depth or one.role == other.role)
