"""What comes next for a team: the answer to the roster's question."""

from __future__ import annotations

from django.utils import timezone
from django.utils.translation import gettext as _

from practice.models import Game, Practice
from roster.models import Team
from roster.ports import Coming


def coming(team: Team) -> tuple[Coming, ...]:
    """The next practice and the next game from today on, the nearer first: two queries."""
    today = timezone.localdate()
    practice = Practice.objects.filter(team=team).ahead(today).first()
    game = Game.objects.filter(team=team).ahead(today).first()
    found = [_practice(practice)] if practice else []
    found += [_game(game)] if game else []
    return tuple(sorted(found, key=lambda each: each.day))


def _practice(row: Practice) -> Coming:
    return Coming(False, _("Practice"), row.date, row.start, row.place)


def _game(row: Game) -> Coming:
    against = _("Game against %(opponent)s") % {"opponent": row.opponent}
    return Coming(True, against, row.date, row.start, row.place)
