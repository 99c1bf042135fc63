"""Ending one's own sessions."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_POST

from coachbook.accounts import devices
from shared.access import one_of, user_of


@require_POST
def end_session(request: HttpRequest, pk: int) -> HttpResponse:
    """End one's own session on another device. Raises Http404 for somebody else's."""
    row = one_of(user_of(request).open_sessions.all(), pk=pk)
    devices.end(user_of(request).open_sessions.filter(pk=row.pk))
    messages.success(request, _("That device is signed out."))
    return redirect("account")


@require_POST
def end_other_sessions(request: HttpRequest) -> HttpResponse:
    """End one's own sessions on every other device."""
    count = devices.end_others(user_of(request), request.session.session_key)
    said = ngettext("%(n)d device is signed out.", "%(n)d devices are signed out.", count)
    messages.success(request, said % {"n": count})
    return redirect("account")
