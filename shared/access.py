"""The rule by which every page checks who asks: 404 for a stranger, 403 for a mere reader.

Each app opens one door per kind of thing in its own ``access`` module, built on these two.
"""

from __future__ import annotations

from typing import TypeVar

from django.contrib.auth.models import AnonymousUser
from django.core.exceptions import PermissionDenied
from django.db.models import Model, QuerySet
from django.http import Http404, HttpRequest

from shared.models import User

Row = TypeVar("Row", bound=Model)


def one_of(rows: QuerySet[Row], **which: object) -> Row:
    """The row that a person may see. Raises Http404 where there is none among ``rows``."""
    row = rows.filter(**which).first()
    if row is None:
        raise Http404
    return row


def require(allowed: bool) -> None:
    """Raise PermissionDenied unless allowed."""
    if not allowed:
        raise PermissionDenied


def user_of(request: HttpRequest) -> User:
    """The person of the staff who asks. Raises PermissionDenied for nobody."""
    if isinstance(request.user, AnonymousUser):
        raise PermissionDenied
    return request.user
