"""The reps of a practice one by one, days later too, and one of them taken back."""

from __future__ import annotations

import uuid

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from practice.access import practice_for
from practice.models import Rep
from practice.reps.listed import reps_by_play, take_rep_back
from shared.access import user_of
from shared.pages import page


@require_safe
def practice_reps(request: HttpRequest, pk: int) -> HttpResponse:
    """What was logged in a practice, rep by rep."""
    practice = practice_for(user_of(request), pk)
    context = {
        "team": practice.team,
        "section": "practices",
        "practice": practice,
        "plays": reps_by_play(practice),
    }
    return page(request, "practice/practice_reps.html", context)


@require_POST
def rep_back(request: HttpRequest, pk: int, rep: uuid.UUID) -> HttpResponse:
    """Take a rep back; it stays on record and out of every count."""
    user = user_of(request)
    practice = practice_for(user, pk)
    rows = Rep.objects.filter(practice=practice).select_related("practice__team")
    take_rep_back(get_object_or_404(rows, pk=rep), user)
    messages.success(request, _("The rep is taken back; it does not count."))
    return redirect("practice-reps", pk)
