"""The revisions of a play: when, by whom, and what each changed."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.utils.translation import get_language
from django.views.decorators.http import require_safe

from plays.access import play_for
from plays.revision_page import comparison, two_of
from shared.access import user_of
from shared.core.language import language
from shared.pages import page


@require_safe
def revisions(request: HttpRequest, key: str) -> HttpResponse:
    """All revisions, and what changed between the two that the address names."""
    user = user_of(request)
    found = play_for(user, key)
    rows = found.revisions.select_related("author")
    if not user.may_edit_library:
        rows = rows.exclude(published_at=None)
    shown = list(rows)
    speech = language(get_language() or "en")
    two = two_of(shown, request.GET.get("old", ""), request.GET.get("new", ""))
    context = {
        "section": "library",
        "play": found,
        "revisions": shown,
        "two": comparison(*two, speech) if two else None,
        "may_edit": user.may_edit_library,
    }
    return page(request, "plays/revisions.html", context)
