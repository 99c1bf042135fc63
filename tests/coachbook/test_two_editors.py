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


def shared_numbers(cast: Cast) -> dict[str, tuple[str, dict[str, str], str, tuple[str, str, str]]]:
    """By name: page, what else both send, the field, and its value before and as each wants it."""
    who, team = cast.players[0].pk, [cast.team.pk]
    return {
        "times": (reverse("team-pace", args=team), {}, f"ten-{who}", ("", "2.1", "2.3")),
        "constants": (reverse("team-pace", args=team), {}, "c-reaction", ("", "0.3", "0.35")),
        "minutes": (
            *(reverse("team-minutes", args=team), {"kind": "minutes"}),
            *(f"minutes-{who}", ("", "12", "30")),
        ),
        "attendance": (
            *(reverse("attendance", args=[cast.practice.pk]), {}),
            *(f"presence-{who}", ("present", "absent", "late")),
        ),
        "readiness": (
            *(reverse("assumptions"), {}),
            *("ready", ("0.8", "0.7", "0.75")),
        ),
    }


def inputs(page: str) -> dict[str, str]:
    """What a browser would send back unchanged: the fields of a page with their values."""
    found: dict[str, str] = {}
    for tag in re.findall(r"<input [^>]*>", page):
        facts = dict(re.findall(r'([a-z]+)="([^"]*)"', tag))
        choice = facts.get("type") in {"radio", "checkbox"}
        if "name" in facts and (not choice or " checked" in tag):
            found[facts["name"]] = unescape(facts.get("value", ""))
    return {key: value for key, value in found.items() if key not in {"once", "kind", "link"}}


NUMBERS = ("times", "constants", "minutes", "attendance", "readiness")


@pytest.mark.parametrize("name", NUMBERS)
def test_a_value_that_changed_meanwhile_is_told_at_its_place(cast: Cast, name: str) -> None:
    path, more, field, (before, theirs, mine) = shared_numbers(cast)[name]
    first, second = cast.client(cast.runner), cast.client(cast.runner)
    shown = inputs(first.get(path).content.decode())
    assert shown[f"initial-{field}"] == before or name == "readiness"
    assert first.post(path, shown | more | {field: theirs}).status_code == 302
    met = second.post(path, shown | more | {field: mine})
    assert met.status_code == 422
    assert "There stands now: " in met.content.decode()
    again = inputs(met.content.decode())
    assert (again[field], again[f"initial-{field}"]) == (mine, theirs)
    assert second.post(path, again | more).status_code == 302
    assert inputs(second.get(path).content.decode())[field] == mine


@pytest.mark.parametrize("name", NUMBERS)
def test_what_nobody_touched_on_an_old_page_stays_as_it_is_now(cast: Cast, name: str) -> None:
    path, more, field, (_before, theirs, _mine) = shared_numbers(cast)[name]
    client = cast.client(cast.runner)
    shown = inputs(client.get(path).content.decode())
    assert client.post(path, shown | more | {field: theirs}).status_code == 302
    assert client.post(path, shown | more).status_code == 302
    assert inputs(client.get(path).content.decode())[field] == theirs


def test_a_right_given_meanwhile_is_not_taken_by_an_old_page(cast: Cast) -> None:
    path = reverse("staff-person", args=[cast.assistant.pk])
    client = cast.client(cast.runner)
    shown = inputs(client.get(path).content.decode())
    assert client.post(path, shown | {"keeps_library": "on"}).status_code == 302
    assert client.post(path, shown | {"runs_club": "on"}).status_code == 302
    cast.assistant.refresh_from_db()
    assert (cast.assistant.runs_club, cast.assistant.keeps_library) == (True, True)


def test_an_install_plan_that_moved_on_is_not_overwritten(cast: Cast) -> None:
    install.propose(cast.game, timezone.now())
    path = reverse("change-install", args=[cast.game.pk])
    plan = InstallPlan.objects.get()
    client = cast.client(cast.head)
    assert client.post(path, {"version": plan.version + 1}, follow=True).status_code == 200
    assert InstallPlan.objects.get().version == plan.version
    client.post(path, {"version": plan.version})
    assert InstallPlan.objects.get().version == plan.version + 1
