"""Scripts that have to lie beside the pages they serve, which static files do not."""

from __future__ import annotations

from pathlib import Path

from django.contrib.staticfiles import finders
from django.http import Http404, HttpResponse


def script(name: str) -> HttpResponse:
    """A service worker from the static files. Raises Http404 where it is missing."""
    path = finders.find(name)
    if not isinstance(path, str):
        raise Http404
    code = Path(path).read_bytes()
    return HttpResponse(code, content_type="text/javascript; charset=utf-8")
