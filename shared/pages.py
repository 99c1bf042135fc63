"""One template, two renderings: the whole page, or the part that htmx asked for."""

from __future__ import annotations

import re
from collections.abc import Mapping
from hashlib import sha256
from typing import Any, Final

from django.forms import BaseForm
from django.http import HttpRequest, HttpResponse
from django.template.loader import render_to_string
from django.utils.cache import get_conditional_response
from django_htmx.middleware import HtmxDetails

from shared.headers import KEPT_NOWHERE
from shared.pieces import KeptPiece

BASE = "base.html"
PART = "part.html"
_TOKEN: Final = re.compile(rb'(?<=name="csrfmiddlewaretoken" value=")[^"]*')


def page(
    request: HttpRequest,
    template: str,
    context: Mapping[str, Any],
    *,
    status: int = 200,
    secret: bool = False,
    piece: KeptPiece | None = None,
) -> HttpResponse:
    """Answer with a page whose template says ``{% extends base %}``.

    htmx gets the block "content" alone; a boosted link, or a step back, gets the whole page.
    ``secret``: it shows or asks for what opens something, so no browser keeps it. ``piece``: what
    the template has only the place of.
    """
    base = PART if _wants_part(request) else BASE
    text = render_to_string(template, {**context, "base": base}, request)
    # A file that somebody sent may hold half a letter, and its faults are shown word by word.
    response = HttpResponse(text.encode("utf-8", "replace"), status=status)
    response.headers["Vary"] = "HX-Request"
    if secret:
        response.headers["Cache-Control"] = KEPT_NOWHERE
        return response
    answer = conditional(request, response)
    if piece is not None and answer.status_code != 304:
        answer.content = piece.put_into(answer.content)
    return answer


def _wants_part(request: HttpRequest) -> bool:
    asked: HtmxDetails | None = getattr(request, "htmx", None)
    if not asked:
        return False
    return not asked.boosted and not asked.history_restore_request


def conditional(request: HttpRequest, response: HttpResponse) -> HttpResponse:
    """The answer with its tag, or 304 where this browser has it already.

    The tag is of the whole answer, so of the viewer too; only the form's token, which changes
    with every answer, counts by the secret behind it.
    """
    if request.method not in ("GET", "HEAD") or response.status_code != 200:
        return response
    secret = str(request.META.get("CSRF_COOKIE", "")).encode()
    said = _TOKEN.sub(secret, response.content)
    tag = f'W/"{sha256(said).hexdigest()[:32]}"'
    response.headers.setdefault("Cache-Control", "private, no-cache")
    response.headers["ETag"] = tag
    found = get_conditional_response(request, etag=tag, response=response)
    assert found is not None
    return found


def status_of(form: BaseForm) -> int:
    """422 for a form that came back with errors, so that a machine sees it too; else 200."""
    return 422 if form.is_bound and form.errors else 200
