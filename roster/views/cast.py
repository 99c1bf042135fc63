"""The cast: one grid for the package, one form for each play."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from plays.core.play import ROLES
from roster.access import entry_for, may_coach, team_for
from roster.casting import ChangedMeanwhileError, grid, row_of, save_cast
from roster.forms.package import DEPTH_NAMES, CastForm, field_name
from roster.models import PackagePlay
from shared.access import require, user_of
from shared.pages import page, status_of


@require_safe
def cast(request: HttpRequest, pk: int) -> HttpResponse:
    """Plays by roles, with names at three depths."""
    user = user_of(request)
    team = team_for(user, pk)
    context = {
        "team": team,
        "section": "cast",
        "rows": grid(team),
        "roles": ROLES,
        "may_coach": may_coach(user, team),
    }
    return page(request, "roster/cast.html", context)


@require_http_methods(["GET", "POST"])
def cast_play(request: HttpRequest, pk: int) -> HttpResponse:
    """Cast one play by hand."""
    user = user_of(request)
    entry = entry_for(user, pk)
    require(may_coach(user, entry.team))
    squad = list(entry.team.players.present())
    form = CastForm(request.POST or None, entry=entry, squad=squad, initial=_initial(entry))
    if request.method == "POST" and form.is_valid():
        try:
            save_cast(entry, form.filled(), user, seen_version=form.cleaned_data["version"])
        except ChangedMeanwhileError:
            form = _shown_again(form, entry)
        else:
            call = entry.spoken()
            messages.success(request, _("The cast of %(call)s is saved.") % {"call": call})
            return redirect("cast", entry.team_id)
    context = {
        "form": form,
        "entry": entry,
        "team": entry.team,
        "section": "cast",
        "depths": DEPTH_NAMES.values(),
        "current": row_of(entry),
    }
    return page(request, "roster/cast_play.html", context, status=status_of(form))


def _initial(entry: PackagePlay) -> dict[str, object]:
    castings = entry.castings.all()
    filled = {field_name(c.role, c.depth): str(c.player_id) for c in castings}  # type: ignore[arg-type]
    return {**filled, "version": entry.cast_version}


def _shown_again(form: CastForm, entry: PackagePlay) -> CastForm:
    """The same choices, with a word that the cast has moved on, ready to be sent on purpose."""
    entry.refresh_from_db()
    data = {**form.data, "version": str(entry.cast_version)}
    again = CastForm(data, entry=entry, squad=list(form.people.values()))
    said = _(
        "Somebody changed this cast meanwhile. Theirs is shown below; save again to put yours."
    )
    again.add_error(None, said)
    return again
