"""What to print of a team: chosen on one page, made in the background where it takes long."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from roster.access import may_coach, team_for
from roster.models import Casting, Printing, Team
from roster.sheets.papers import TAKES_LONG, UNCAST, next_game, order_of
from roster.sheets.printing import NOTHING, begin, latest_of, order_for
from roster.sheets.views_files import paper_file
from shared.access import user_of
from shared.pages import page


@require_safe
def print_page(request: HttpRequest, pk: int) -> HttpResponse:
    """The papers of a team, and how far the booklets are."""
    user = user_of(request)
    team = team_for(user, pk)
    latest = latest_of(team)
    papers = {kind: _(name) for kind, name in TAKES_LONG.items()}
    made = order_for(latest) if latest and latest.state == Printing.State.DONE else None
    context = {
        "team": team,
        "section": "print",
        "may_coach": may_coach(user, team),
        "printing": latest,
        "papers": papers,
        "printed": papers[latest.kind] if latest else "",
        "address": made.address(team) if made and made.is_ready(team) else "",
        "order": order_of("booklets", request.GET.dict()),
        "game": next_game(team),
        "anybody": _is_cast(team),
        "any_play": team.package.all().carried().exists(),
    }
    return page(request, "roster/print.html", context)


@require_POST
def make_papers(request: HttpRequest, pk: int) -> HttpResponse:
    """Begin to draw a paper that takes long; drawn already, here it is."""
    team: Team = team_for(user_of(request), pk)
    wanted = request.POST.get("kind", "booklets")
    order = order_of(wanted if wanted in TAKES_LONG else "booklets", request.POST.dict())
    plays = team.package.all().carried()
    if not (plays.exists() if order.kind in UNCAST else _is_cast(team)):
        messages.warning(request, _(NOTHING))
    elif order.is_ready(team):
        return redirect(order.address(team))
    else:
        begin(team, order)
    return redirect(f"{reverse('print', args=[pk])}?{order.query}")


@require_safe
def paper(request: HttpRequest, pk: int, kind: str) -> HttpResponse:
    """One of the papers as a file."""
    return paper_file(request, team_for(user_of(request), pk), kind)


def _is_cast(team: Team) -> bool:
    return Casting.objects.filter(entry__team=team, entry__dropped_on=None).exists()
