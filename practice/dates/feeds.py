"""Calendars to subscribe to: their links, and what stands in them."""

from __future__ import annotations

import uuid
from typing import Final

from django.db import transaction
from django.db.models import QuerySet, Sum
from django.utils import timezone
from django.utils.crypto import salted_hmac
from django.utils.translation import gettext as _

from practice.bridge import moment
from practice.core.dates.feed import FeedEvent, write_feed
from practice.models import FeedLink, Game, Practice
from practice.plan.length import USUAL_MINUTES, lasting
from practice.presence import away_by_practice
from roster.models import Player, Team
from shared.fields import season
from shared.links import new_nonce, nonce_of, token_of
from shared.models import User
from shared.record import note_change

PURPOSE: Final = "calendar"


def feed_link(team: Team, player: Player | None) -> FeedLink:
    """The open link of a team's or a player's calendar; a new one where there is none."""
    found = team.feed_links.filter(player=player, withdrawn_at=None).first()
    return found or FeedLink.objects.create(team=team, player=player, nonce=new_nonce())


@transaction.atomic
def give(team: Team, player: Player | None, user: User) -> None:
    """Make the address of the team's own calendar, or of a player's, where there is none."""
    if not team.feed_links.filter(player=player, withdrawn_at=None).exists():
        feed_link(team, player)
        note_change(user, "made a calendar address", player or team, team=team.pk)


@transaction.atomic
def withdraw(team: Team, player: Player | None, user: User) -> None:
    """Close the team's own calendar, or a player's."""
    if _close(team.feed_links.filter(player=player)):
        note_change(user, "withdrew a calendar address", player or team, team=team.pk)


def withdraw_all(team: Team) -> None:
    """Close the team's calendar and those of all its players."""
    _close(team.feed_links.all())


def _close(links: QuerySet[FeedLink]) -> int:
    return links.filter(withdrawn_at=None).update(withdrawn_at=timezone.now())


def token(link: FeedLink) -> str:
    return token_of(link.nonce, PURPOSE)


def link_behind(text: str) -> FeedLink | None:
    """The calendar that a token opens: genuine, not withdrawn, its player still in the team."""
    links = FeedLink.objects.select_related("team", "player").filter(
        nonce=nonce_of(text, PURPOSE) or "", withdrawn_at=None
    )
    link = links.first()
    return None if link is None or (link.player and link.player.left_on) else link


def feed(link: FeedLink) -> bytes:
    """The calendar as iCalendar; a player's leaves out the practices they are away from.

    Two years back and ahead: a day beyond is a slip, and would ask for a century of clock changes.
    """
    team, player = link.team, link.player
    near = {"date__gte": season().first, "date__lte": season().last}
    rows = team.practices.filter(**near).annotate(planned=Sum("blocks__minutes"))
    practices = list(rows)
    if player is not None:
        away = away_by_practice(practices)
        practices = [each for each in practices if player.pk not in away[each.pk]]
    title = f"{team.name} · {player.name}" if player else str(team)
    events = [*map(_practice_event, practices), *map(_game_event, team.games.filter(**near))]
    return write_feed(title, events)


def _practice_event(practice: Practice) -> FeedEvent:
    return FeedEvent(
        uid=_uid("practice", practice.pk),
        starts=moment(practice.date, practice.start),
        minutes=lasting(practice, getattr(practice, "planned", None)),
        title=_("Practice"),
        changed=practice.changed_at,
        sequence=practice.sequence,
        place=practice.place,
        cancelled=practice.cancelled,
    )


def _game_event(game: Game) -> FeedEvent:
    return FeedEvent(
        uid=_uid("game", game.pk),
        starts=moment(game.date, game.start),
        minutes=USUAL_MINUTES,
        title=_("Game: %(opponent)s") % {"opponent": game.opponent},
        changed=game.changed_at,
        sequence=game.sequence,
        place=game.place,
        cancelled=game.cancelled,
    )


def _uid(kind: str, pk: int) -> str:
    """An id that nobody else makes and that never changes (RFC 7986, 5.3 asks for a UUID)."""
    digest = salted_hmac("calendar", f"{kind}-{pk}", algorithm="sha256").hexdigest()
    return str(uuid.UUID(hex=digest[:32], version=4))
