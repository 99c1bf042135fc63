"""Coverage: what can be run when, who is out, what to teach next."""

from __future__ import annotations

from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from plays.core.play import ROLES
from roster import ports
from roster.access import coached_team_for, may_coach, team_for
from roster.cast.loaded import team_cast
from roster.cast.page import team_note
from roster.coverage.page import CoveragePage
from roster.models import Lesson, Team
from shared.access import user_of
from shared.core.numbers import whole_number
from shared.models import User
from shared.once import once
from shared.pages import page
from shared.record import note_change


@require_safe
def coverage(request: HttpRequest, pk: int) -> HttpResponse:
    """The share of game time in which each play can be run; ``?out=`` supposes somebody out."""
    user = user_of(request)
    team = team_for(user, pk)
    known = team_cast(team)
    asked = {whole_number(text) for text in request.GET.getlist("out")}
    out = tuple(who for who in known.reckoned if who in asked and who not in known.out)
    wishes = tuple(open_lessons(team))
    only_ready = ports.is_known() and request.GET.get("ready") == "on"
    context = {
        "team": team,
        "section": "coverage",
        "known": known,
        "coverage": CoveragePage(known, out, only_ready, wishes, request.GET.get("fives", "")),
        "wishes": wishes,
        "has_readiness": ports.is_known(),
        "too_few": team_note(known),
        "may_coach": may_coach(user, team),
    }
    return page(request, "roster/coverage.html", context)


def open_lessons(team: Team) -> list[Lesson]:
    """The lessons that the staff has put on the list and not yet struck off."""
    rows = Lesson.objects.filter(team=team, done=False, entry__dropped_on=None)
    return list(rows.select_related("player", "entry__play", "made_by"))


@require_POST
@once
def wish_lesson(request: HttpRequest, pk: int) -> HttpResponse:
    """Put lessons on the list that the install plan reads, or strike one off."""
    user = user_of(request)
    team = coached_team_for(user, pk)
    if "strike" in request.POST:
        _strike(request, team, user)
        return redirect("coverage", team.pk)
    added = [_wish(text, team, user) for text in request.POST.getlist("lesson")]
    if any(added):
        messages.success(request, _("On the list: the install plan will find reps for it."))
    return redirect("coverage", team.pk)


def _strike(request: HttpRequest, team: Team, user: User) -> None:
    number = request.POST["strike"]
    lesson = get_object_or_404(Lesson, pk=whole_number(number) or 0, team=team)
    lesson.done = True
    lesson.save(update_fields=["done"])
    note_change(user, "struck off lesson", lesson, team=team.pk)


def _wish(text: str, team: Team, user: User) -> bool:
    """One lesson, written as player.play.role. False where it is there or makes no sense."""
    parts = text.split(".")
    if len(parts) != 3 or parts[2] not in ROLES:
        return False
    player = team.players.present().filter(pk=whole_number(parts[0]) or 0).first()
    entry = team.package.all().carried().filter(pk=whole_number(parts[1]) or 0).first()
    if player is None or entry is None:
        return False
    with transaction.atomic():
        lesson, made = Lesson.objects.get_or_create(
            team=team,
            player=player,
            entry=entry,
            role=parts[2],
            done=False,
            defaults={"made_by": user},
        )
        if made:
            note_change(user, "wished lesson", lesson, team=team.pk)
    return made
