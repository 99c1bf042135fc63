"""The library: finding a play."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from plays.browse import BrowseForm, by_situation, found_plays
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
        "query": request.GET.urlencode(),
        "may_edit": user.may_edit_library,
    }
    return page(request, "plays/library.html", context)
