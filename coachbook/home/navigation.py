"""What the frame of every page needs to know."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest
from django.urls import reverse
from django.utils.functional import SimpleLazyObject

from coachbook.help.pages import topic_of_route
from shared.models import Club


def navigation(request: HttpRequest) -> dict[str, Any]:
    """The club, read only where a template shows it, and the help page for this page."""
    route = request.resolver_match.url_name if request.resolver_match else None
    topic = topic_of_route().get(route or "")
    address = reverse("help-topic", args=[topic]) if topic else reverse("help")
    return {"club": SimpleLazyObject(Club.objects.first), "help_address": address}
