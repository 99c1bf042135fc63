"""All ratings on one grid: what was changed is written, what somebody else changed is told."""

from __future__ import annotations

from typing import Any

import pytest
from django.urls import reverse

from roster.core.people import RATED
from roster.models import Player
from shared.models import Change
from tests.cast import Cast

pytestmark = pytest.mark.django_db


def shown(cast: Cast) -> dict[str, str]:
    """What a browser sends back where nobody types: every cell, and what it was shown with."""
    found = {}
    for player in cast.team.players.present():
        for quality in RATED:
            value = getattr(player, quality.value)
            text = "" if value is None else str(value)
            found[f"{player.pk}-{quality.value}"] = text
            found[f"initial-{player.pk}-{quality.value}"] = text
    return found


def sent(cast: Cast, data: dict[str, str]) -> Any:
    address = reverse("team-ratings", args=[cast.team.pk])
    return cast.client(cast.head).post(address, data)


def rated(player: Player) -> Player:
    player.refresh_from_db()
    return player


def test_what_was_changed_is_written_and_noted_once(cast: Cast) -> None:
    first, second = cast.team.players.present()[:2]
    data = shown(cast) | {f"{first.pk}-speed": "5", f"{second.pk}-passing": ""}
    before = Change.objects.count()
    assert sent(cast, data).status_code == 302
    assert rated(first).speed == 5
    assert rated(second).passing is None
    assert Change.objects.count() == before + 1
    assert sent(cast, shown(cast)).status_code == 302
    assert Change.objects.count() == before + 1


def test_a_wrong_digit_is_told_at_its_cell_and_nothing_is_lost(cast: Cast) -> None:
    first, second = cast.team.players.present()[:2]
    answer = sent(cast, shown(cast) | {f"{first.pk}-speed": "9", f"{second.pk}-speed": "1"})
    assert answer.status_code == 422
    text = answer.content.decode()
    assert f"{first}, Speed" in text
    assert f'id="id_{first.pk}-speed_error"' in text
    assert 'value="9"' in text
    assert rated(second).speed != 1


def test_who_types_over_another_s_rating_is_told_and_may_insist(cast: Cast) -> None:
    first, second = cast.team.players.present()[:2]
    data = shown(cast) | {f"{first.pk}-speed": "1"}
    for player, value in ((first, 4), (second, 2)):
        player.speed = value
        player.save()
    answer = sent(cast, data)
    assert answer.status_code == 422
    assert "There stands now: 4" in answer.content.decode()
    assert sent(cast, data | {f"initial-{first.pk}-speed": "4"}).status_code == 302
    assert rated(first).speed == 1
    assert rated(second).speed == 2, "nobody touched that cell here"
