"""The address under which a phone in the hall opens the site."""

from __future__ import annotations

import ipaddress
import socket
from collections.abc import Iterable

from django.conf import settings
from django.http import HttpRequest


def is_loopback(host: str) -> bool:
    """Whether a host name, without its port, opens on its own machine only."""
    try:
        return ipaddress.ip_address(host.strip("[]")).is_loopback
    except ValueError:
        return host.lower().rstrip(".") == "localhost" or host.lower().endswith(".localhost")


def phone_address(request: HttpRequest) -> str | None:
    """Scheme, host and port for links that are handed out; None where no phone can open them.

    The address by which the page was asked for, unless that is this machine's own: then the hall
    address at which the site listens, or the one that the proxy serves.
    """
    asked = request.get_host()
    if not is_loopback(asked.rpartition(":")[0] if _has_port(asked) else asked):
        return f"{request.scheme}://{asked}"
    if settings.HTTPS and settings.CSRF_TRUSTED_ORIGINS:
        return str(settings.CSRF_TRUSTED_ORIGINS[0]).rstrip("/")
    return settings.HALL_ADDRESS or None


def site_address(request: HttpRequest) -> str:
    """Scheme, host and port for links that are handed out: for phones where there is one."""
    return phone_address(request) or request.build_absolute_uri("/").rstrip("/")


def _has_port(host: str) -> bool:
    return host.rpartition(":")[2].isdigit() and not host.endswith("]")


def hall_host(names: Iterable[str] = ()) -> str | None:
    """The address of this machine in its local network; None where it has none.

    A name or address among ``names`` that is not the machine's own goes first. Nothing is sent:
    connecting a datagram socket only asks the system which way it would go.
    """
    if chosen := next((name for name in names if not is_loopback(name) and "*" not in name), None):
        return chosen.lstrip(".")
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("198.51.100.1", 9))  # a documentation address, RFC 5737
        except OSError:
            return None
        found = str(probe.getsockname()[0])
    return None if is_loopback(found) or found.startswith("0.") else found
