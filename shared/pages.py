"""One template, two renderings: the whole page, or the part that htmx asked for."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.forms import BaseForm
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

BASE = "base.html"
PART = "part.html"


def page(
    request: HttpRequest, template: str, context: Mapping[str, Any], *, status: int = 200
) -> HttpResponse:
    """Answer with a page whose template says ``{% extends base %}``.

    htmx gets the block "content" alone; a boosted link gets the whole page.
    """
    partial = getattr(request, "htmx", False) and not request.htmx.boosted  # type: ignore[attr-defined]
    base = PART if partial else BASE
    response = render(request, template, {**context, "base": base}, status=status)
    response.headers["Vary"] = "HX-Request"
    return response


def status_of(form: BaseForm) -> int:
    """422 for a form that came back with errors, so that a machine sees it too; else 200."""
    return 422 if form.is_bound and form.errors else 200
