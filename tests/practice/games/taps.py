"""Possessions of the tests' game, as a phone sends them."""

from __future__ import annotations

import json
import uuid
from typing import Any

from django.urls import reverse
from django.utils import timezone

from practice.models import CalledPlay
from tests.cast import Cast


def today(cast: Cast) -> Cast:
    """The game is now: that is when a game is logged."""
    now = timezone.localtime()
    cast.game.date, cast.game.start = now.date(), now.time().replace(microsecond=0)
    cast.game.save()
    return cast


def called(cast: Cast, /, **more: Any) -> dict[str, Any]:
    five = {str(role): player.pk for role, player in enumerate(cast.players[:5], start=1)}
    return {
        "kind": "called",
        "id": str(uuid.uuid4()),
        "game": cast.game.pk,
        "play": cast.entry.pk,
        "at": timezone.now().isoformat(timespec="milliseconds"),
        "defence": "switch",
        "taken": "look",
        "look": "post",
        "result": "points",
        "points": 2,
        "cast": five,
        "revision": cast.entry.revision_id,
        **more,
    }


def undo(one: dict[str, Any]) -> dict[str, Any]:
    at = timezone.now().isoformat(timespec="milliseconds")
    return {"kind": "undo", "id": str(uuid.uuid4()), "rep": one["id"], "at": at}


def send(cast: Cast, *taps: dict[str, Any], user: Any = None) -> Any:
    client = cast.client(user or cast.assistant)
    path = f"{reverse('taps', args=[cast.team.pk])}?game={cast.game.pk}"
    body = json.dumps({"version": 1, "taps": taps})
    return client.post(path, body, content_type="application/json").json()


def counted(cast: Cast) -> int:
    return CalledPlay.objects.counted().filter(game__team=cast.team).count()
