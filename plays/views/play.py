"""The page of one play."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils.translation import get_language
from django.views.decorators.http import require_safe

from plays.access import play_for
from plays.core.document import write_play
from plays.core.play import ROLES
from plays.models import Play, Revision
from plays.play_page import counter_views, figures_of, legend_svg
from shared.access import user_of
from shared.core.language import language
from shared.pages import page


@require_safe
def play(request: HttpRequest, key: str, number: int | None = None) -> HttpResponse:
    """A play's current revision, or the one with this number."""
    user = user_of(request)
    found = play_for(user, key)
    revision = _revision(found, number)
    value = revision.value()
    speech = language(get_language() or "en")
    context = {
        "section": "library",
        "play": found,
        "revision": revision,
        "value": value,
        "figures": figures_of(value, speech),
        "counters": counter_views(value, speech),
        "legend": legend_svg(speech),
        "needs": [(role, [n for n in value.needs if n.role == role]) for role in ROLES],
        "may_edit": user.may_edit_library,
    }
    return page(request, "plays/play.html", context)


@require_safe
def play_file(request: HttpRequest, key: str, number: int) -> HttpResponse:
    """A revision as a play file, to share with another club."""
    found = play_for(user_of(request), key)
    revision = _revision(found, number)
    response = HttpResponse(write_play(revision.value()), content_type="application/json")
    name = f"{found.key}-{revision.number}.json"
    response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return response


def _revision(found: Play, number: int | None) -> Revision:
    if number is None and found.current is not None:
        return found.current
    rows = found.revisions.all()
    return get_object_or_404(rows, number=number) if number else get_object_or_404(rows[:1])
