"""The library: finding a play."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from plays.browse import BrowseForm, found_plays
from shared.access import user_of
from shared.pages import page


@require_safe
def library(request: HttpRequest) -> HttpResponse:
    """All plays, or those that the filters leave."""
    user = user_of(request)
    form = BrowseForm(request.GET or None) if request.GET else BrowseForm({})
    context = {
        "section": "library",
        "form": form,
        "plays": found_plays(form, user),
        "is_filtered": any(request.GET.values()),
        "may_edit": user.may_edit_library,
    }
    return page(request, "plays/library.html", context)
