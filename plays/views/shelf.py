"""Putting a play away, and bringing it back."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from plays.access import kept_play_for
from plays.library import put_away
from shared.access import user_of


@require_POST
def away(request: HttpRequest, key: str) -> HttpResponse:
    """Take a play off the shelf. Teams that carry it keep it."""
    user = user_of(request)
    play = kept_play_for(user, key)
    put_away(play, user)
    messages.success(request, _("%(play)s is put away.") % {"play": play.name})
    return redirect("play", play.key)


@require_POST
def back(request: HttpRequest, key: str) -> HttpResponse:
    """Bring a play back to the shelf."""
    user = user_of(request)
    play = kept_play_for(user, key)
    put_away(play, user, away=False)
    messages.success(request, _("%(play)s is on the shelf again.") % {"play": play.name})
    return redirect("play", play.key)
