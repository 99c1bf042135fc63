"""Reps that wait for a decision, and reps that come in as a file."""

from __future__ import annotations

import uuid

from django.conf import settings
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_http_methods, require_POST

from practice.core.reps.tap_file import read_taps
from practice.reps.forms import TapFileForm
from practice.reps.store import decide, store
from practice.reps.undecided import forms_of_held, held_form
from roster.access import team_for
from roster.models import Team
from shared.access import user_of
from shared.models import User
from shared.pages import page, status_of
from shared.record import note_change
from shared.speech import language_now


@require_http_methods(["GET", "POST"])
def held_reps(request: HttpRequest, pk: int) -> HttpResponse:
    """What was logged for something that is gone or does not fit, and what speaks against it."""
    user = user_of(request)
    team = team_for(user, pk)
    form = TapFileForm(request.POST or None, request.FILES or None)
    if request.method == "POST" and form.is_valid() and _took_in(request, form, team, user):
        return redirect("held-reps", pk)
    held, behind = forms_of_held(team, language_now())
    context = {
        "team": team,
        "section": "practices",
        "form": form,
        "held": held,
        "behind": behind,
    }
    return page(request, "practice/held.html", context, status=status_of(form))


def _took_in(request: HttpRequest, form: TapFileForm, team: Team, user: User) -> bool:
    data = form.cleaned_data["file"].read(settings.MAX_UPLOAD + 1)
    read = read_taps(data, language_now())
    for finding in read.findings:
        form.add_error("file", f"{finding.place} {finding.sentence}".strip())
    stored = store(read.taps, team, user)
    for sentence in stored.refused.values():
        form.add_error("file", sentence)
    n = len(stored.kept) + len(stored.held)
    if n:
        note_change(user, "brought in reps", team, team=team.pk, after=n)
        said = ngettext("%(n)d tap is safe here now.", "%(n)d taps are safe here now.", n)
        messages.success(request, said % {"n": n})
    return not read.findings and not stored.refused


@require_POST
def decide_rep(request: HttpRequest, pk: int, rep: uuid.UUID) -> HttpResponse:
    """Count a held rep as it is put right in the form, or set it aside."""
    user = user_of(request)
    team = team_for(user, pk)
    row = get_object_or_404(team.held_reps, pk=rep, counted=None)
    if "aside" in request.POST:
        decide(row, None, user)
        messages.success(request, _("The rep is set aside; it does not count."))
        return redirect("held-reps", pk)
    speech = language_now()
    form = held_form(row, team, speech, request.POST)
    if form is None:
        messages.error(request, _("This rep cannot be read. Set it aside."))
        return redirect("held-reps", pk)
    mended = form.mended(speech) if form.is_valid() else None
    if mended is None:
        context = {"team": team, "section": "practices", "form": TapFileForm(), "held": [form]}
        return page(request, "practice/held.html", context, status=422)
    decide(row, mended, user)
    messages.success(request, _("The rep counts now."))
    return redirect("held-reps", pk)
