"""The package: which plays a team carries, and what it calls them."""

from __future__ import annotations

from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from plays.library.browse import levels_up_to
from plays.models import Play
from plays.values import play_value, read_ahead
from roster.access import coached_entry_for, coached_team_for, may_coach, team_for
from roster.cast.needs_change import cast_made_for
from roster.models import PackagePlay, Team
from roster.package.forms import EntryForm
from roster.package.taking import take_up_all, tell_taken
from shared.access import user_of
from shared.once import once
from shared.pages import page, status_of
from shared.record import note_change


@require_safe
def package(request: HttpRequest, pk: int) -> HttpResponse:
    """The plays the team carries, by priority, and those it could take up."""
    user = user_of(request)
    team = team_for(user, pk)
    kept = team.package.all().carried().with_cast()
    kept = kept.select_related("play__current", "revision")
    entries = list(kept.defer("play__search", "play__current__document", "revision__document"))
    read_ahead(entry.revision for entry in entries)
    carried = {entry.play_id for entry in entries}
    context = {
        "team": team,
        "section": "package",
        "may_coach": may_coach(user, team),
        "entries": entries,
        "others": _others(team, carried),
    }
    return page(request, "roster/package.html", context)


def _others(team: Team, carried: set[int]) -> list[Play]:
    """What the library has besides, for the pictures with its revision: what suits them first."""
    shelf = Play.objects.on_shelf().with_current()
    suit = levels_up_to(team.age_group)
    return sorted(
        (play for play in shelf if play.pk not in carried), key=lambda play: play.level not in suit
    )


@require_http_methods(["GET", "POST"])
@once
def take_up(request: HttpRequest, pk: int, key: str) -> HttpResponse:
    """Add a play of the library to the package, in its current revision."""
    user = user_of(request)
    team = coached_team_for(user, pk)
    shelf = Play.objects.on_shelf().with_current()
    play = get_object_or_404(shelf, key=key)
    if team.package.all().carried().filter(play=play).exists():
        return redirect("package", team.pk)
    entry = team.package.filter(play=play).first() or PackagePlay(team=team, play=play)
    revision = play.published()
    entry.revision, entry.dropped_on = revision, None
    call = entry.call or play_value(revision).call or play.name
    form = EntryForm(request.POST or None, instance=entry, initial={"call": call})
    if request.method == "POST" and form.is_valid():
        with transaction.atomic():
            form.save()
            note_change(user, "took up", entry, team=team.pk, after=play.key)
        messages.success(request, _("%(play)s is in the package.") % {"play": play.name})
        return redirect("cast-play", entry.pk)
    context = {"form": form, "team": team, "section": "package", "play": play}
    return page(request, "roster/entry_form.html", context, status=status_of(form))


@require_POST
@once
def take_up_ticked(request: HttpRequest, pk: int) -> HttpResponse:
    """Add every play that is ticked on the package's page, under its own call or its name."""
    user = user_of(request)
    team = coached_team_for(user, pk)
    keys = request.POST.getlist("play")
    shelf = Play.objects.on_shelf().with_current()
    plays = {play.key: play for play in shelf.filter(key__in=keys)}
    fresh = take_up_all(team, user, [plays[key] for key in dict.fromkeys(keys) if key in plays])
    if keys:
        tell_taken(request, len(fresh))
    else:
        messages.info(request, _("Nothing was ticked."))
    return redirect("package", team.pk)


@require_http_methods(["GET", "POST"])
@once
def edit_entry(request: HttpRequest, pk: int) -> HttpResponse:
    user = user_of(request)
    entry = coached_entry_for(user, pk)
    form = EntryForm(request.POST or None, instance=entry)
    if request.method == "POST" and form.is_valid():
        with transaction.atomic():
            form.save()
            note_change(user, "renamed", entry, team=entry.team_id, after=form.changed_data)
        return redirect("package", entry.team_id)
    context = {
        "form": form,
        "team": entry.team,
        "section": "package",
        "play": entry.play,
        "entry": entry,
    }
    return page(request, "roster/entry_form.html", context, status=status_of(form))


@require_POST
def drop(request: HttpRequest, pk: int) -> HttpResponse:
    """Take a play out of the package. Its cast and its reps stay for when it comes back."""
    user = user_of(request)
    entry = coached_entry_for(user, pk)
    with transaction.atomic():
        entry.dropped_on = timezone.localdate()
        entry.save(update_fields=["dropped_on"])
        note_change(user, "dropped", entry, team=entry.team_id)
    messages.success(request, _("%(play)s is out of the package.") % {"play": entry.play.name})
    return redirect("package", entry.team_id)


@require_POST
def update_revision(request: HttpRequest, pk: int) -> HttpResponse:
    """Go over to the play's current revision; the cast stays, by role, and the grid says
    where a role now asks for other things."""
    user = user_of(request)
    entry = coached_entry_for(user, pk)
    newest = entry.play.published()
    if newest != entry.revision:
        with transaction.atomic():
            note_change(
                user,
                "went to revision",
                entry,
                team=entry.team_id,
                before=entry.revision.number,
                after=newest.number,
            )
            entry.cast_for = cast_made_for(entry, newest)
            entry.revision = newest
            entry.save(update_fields=["revision", "cast_for"])
    return redirect("package", entry.team_id)
