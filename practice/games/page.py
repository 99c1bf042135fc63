"""What the game log carries with it, so that it works where there is no signal."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from datetime import UTC
from typing import Any, Final

from django.utils import timezone
from django.utils.translation import gettext as _

from plays.values import play_value, read_ahead
from practice.core.reps.called import MOST_POINTS, CallResult
from practice.models import DEFENCE_CHOICES, CallResultChoice, Game, TakenChoice
from practice.presence import out_by_game
from practice.reps.called_words import looks_told, points_told
from practice.reps.page import person, prefilled, sending_words
from practice.reps.store import tally_of_game
from roster.bridge import names_of
from roster.cast.changes import package_with_cast
from roster.models import Availability, PackagePlay, Player, Unit
from shared.models import User
from shared.speech import language_now

FIRST_DEFENCES: Final = 6  # shown at once; the others are one tap further


def game_data(game: Game, user: User) -> dict[str, Any]:
    """Plain values for the page's script: plays with their looks and casts, people, counts."""
    players = list(game.team.players.present())
    out = out_by_game([game])[game.pk]
    entries = list(package_with_cast(game.team))
    read_ahead(entry.revision for entry in entries)
    units = list(game.team.units.prefetch_related("members"))
    names = names_of(players)
    may = {p.pk for p in players if p.pk not in out and p.availability != Availability.OUT}
    return {
        "game": game.pk,
        "team": game.team_id,
        "by": user.pk,
        "at": timezone.now().astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.%fZ"),
        "players": [person(player, out, names.player(player.pk)) for player in players],
        "units": [
            {"id": u.pk, "name": u.name, "members": [m.pk for m in u.members.all() if m.pk in may]}
            for u in units
        ],
        "floor": first_floor(units, entries, players, may),
        "plays": [_play(entry) for entry in entries],
        "defences": [[value, str(label)] for value, label in DEFENCE_CHOICES],
        "first_defences": FIRST_DEFENCES,
        "takes": [[c.value, str(c.label)] for c in TakenChoice if c != TakenChoice.LOOK],
        "results": results(),
        "tally": tally_of_game(game.pk),
        "words": words(),
    }


def results() -> list[tuple[str, int | None, str]]:
    """The ends of a possession in the order of the buttons: result, points, label."""
    shots = [
        (CallResult.POINTS.value, points, points_told(points)) for points in range(MOST_POINTS + 1)
    ]
    others = [
        (value, None, str(label))
        for value, label in CallResultChoice.choices
        if value != CallResult.POINTS.value
    ]
    return [*shots, *others]


def first_floor(
    units: Iterable[Unit],
    entries: Sequence[PackagePlay],
    players: Iterable[Player],
    may: Collection[int],
) -> list[int]:
    """Who is likely on the floor at first: the first whole unit, else the first play's five."""
    for unit in units:
        members = [member.pk for member in unit.members.all() if member.pk in may]
        if len(members) == 5:
            return members
    cast = {(c.role, c.depth): c.player_id for c in entries[0].castings.all()} if entries else {}
    five = prefilled(cast, may, [player.pk for player in players])
    return [who for who in five if who is not None]


def _play(entry: PackagePlay) -> dict[str, Any]:
    return {
        "id": entry.pk,
        "call": entry.spoken(),
        "calls": entry.calls(),
        "revision": entry.revision_id,
        "situation": str(entry.play.get_situation_display()),
        "cast": [[c.role, c.depth, c.player_id] for c in entry.castings.all()],
        "looks": [list(look) for look in looks_told(play_value(entry.revision), language_now())],
    }


def words() -> dict[str, str]:
    """The sentences that the script says; {n} and the like are filled there."""
    return sending_words() | {
        "again": _("Called before"),
        "who_for": _("Who comes on for {name}?"),
        "on_floor": _("on the floor"),
        "period": _("Period {n}"),
        "no_period": _("Period"),
        "more_defences": _("More"),
        "fewer_defences": _("Fewer"),
        "count": _("{total} called"),
        "look": _("Look {n}"),
    }
