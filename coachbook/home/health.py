"""Whether the site can do its work: for the watchman of a server, who asks every minute."""

from __future__ import annotations

import shutil

from django.conf import settings
from django.contrib.auth.decorators import login_not_required
from django.db import DatabaseError, transaction
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from shared.models import Change
from shared.patience import patient_for

LEAST_FREE = 50_000_000  # bytes; an evening at the court takes less than one million

PATIENCE = 5.0  # seconds; who asks often holds up none of those who read


@login_not_required
@require_safe
def health(_request: HttpRequest) -> HttpResponse:
    """Answer "ok" when the database takes a change and the disk has room, else 503 and why."""
    fault = _writing_fault() or _room_fault()
    status = 503 if fault else 200
    return HttpResponse(fault or "ok", content_type="text/plain", status=status)


def _writing_fault() -> str:
    """Write one line and take it back: reading alone works on a disk that is read-only."""
    try:
        with patient_for(PATIENCE), transaction.atomic():
            Change(verb="health").save(force_insert=True)
            transaction.set_rollback(True)
    except DatabaseError:
        return "the database takes no change"
    return ""


def _room_fault() -> str:
    free = shutil.disk_usage(settings.DATA).free
    return "" if free >= LEAST_FREE else "the disk is nearly full"
