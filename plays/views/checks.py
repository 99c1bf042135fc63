"""The table of the whole library's checks."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from plays import checks
from plays.check_table import TableForm, table
from plays.models import Play
from shared.access import user_of
from shared.pages import page


@require_safe
def check_table(request: HttpRequest) -> HttpResponse:
    """What is known of every play on the shelf. This page reckons nothing."""
    user_of(request)
    return _page(request, TableForm(request.GET).chosen())


@require_POST
def more_checks(request: HttpRequest) -> HttpResponse:
    """Reckon a few results that are missing, and show the table with them."""
    user_of(request)
    age = TableForm(request.POST).chosen()
    checks.work_off(_rows(), first=age)
    if not getattr(request, "htmx", False):
        return redirect(f"{reverse('checks')}?age={age}")
    return _page(request, age)


def _page(request: HttpRequest, age: str) -> HttpResponse:
    form = TableForm({"age": age})
    context = {"section": "library", "form": form, "age": age, **table(_rows(), age)}
    return page(request, "plays/checks.html", context)


def _rows() -> list[checks.Row]:
    shelf = Play.objects.on_shelf().select_related("current").defer("current__document", "search")
    return checks.rows(shelf)
