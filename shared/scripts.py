"""Scripts that have to lie beside the pages they serve, which static files do not."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from django.contrib.staticfiles import finders
from django.http import Http404, HttpResponse

BASE: Final = "js/worker_base.js"


def service_worker(name: str, *, within: str = "") -> HttpResponse:
    """A service worker from the static files, after what all workers share.

    As one script, because a browser then sees any change of either part by itself. ``within``: the
    beginning of the addresses that pages may ask for it (Service-Worker-Allowed of W3C Service
    Workers); without it only those beside the script. Raises Http404 where a part is missing.
    """
    code = b"\n".join(_read(each) for each in (BASE, name))
    response = HttpResponse(code, content_type="text/javascript; charset=utf-8")
    if within:
        response.headers["Service-Worker-Allowed"] = within
    return response


def _read(name: str) -> bytes:
    path = finders.find(name)
    if not isinstance(path, str):
        raise Http404
    return Path(path).read_bytes()
