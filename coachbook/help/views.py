"""The help pages, open to everybody."""

from __future__ import annotations

from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from coachbook.help.pages import help_pages
from shared.pages import page


@login_not_required
@require_safe
def contents(request: HttpRequest) -> HttpResponse:
    return page(request, "coachbook/help.html", {"pages": help_pages().values()})


@login_not_required
@require_safe
def topic(request: HttpRequest, slug: str) -> HttpResponse:
    found = help_pages().get(slug)
    if found is None:
        raise Http404
    context = {"topic": found, "pages": help_pages().values()}
    return page(request, "coachbook/help_topic.html", context)
