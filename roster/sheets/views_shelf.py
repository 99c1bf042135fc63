"""A playbook of the library: which plays, on what paper, made in the background, then opened."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import get_language
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from plays.library.browse import BrowseForm, by_situation, found_plays
from roster.core.paper.leaf import PAPERS
from roster.models import ShelfPrinting
from roster.sheets.shelf import MOST, NOTHING, begin, file_of, is_ready, latest_for
from shared.access import one_of, user_of
from shared.core.numbers import whole_number
from shared.once import once
from shared.pages import page


@require_http_methods(["GET", "POST"])
@once
def playbook(request: HttpRequest) -> HttpResponse:
    """The plays that the library's filters leave, to be ticked; and how far the file is."""
    user = user_of(request)
    if request.method == "POST":
        numbers = [whole_number(text) for text in request.POST.getlist("play")[:MOST]]
        plays = sorted({number for number in numbers if number is not None})
        paper = request.POST.get("paper", "")
        if plays:
            begin(user, plays, paper if paper in PAPERS else "a4", get_language() or "en")
        else:
            messages.warning(request, _(NOTHING))
        return redirect(request.get_full_path())
    found = found_plays(BrowseForm(request.GET, user=user)).filter(current__isnull=False)
    latest = latest_for(user)
    context = {
        "section": "library",
        "plays": by_situation(found[:MOST]),
        "printing": latest,
        "ready": latest is not None and is_ready(latest),
        "paper": latest.paper if latest else "a4",
    }
    return page(request, "roster/playbook.html", context)


@require_safe
def playbook_file(request: HttpRequest, pk: int) -> HttpResponse:
    """The playbook that was made for whoever asks, as a file."""
    row = one_of(ShelfPrinting.objects.filter(made_for=user_of(request)), pk=pk)
    if not is_ready(row):
        return redirect(reverse("playbook"))
    response = HttpResponse(file_of(row), content_type="application/pdf")
    name = f"playbook-{timezone.localdate():%Y-%m-%d}.pdf"
    response.headers["Content-Disposition"] = f'inline; filename="{name}"'
    return response
