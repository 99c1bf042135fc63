"""The drills of a team: the list, one drill, its picture, and those of other teams."""

from __future__ import annotations

from django.contrib import messages
from django.db import transaction
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_http_methods, require_safe

from practice.access import coached_drill_for, drill_for
from practice.drills.changes import take_over
from practice.drills.forms import DrillForm, TakeOverForm
from practice.models import Drill
from roster.access import coached_team_for, may_coach, team_for, teams_for
from roster.models import Team
from shared.access import user_of
from shared.models import User
from shared.once import once
from shared.pages import page, status_of
from shared.photos import sent_photo
from shared.record import note_change

LONGEST = 1000  # pixels: a picture is a hand wide on paper
SECTION = "drills"


@require_safe
def drills(request: HttpRequest, pk: int) -> HttpResponse:
    """The team's drills, one line each."""
    user = user_of(request)
    team = team_for(user, pk)
    context = {
        "team": team,
        "section": SECTION,
        "drills": team.drills.without_picture(),
        "may_coach": may_coach(user, team),
        "elsewhere": _elsewhere(user, team),
    }
    return page(request, "practice/drills.html", context)


@require_http_methods(["GET", "POST"])
@once
def new_drill(request: HttpRequest, pk: int) -> HttpResponse:
    user = user_of(request)
    return _drill_form(request, user, Drill(team=coached_team_for(user, pk)))


@require_safe
def drill(request: HttpRequest, pk: int) -> HttpResponse:
    """One drill, and when it was planned last."""
    user = user_of(request)
    found = drill_for(user, pk)
    planned = found.blocks.select_related("practice").order_by("-practice__date")
    context = {
        "team": found.team,
        "section": SECTION,
        "drill": found,
        "planned": planned[:5],
        "may_coach": may_coach(user, found.team),
    }
    return page(request, "practice/drill.html", context)


@require_http_methods(["GET", "POST"])
@once
def edit_drill(request: HttpRequest, pk: int) -> HttpResponse:
    """Change a drill, or delete it: plans that have it keep their minutes and its name."""
    user = user_of(request)
    found = coached_drill_for(user, pk)
    if "delete" in request.POST:
        note_change(user, "deleted drill", found, team=found.team_id)
        found.delete()
        messages.success(request, _("%(name)s is deleted.") % {"name": found.name})
        return redirect("drills", found.team_id)
    return _drill_form(request, user, found)


@require_http_methods(["GET", "POST"])
@once
def take_drills(request: HttpRequest, pk: int) -> HttpResponse:
    """Copy drills of another team that this person is on the staff of."""
    user = user_of(request)
    team = coached_team_for(user, pk)
    form = TakeOverForm(request.POST or None, teams=_other_teams(user, team))
    if request.method == "POST" and form.is_valid():
        with transaction.atomic():
            taken = take_over(team, form.cleaned_data["drills"])
            names = [str(each) for each in taken]
            note_change(user, "took over drills", team, team=team.pk, after=names)
        n = len(taken)
        said = ngettext("%(n)d drill is copied.", "%(n)d drills are copied.", n)
        messages.success(request, said % {"n": n})
        return redirect("drills", team.pk)
    context = {"form": form, "team": team, "section": SECTION, "any": _elsewhere(user, team)}
    return page(request, "practice/take_drills.html", context, status=status_of(form))


@require_safe
def drill_picture(request: HttpRequest, pk: int) -> HttpResponse:
    """The picture of a drill, for the staff of its team."""
    found = drill_for(user_of(request), pk)
    if not found.picture_mark:
        raise Http404
    response = HttpResponse(bytes(found.picture), content_type="image/jpeg")
    response.headers["Cache-Control"] = "private, max-age=3600"
    return response


def _other_teams(user: User, team: Team) -> list[int]:
    return list(teams_for(user).exclude(pk=team.pk).values_list("pk", flat=True))


def _elsewhere(user: User, team: Team) -> bool:
    return Drill.objects.filter(team__in=_other_teams(user, team)).exists()


def _drill_form(request: HttpRequest, user: User, found: Drill) -> HttpResponse:
    team, is_new = found.team, found.pk is None
    form = DrillForm(request.POST or None, instance=found, team=team)
    if request.method == "POST":
        fault, picture = sent_photo(request, longest=LONGEST) if request.FILES else ("", b"")
        if fault:
            form.add_error("file", fault)
        if form.is_valid():
            if picture or form.cleaned_data.get("no_picture"):
                form.instance.show(picture)
            saved = form.save()
            note_change(user, "saved drill", saved, team=team.pk, after=form.changed_data)
            return redirect("drill", saved.pk)
    context = {"form": form, "team": team, "section": SECTION, "is_new": is_new}
    return page(request, "practice/drill_form.html", context, status=status_of(form))
