"""Writes the games that the demo club has played, by the door that takes them every day."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import Final

from coachbook.demo.club import Carried, DemoSquad
from coachbook.demo.games import GamePlay, PlayedGame
from coachbook.demo.season import SeasonGame
from plays.values import play_value
from practice.core.instants import later
from practice.core.learning.order import order_of
from practice.core.reps.rep import Undo
from practice.models import Game, SquadMark
from practice.opponents.meeting import meet
from practice.reps.store import store
from roster.models import PackagePlay, Team
from shared.models import User

DROPPED_AGO: Final = timedelta(days=20)
SOON: Final = 0.2  # minutes after a tap, in which somebody sees that it was wrong


def game_plays(
    squad: DemoSquad,
    entries: Mapping[str, PackagePlay],
    numbers: Mapping[str, int],
    today: date,
) -> tuple[GamePlay, ...]:
    """Every play that the team carries or has dropped meanwhile, as the games call it."""
    return tuple(
        _game_play(carried, entries[carried.play], numbers, until)
        for package, until in ((squad.package, None), (squad.dropped, today - DROPPED_AGO))
        for carried in package
    )


def _game_play(
    carried: Carried, entry: PackagePlay, numbers: Mapping[str, int], until: date | None
) -> GamePlay:
    play = play_value(entry.revision)
    return GamePlay(
        key=entry.pk,
        name=carried.play,
        revision=entry.revision_id,
        situation=play.situation,
        order=order_of(play),
        priority=carried.priority,
        cast={role: tuple(numbers[n] for n in who) for role, who in carried.cast.items()},
        calls=tuple(call for call, _heard in entry.calls()),
        until=until,
    )


def write_games(
    team: Team, games: Sequence[PlayedGame], plays: Sequence[GamePlay], logger: User
) -> None:
    """The games and who was out, what was called, what was dropped, and what came too late."""
    rows = {game.number: game_row(team, game) for game in games}
    squad = list(team.players.all())
    SquadMark.objects.bulk_create(
        SquadMark(game=rows[game.number], player=player, is_out=player.pk in game.out)
        for game in games
        for player in squad
    )
    called = [each for game in games for each in game.called]
    undone = {key for game in games for key in game.undone}
    store(
        [
            *(replace(each, game=rows[int(each.game)].pk) for each in called),
            *(_undo(each.id, each.at) for each in called if each.id in undone),
        ],
        team,
        logger,
    )
    for play in plays:
        team.package.filter(pk=play.key).update(dropped_on=play.until)
    late = [each for game in games for each in game.held]
    store([replace(each, game=rows[int(each.game)].pk) for each in late], team, logger)


def _undo(key: str, at: datetime) -> Undo:
    return Undo(f"undo {key}", key, later(at, SOON))


def game_row(team: Team, game: PlayedGame | SeasonGame) -> Game:
    """Write a game, past or to come."""
    row = Game(
        team=team,
        date=game.starts.date(),
        start=game.starts.time(),
        opponent=game.opponent,
        place=game.place,
    )
    meet(row)
    row.save()
    return row
