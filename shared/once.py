"""Forms that make something: pressing twice never makes two, and never fails.

A page's form carries a token (``{% once %}``). The first request with it leaves the token and
where it led in the transaction that makes the thing; a second one waits for it, and is led to
the same place. A form that comes back with faults leaves nothing, and can be sent again.
"""

from __future__ import annotations

import uuid
from collections.abc import Callable
from datetime import timedelta
from functools import wraps
from typing import Concatenate, Final, ParamSpec

from django.db import IntegrityError, transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone

from shared.models import SentForm, User

FIELD: Final = "once"
KEPT: Final = timedelta(days=2)  # longer than anybody leaves a form open
P = ParamSpec("P")
View = Callable[Concatenate[HttpRequest, P], HttpResponse]


def once(view: View[P]) -> View[P]:
    """A view whose POST is one transaction and happens once for each token.

    Where another request makes the same thing at the same moment, the database refuses one of
    the two; it runs again, and its form then says at its place what is taken.
    """

    @wraps(view)
    def guarded(request: HttpRequest, /, *args: P.args, **kwargs: P.kwargs) -> HttpResponse:
        if request.method != "POST":
            return view(request, *args, **kwargs)
        try:
            return _sent(request, view, *args, **kwargs)
        except IntegrityError:
            return _sent(request, view, *args, **kwargs)

    return guarded


def atomic_post(view: View[P]) -> View[P]:
    """A view whose POST happens whole or not at all; who only reads it waits for no writer."""

    @wraps(view)
    def guarded(request: HttpRequest, /, *args: P.args, **kwargs: P.kwargs) -> HttpResponse:
        if request.method != "POST":
            return view(request, *args, **kwargs)
        with transaction.atomic():
            return view(request, *args, **kwargs)

    return guarded


@transaction.atomic
def _sent(request: HttpRequest, view: View[P], *args: P.args, **kwargs: P.kwargs) -> HttpResponse:
    key = _key(request.POST.get(FIELD, ""))
    if key is None or not isinstance(request.user, User):
        return view(request, *args, **kwargs)
    row, is_first = SentForm.objects.get_or_create(user=request.user, key=key)
    if not is_first:
        return redirect(row.answer)
    response = view(request, *args, **kwargs)
    if response.status_code == 302:
        row.answer = response.headers["Location"]
        row.save(update_fields=["answer"])
        SentForm.objects.filter(at__lt=timezone.now() - KEPT).delete()
    else:
        row.delete()
    return response


def _key(text: str) -> uuid.UUID | None:
    try:
        return uuid.UUID(text)
    except ValueError:
        return None
