"""At the court: attendance and reps."""

from __future__ import annotations

from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.translation import get_language
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from practice.access import practice_for
from practice.bridge import present_value
from practice.core import cautions
from practice.core.findings import errors
from practice.core.rep_rules import check_rep
from practice.forms import RepForm
from practice.logging import save_rep
from practice.models import Attendance, Practice, Presence
from roster.casting import package_with_cast
from roster.models import PackagePlay, Player
from shared.access import user_of
from shared.core.language import language
from shared.pages import page, status_of


@require_http_methods(["GET", "POST"])
def attendance(request: HttpRequest, pk: int) -> HttpResponse:
    """Who is here. Everybody counts as present until marked otherwise."""
    practice = practice_for(user_of(request), pk)
    players = list(practice.team.players.present())
    if request.method == "POST":
        _save_attendance(practice, players, request.POST.dict())
        messages.success(request, _("Attendance is saved."))
        return redirect("practice", practice.pk)
    marked = dict(practice.attendance.values_list("player_id", "presence"))
    context = {
        "team": practice.team,
        "section": "practices",
        "practice": practice,
        "lines": [(p, marked.get(p.pk, Presence.PRESENT.value)) for p in players],
        "presences": Presence.choices,
    }
    return page(request, "practice/attendance.html", context)


@transaction.atomic
def _save_attendance(practice: Practice, players: list[Player], data: dict[str, str]) -> None:
    for player in players:
        presence = data.get(f"presence-{player.pk}", Presence.PRESENT.value)
        if presence in Presence.values:
            Attendance.objects.update_or_create(
                practice=practice, player=player, defaults={"presence": presence}
            )


@require_http_methods(["GET", "POST"])
def log(request: HttpRequest, pk: int) -> HttpResponse:
    """Choose the play to log; with ?play= the form for its reps."""
    practice = practice_for(user_of(request), pk)
    entries = list(package_with_cast(practice.team))
    wanted = request.POST.get("play") or request.GET.get("play")
    entry = next((e for e in entries if str(e.pk) == wanted), entries[0] if entries else None)
    speech = language(get_language() or "en")
    context = {
        "team": practice.team,
        "section": "practices",
        "practice": practice,
        "entries": entries,
        "entry": entry,
        "cautions": [speech.say(caution.sentence) for caution in cautions.FOR_LIVE],
        "reps": practice.reps.select_related("entry").prefetch_related(
            "roles__player", "entry__castings__player"
        )[:12],
        "rep_count": practice.reps.count(),
    }
    if entry is None:
        return page(request, "practice/log.html", context)
    squad = list(practice.team.players.present())
    form = RepForm(request.POST or None, squad=squad, initial=_cast_initial(entry, request))
    if (
        request.method == "POST"
        and form.is_valid()
        and _logged(request, form, practice, entry, squad)
    ):
        kept = f"?play={entry.pk}&mode={form.cleaned_data['mode']}"
        return redirect(f"{request.path}{kept}")
    return page(request, "practice/log.html", {**context, "form": form}, status=status_of(form))


def _logged(
    request: HttpRequest,
    form: RepForm,
    practice: Practice,
    entry: PackagePlay,
    squad: list[Player],
) -> bool:
    """Store the rep unless something stops it; what stops it is shown at its field."""
    speech = language(get_language() or "en")
    clean = request.POST.get("result") != "error"
    rep = form.rep(practice, entry, timezone.now(), clean=clean)
    stopping = errors(check_rep(rep, present_value(practice, squad), speech))
    for finding in stopping:
        form.show(finding.place, finding.sentence)
    if stopping:
        return False
    save_rep(rep, user_of(request))
    words = {"call": entry.spoken(), "word": _("clean") if clean else _("error")}
    messages.success(request, _("%(call)s: %(word)s, logged.") % words)
    return True


def _cast_initial(entry: PackagePlay, request: HttpRequest) -> dict[str, object]:
    first = {f"role-{c.role}": str(c.player_id) for c in entry.castings.all() if c.depth == 1}
    return {**first, "mode": request.GET.get("mode", "walk_through")}
