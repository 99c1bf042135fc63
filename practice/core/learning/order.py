"""What a look that was taken tells about the others.

Looks come in an order. Taken, a look was there; those that were passed up before it were not;
those after it nobody has seen. So each is judged only by the possessions that reached it, as the
steps of a sequence are (continuation ratios: Fienberg 1980, The Analysis of Cross-Classified
Categorical Data; Tutz 1991, Comput Stat Data Anal 11:275; both from memory). One that somebody
else throws, who has the ball by an earlier look, was reached by way of that.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from plays.core.play import ActionKind, Look, Play, Role
from practice.core.reps.called import CalledPlay, Take


@dataclass(frozen=True, slots=True)
class LookPlace:
    """A look in the order: ``by`` is the earlier look that gives its passer the ball, if one does.

    ``turn`` is shared by looks that the passer reads with one glance: one of them at most is there.
    """

    id: str
    ends: tuple[Role, Role]  # passer and receiver
    turn: int
    by: str | None = None
    guess: float | None = None


@dataclass(frozen=True, slots=True)
class LookOrder:
    """The looks of one state of a play, in their order."""

    places: tuple[LookPlace, ...]
    by_id: Mapping[str, LookPlace] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "by_id", {place.id: place for place in self.places})

    def way_to(self, look: str) -> tuple[str, ...]:
        """The looks by which the ball comes to a look, the first one first, itself at the end."""
        by = self.by_id[look].by
        return (look,) if by is None else (*self.way_to(by), look)


@dataclass(frozen=True, slots=True)
class LookEvidence:
    """Of one possession: the looks that were there, and those that were reached and were not."""

    there: frozenset[str] = frozenset()
    absent: frozenset[str] = frozenset()


NOTHING_SEEN = LookEvidence()


def order_of(play: Play) -> LookOrder:
    """The order of a play's own looks."""
    places: list[LookPlace] = []
    holders = _holders(play)
    for look, turn in zip(play.looks, _turns(play.looks), strict=True):
        givers = (place.id for place in reversed(places) if place.ends[1] == look.passer)
        by = None if look.passer in holders else next(givers, None)
        places.append(LookPlace(look.id, (look.passer, look.receiver), turn, by, look.guess))
    return LookOrder(tuple(places))


def evidence(order: LookOrder, possession: CalledPlay) -> LookEvidence:
    """What a possession says about each look of the state that was run.

    Nothing where it broke, where nobody said, or where the look is not one of these.
    """
    if possession.taken is Take.NONE:
        return LookEvidence(absent=frozenset(p.id for p in order.places if p.by is None))
    if possession.look is None or possession.look not in order.by_id:
        return NOTHING_SEEN
    way = order.way_to(possession.look)
    absent: set[str] = set()
    by = None
    for step in way:
        absent |= set(_passed_up(order, order.by_id[step], by))
        by = step
    return LookEvidence(frozenset(way), frozenset(absent - set(way)))


def _passed_up(order: LookOrder, taken: LookPlace, by: str | None) -> Iterator[str]:
    """The looks that whoever had the ball, by the look ``by``, had before the one taken."""
    reached = order.places.index(taken)
    for n, place in enumerate(order.places):
        if place.by == by and (n < reached or place.turn == taken.turn):
            yield place.id


def _holders(play: Play) -> frozenset[Role]:
    """Who has the ball without a look: from the beginning, or by a pass that is written down."""
    given = {
        action.to
        for action in play.actions()
        if action.kind in (ActionKind.PASS, ActionKind.HANDOFF) and action.to is not None
    }
    return frozenset(given | {play.thrower or play.ball})


def _turns(looks: tuple[Look, ...]) -> Iterator[int]:
    """One number a turn: looks in a row of one passer that read the same defenders share it."""
    turn = 0
    for n, look in enumerate(looks):
        before = looks[n - 1] if n else None
        shared = (
            before is not None
            and before.passer == look.passer
            and before.read is not None
            and look.read is not None
            and before.read.whose == look.read.whose
        )
        turn += 0 if shared else 1
        yield turn
