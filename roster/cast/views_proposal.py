"""Proposing a cast for the whole package: ask, look, accept, turn down, stop."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_POST, require_safe

from roster.access import coached_team_for
from roster.cast.changes import CastChangedError, FaultyCastError, Kind, change_cast
from roster.cast.loaded import TeamCast, team_cast
from roster.cast.page import without_a_part
from roster.cast.proposal_page import progress_of
from roster.cast.proposals import ask, key_of, open_proposal, read_change, written
from roster.cast.views import grid_context
from roster.core.casting.changes import CastChange, stale, with_changes
from roster.models import CastProposal, Team
from shared.access import user_of
from shared.core.numbers import whole_number
from shared.models import User
from shared.pages import page

State = CastProposal.State


@require_POST
def propose(request: HttpRequest, pk: int) -> HttpResponse:
    """Begin to work out a cast; the answer of each play by itself is there at once."""
    user = user_of(request)
    team = coached_team_for(user, pk)
    able = team.players.present().exclude(availability="out").count()
    if able < 5 or not team.package.all().carried().exists():
        messages.warning(
            request, _("A cast needs at least one play and five players who are not out.")
        )
    else:
        ask(team, user, 3 if request.POST.get("depth") == "3" else 2)
    return redirect("cast", team.pk)


@require_safe
def proposal(request: HttpRequest, pk: int) -> HttpResponse:
    """How far the search is; when it has ended, the panel and the grid anew."""
    user = user_of(request)
    team = coached_team_for(user, pk)
    if not request.htmx:  # type: ignore[attr-defined]
        return redirect("cast", team.pk)
    found = open_proposal(team)
    if found is not None and found.is_running:
        context = {"team": team, "progress": progress_of(found)}
        return page(request, "roster/cast_progress.html", context)
    response = page(request, "roster/cast.html", grid_context(team, user))
    response.headers["HX-Retarget"] = "#content"
    response.headers["HX-Reswap"] = "innerHTML"
    return response


@require_POST
def accept(request: HttpRequest, pk: int) -> HttpResponse:
    """Make suggested changes, one set or all, or turn a set down."""
    user = user_of(request)
    team = coached_team_for(user, pk)
    read = [read_change(text) for text in request.POST.getlist("change")]
    wanted = [change for change in read if change is not None]
    if "decline" in request.POST:
        _decline(team, wanted)
    elif wanted:
        known = team_cast(team)
        lost = _left_out_unasked(request, known, wanted)
        if lost:
            return _ask_first(request, known, wanted, lost)
        _accept(request, team, wanted, user)
    return redirect("cast", team.pk)


def _left_out_unasked(
    request: HttpRequest, known: TeamCast, wanted: list[CastChange]
) -> tuple[int, ...]:
    """Who would be without a part by these changes, unless the form already says so.

    Of one set only those who have a part now; of a whole proposal everybody.
    """
    if stale(known.cast, wanted):
        return ()  # refused as a whole, and told so
    lost = without_a_part(known, with_changes(known.cast, wanted))
    if "whole" not in request.POST:
        before = set(without_a_part(known, known.cast))
        lost = tuple(pk for pk in lost if pk not in before)
    said = {whole_number(text) for text in request.POST.getlist("without")}
    return lost if set(lost) - said else ()


def _ask_first(
    request: HttpRequest, known: TeamCast, wanted: list[CastChange], lost: tuple[int, ...]
) -> HttpResponse:
    found = open_proposal(known.team)
    context = {
        "team": known.team,
        "section": "cast",
        "names": known.names.all_players(lost),
        "lost": lost,
        "written": [written(change) for change in wanted],
        "is_running": found is not None and found.is_running,
        "whole": "whole" in request.POST,
    }
    return page(request, "roster/cast_left_out.html", context, status=422)


def _decline(team: Team, wanted: list[CastChange]) -> None:
    found = open_proposal(team)
    if found is not None and wanted:
        found.declined = [*found.declined, key_of(wanted)]
        found.save(update_fields=["declined"])


def _accept(request: HttpRequest, team: Team, wanted: list[CastChange], user: User) -> None:
    try:
        change_cast(team, wanted, user, Kind.ACCEPTED)
    except CastChangedError:
        messages.warning(
            request,
            _("The cast has moved on since this was suggested: nothing was overwritten."),
        )
    except FaultyCastError as fault:
        messages.error(request, str(fault))
    else:
        said = ngettext("%(n)d change accepted.", "%(n)d changes accepted.", len(wanted))
        messages.success(request, said % {"n": len(wanted)})


@require_POST
def stop(request: HttpRequest, pk: int) -> HttpResponse:
    """Stop the search and keep what it has found, or put a finished proposal away."""
    user = user_of(request)
    team = coached_team_for(user, pk)
    running = team.proposals.filter(state=State.RUNNING)
    if not running.update(stop_asked=True):
        team.proposals.exclude(state=State.RUNNING).update(state=State.CLOSED)
    return redirect("cast", team.pk)
