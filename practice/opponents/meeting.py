"""Games and the opponents they name: one row for each name, however it is written."""

from __future__ import annotations

from django.db import transaction

from practice.models import Game, Opponent
from roster.models import Team


def named(team: Team, name: str) -> Opponent | None:
    """The team's opponent of that name, in whatever case and with whatever spaces."""
    wanted = _plain(name)
    return next((one for one in team.opponents.all() if _plain(one.name) == wanted), None)


@transaction.atomic
def meet(game: Game) -> None:
    """Tie a game, not saved yet, to the opponent that it names; make one for a new name."""
    name = " ".join(game.opponent.split())
    known = named(game.team, name)
    if known is None:
        known, _new = Opponent.objects.get_or_create(team=game.team, name=name)
    game.met = known


def rename_games(opponent: Opponent) -> None:
    """Let the games against an opponent say its new name."""
    opponent.games.update(opponent=opponent.name)


def _plain(name: str) -> str:
    return " ".join(name.split()).casefold()
