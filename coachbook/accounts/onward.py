"""Where somebody wanted to go before they were asked to sign in."""

from __future__ import annotations

from django.http import HttpRequest
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme


def onward(request: HttpRequest, wish: str) -> str:
    """The wish, where it is an address of this site from its root on; else the first page."""
    hosts, secure = {request.get_host()}, request.is_secure()
    is_ours = url_has_allowed_host_and_scheme(wish, hosts, require_https=secure)
    return wish if is_ours and wish.startswith("/") else reverse("home")
