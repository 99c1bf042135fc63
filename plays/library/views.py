"""The library: finding a play."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from plays.access import kept_play_for
from plays.library.browse import BrowseForm, by_situation, found_plays
from plays.library.changes import put_away
from plays.models import Play
from shared.access import user_of
from shared.pages import page


@require_safe
def library(request: HttpRequest) -> HttpResponse:
    """All plays, or those that the filters leave, by situation."""
    user = user_of(request)
    form = BrowseForm(request.GET, user=user)
    plays = by_situation(found_plays(form))
    context = {
        "section": "library",
        "form": form,
        "plays": plays,
        "count": len(plays),
        "is_new": not plays and not Play.objects.exists(),
        "is_filtered": bool(form.wanted()),
        "is_narrowed": bool(form.wanted().keys() - {"text"}),
        "query": request.GET.urlencode(),
        "may_edit": user.may_edit_library,
    }
    return page(request, "plays/library.html", context)


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
