"""Two people at one form: the second sees both values, and nothing is lost or overwritten."""

from __future__ import annotations

import re
from datetime import timedelta
from html import unescape
from typing import Any

import pytest
from django.urls import reverse
from django.utils import timezone

from practice.install import plan as install
from practice.models import InstallPlan
from roster.models import Player
from tests.cast import Cast

STOOD = re.compile(r'name="stood" value="([0-9a-f]+)"')


def edits(cast: Cast) -> dict[str, tuple[str, dict[str, Any], str, str, str]]:
    """By name: page, what both send, the field, what the first writes and the second."""
    soon = f"{timezone.localdate() + timedelta(days=9)}"
    five = [player.pk for player in cast.players[:5]]
    team = {
        "season": "26",
        "age_group": "U16",
        "rule_set": "FIBA",
        "language": "en",
        "wording": "age",
    }
    place = "place"
    return {
        "player": (
            reverse("edit-player", args=[cast.players[0].pk]),
            {"name": "Zoë", "number": "4", "availability": "available"},
            *("name", "Zoë K", "Zoë L"),
        ),
        "team": (reverse("edit-team", args=[cast.team.pk]), team, "name", "Reds", "Blues"),
        "practice": (
            reverse("edit-practice", args=[cast.practice.pk]),
            {"date": soon, "start": "18:00", "install_minutes": "20"},
            *(place, "Hall A", "Hall B"),
        ),
        "game": (
            reverse("edit-game", args=[cast.game.pk]),
            {"date": soon, "start": "18:00"},
            *("opponent", "Hill", "Dale"),
        ),
        "package entry": (
            reverse("edit-entry", args=[cast.entry.pk]),
            {"priority": "2"},
            *("call", "Fist", "Palm"),
        ),
        "unit": (
            reverse("edit-unit", args=[cast.team.pk, cast.unit.pk]),
            {"members": five},
            *("name", "Starters", "Closers"),
        ),
        "block": (
            reverse("edit-block", args=[cast.practice.pk, cast.block.pk]),
            {"kind": "skill", "minutes": "10"},
            *("title", "Footwork", "Passing"),
        ),
    }


NAMES = ("player", "team", "practice", "game", "package entry", "unit", "block")


@pytest.mark.parametrize("name", NAMES)
def test_the_second_sees_both_and_decides(cast: Cast, name: str) -> None:
    path, sent, field, theirs, mine = edits(cast)[name]
    first, second = cast.client(cast.runner), cast.client(cast.head)
    opened = [STOOD.findall(each.get(path).content.decode())[0] for each in (first, second)]
    assert opened[0] == opened[1]
    saved = first.post(path, sent | {field: theirs, "stood": opened[0]})
    assert saved.status_code == 302
    met = second.post(path, sent | {field: mine, "stood": opened[1]})
    assert met.status_code == 422
    shown = unescape(met.content.decode())
    assert "Somebody has changed this meanwhile" in shown
    assert f"There stands now: {theirs}" in shown
    assert f'value="{mine}"' in shown  # nothing typed is lost
    again = STOOD.findall(shown)[0]
    assert again != opened[1]
    assert f'value="{theirs}"' in unescape(first.get(path).content.decode())
    assert second.post(path, sent | {field: mine, "stood": again}).status_code == 302
    assert f'value="{mine}"' in unescape(second.get(path).content.decode())


def test_a_change_elsewhere_is_in_nobodys_way(cast: Cast) -> None:
    """Availability, on the form, is told; expected minutes are on another page and no matter."""
    path, sent, *_rest = edits(cast)["player"]
    client = cast.client(cast.head)
    mark = STOOD.findall(client.get(path).content.decode())[0]
    Player.objects.update(expected_minutes=12)
    assert client.post(path, sent | {"stood": mark}).status_code == 302
    mark = STOOD.findall(client.get(path).content.decode())[0]
    Player.objects.update(availability="out")
    met = client.post(path, sent | {"stood": mark})
    assert met.status_code == 422
    assert "There stands now: Out until cleared" in met.content.decode()


def test_the_same_change_twice_is_no_conflict(cast: Cast) -> None:
    path, sent, field, theirs, _mine = edits(cast)["player"]
    client = cast.client(cast.head)
    mark = STOOD.findall(client.get(path).content.decode())[0]
    for _ in range(2):
        assert client.post(path, sent | {field: theirs, "stood": mark}).status_code == 302


def test_an_install_plan_that_moved_on_is_not_overwritten(cast: Cast) -> None:
    install.propose(cast.game, timezone.now())
    path = reverse("change-install", args=[cast.game.pk])
    plan = InstallPlan.objects.get()
    client = cast.client(cast.head)
    assert client.post(path, {"version": plan.version + 1}, follow=True).status_code == 200
    assert InstallPlan.objects.get().version == plan.version
    client.post(path, {"version": plan.version})
    assert InstallPlan.objects.get().version == plan.version + 1
