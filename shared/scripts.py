"""Scripts that have to lie beside the pages they serve, which static files do not."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from django.contrib.staticfiles import finders
from django.http import Http404, HttpResponse

BASE: Final = "js/worker_base.js"


def service_worker(name: str) -> HttpResponse:
    """A service worker from the static files, after what all workers share.

    As one script, because a browser then sees any change of either part by itself. Raises Http404
    where a part is missing.
    """
    code = b"\n".join(_read(each) for each in (BASE, name))
    return HttpResponse(code, content_type="text/javascript; charset=utf-8")


def _read(name: str) -> bytes:
    path = finders.find(name)
    if not isinstance(path, str):
        raise Http404
    return Path(path).read_bytes()
