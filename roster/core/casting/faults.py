"""What is wrong with a cast that somebody made by hand: every fault, in words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Hashable, Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from plays.core.play import ROLES
from roster.core.cast import DEPTHS, Assignment, Cast, PlayerId, PlayId, Slot
from roster.core.casting.depths import DEPTHS_IN_WORDS
from roster.core.names import Names
from shared.core.finding import Finding, Severity
from shared.core.language import N_, NN_

TWICE_AT_DEPTH: Final = N_(
    "{player} is in roles {roles} of {play}, and can fill only one of them at a time."
)
TWICE_IN_ROLE: Final = N_("{player} stands in role {role} of {play} more than once.")
SLOT_TWICE: Final = N_("{players} are both {depth} in role {role} of {play}.")
NO_SUCH_PLACE: Final = N_("{play} has no role {role}, {depth}.")
NOT_ON_ROSTER: Final = N_(
    "Role {role} of {play}, {depth}: the player has left the roster, and nobody stands there."
)
OUT: Final = N_("{player} is out, and stands {depth} in role {role} of {play}.")
HOLE: Final = N_("Nobody is cast in role {role} of {play}.")
NOBODY_THERE: Final = N_("Nobody is available: five are needed on the floor.")
FEWER_THAN_FIVE: Final = NN_(
    "Only {n} player is available: five are needed on the floor.",
    "Only {n} players are available: five are needed on the floor.",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class CastFinding(Finding):
    """One fault of a cast, told by the slots it concerns."""

    severity: Severity = Severity.SERIOUS
    place: str = ""
    slots: tuple[Slot, ...]


def cast_problems(
    cast: Cast,
    names: Names = Names(),  # noqa: B008 (a frozen value)
    *,
    roster: Collection[PlayerId] | None = None,
    out: Collection[PlayerId] = (),
    plays: Iterable[PlayId] | None = None,
) -> tuple[CastFinding, ...]:
    """All faults of a cast.

    With ``roster``, a player who is not on it leaves a hole; ``out`` are those who cannot play.
    With ``plays``, a role of these plays without a first player is told too.
    """
    found = [*_no_such_place(cast, names), *_twice(cast, names), *_in_role_twice(cast, names)]
    found += _slots_twice(cast, names)
    found += _people(cast, names, roster, out)
    found += _holes(cast, names, plays or ())
    return tuple(found)


def too_few(players: Collection[PlayerId], names: Names) -> str | None:
    """The sentence that says that no five can be made up, or None."""
    if len(players) >= len(ROLES):
        return None
    if not players:
        return names.language.say(NOBODY_THERE)
    return names.language.say_n(*FEWER_THAN_FIVE, len(players))


def _no_such_place(cast: Cast, names: Names) -> Iterator[CastFinding]:
    for a in cast.assignments:
        if a.role not in ROLES or a.depth not in DEPTHS:
            yield _problem("no_such_place", [a], names, NO_SUCH_PLACE)


def _twice(cast: Cast, names: Names) -> Iterator[CastFinding]:
    for group in _groups(cast, lambda a: (a.play, a.depth, a.player)):
        roles = sorted({a.role for a in group})
        if len(roles) > 1:
            said = names.language.all_of(roles)
            yield _problem("twice_at_depth", group, names, TWICE_AT_DEPTH, roles=said)


def _in_role_twice(cast: Cast, names: Names) -> Iterator[CastFinding]:
    for group in _groups(cast, lambda a: (a.play, a.role, a.player)):
        if len({a.depth for a in group}) > 1:
            yield _problem("twice_in_role", group, names, TWICE_IN_ROLE)


def _slots_twice(cast: Cast, names: Names) -> Iterator[CastFinding]:
    for group in _groups(cast, lambda a: a.slot):
        if len({a.player for a in group}) > 1:
            said = names.all_players(a.player for a in group)
            yield _problem("slot_twice", group, names, SLOT_TWICE, players=said)


def _people(
    cast: Cast, names: Names, roster: Collection[PlayerId] | None, out: Collection[PlayerId]
) -> Iterator[CastFinding]:
    for a in cast.assignments:
        if roster is not None and a.player not in roster:
            yield _problem("not_on_roster", [a], names, NOT_ON_ROSTER)
        elif a.player in out:
            yield _problem("out", [a], names, OUT)


def _holes(cast: Cast, names: Names, plays: Iterable[PlayId]) -> Iterator[CastFinding]:
    for slot in cast.holes(plays):
        said = names.language.say(HOLE, role=slot.role, play=names.play(slot.play))
        yield CastFinding("hole", sentence=said, slots=(slot,))


def _groups(cast: Cast, key: Callable[[Assignment], Hashable]) -> list[list[Assignment]]:
    """Assignments with one key, for the keys that come more than once."""
    counts = Counter(key(a) for a in cast.assignments)
    return [[a for a in cast.assignments if key(a) == k] for k, n in counts.items() if n > 1]


def _problem(
    code: str, group: list[Assignment], names: Names, template: str, **slots: str
) -> CastFinding:
    first = group[0]
    said = names.language.say(
        template,
        play=names.play(first.play),
        role=first.role,
        depth=names.language.say(DEPTHS_IN_WORDS.get(first.depth, str(first.depth))),
        player=names.player(first.player),
        **slots,
    )
    return CastFinding(code, sentence=said, slots=tuple(a.slot for a in group))
