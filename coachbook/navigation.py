"""What the frame of every page needs to know."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest
from django.utils.functional import SimpleLazyObject

from shared.models import Club


def navigation(_request: HttpRequest) -> dict[str, Any]:
    """The club's name, read only where a template shows it."""
    return {"club": SimpleLazyObject(Club.objects.first)}
