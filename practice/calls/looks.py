"""What the plays' looks are worth against whom a game is played."""

from __future__ import annotations

from collections.abc import Sequence

from plays.core.play import Situation
from plays.models import Revision
from plays.values import play_value, read_ahead
from practice.core.calls.looks import PlayLooks, against
from practice.core.learning.looks import estimates
from practice.core.learning.order import LookOrder, order_of
from practice.core.learning.tendencies import Tendencies
from practice.core.reps.called import CalledPlay
from practice.core.reps.rep import Id
from practice.games.possessions import possessions_of
from practice.models import Game
from practice.opponents.shares import tendencies_of
from roster.core.cast import PlayId
from roster.models import PackagePlay


def looks_against(game: Game, entries: Sequence[PackagePlay]) -> dict[PlayId, PlayLooks]:
    """Each carried play against the opponent of a game, by its key: six queries at most."""
    called = possessions_of(game.team)
    by_play: dict[Id, list[CalledPlay]] = {}
    for each in called:
        by_play.setdefault(each.play, []).append(each)
    orders = _orders({each.revision for each in called if isinstance(each.revision, int)})
    tends = tendencies_of(game.met) if game.met else None
    return {entry.pk: _of(entry, by_play.get(entry.pk, []), orders, tends) for entry in entries}


def _of(
    entry: PackagePlay,
    called: Sequence[CalledPlay],
    orders: dict[Id, LookOrder],
    tends: Tendencies | None,
) -> PlayLooks:
    now = order_of(play_value(entry.revision))
    found = estimates(now, orders, called)
    tendency = tends.against(Situation(entry.play.situation)) if tends else None
    if tendency is None:
        return against(now, found, {})
    return against(now, found, tendency.weights, tendency.usual)


def _orders(revisions: set[int]) -> dict[Id, LookOrder]:
    """The looks of every state that was run, by its key."""
    if not revisions:
        return {}
    rows = list(Revision.objects.filter(pk__in=revisions).defer("document").order_by())
    read_ahead(rows)
    return {row.pk: order_of(play_value(row)) for row in rows}
