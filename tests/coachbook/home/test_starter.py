"""The first plays of a club that has none: shown first, brought in when ticked."""

from __future__ import annotations

import re

import pytest
from django.test import Client
from django.urls import reverse

from coachbook.accounts.changes import found_club
from coachbook.demo.files import demo_plays
from plays.core.play import AgeGroup
from plays.models import Play
from roster.models import Duty, Staff, Team


@pytest.fixture
def founder(client: Client, db: None) -> Client:
    client.force_login(found_club("River", "Rana", "rana", "lake-lake-9x"))
    return client


def test_an_empty_library_leads_to_the_plays_that_come_along(founder: Client) -> None:
    text = founder.get(reverse("library")).content.decode()
    assert reverse("starter-plays") in text
    assert "filters" not in text


def test_what_is_ticked_comes_in_and_nothing_before(founder: Client) -> None:
    text = founder.get(reverse("starter-plays")).content.decode()
    assert not Play.objects.exists()
    token = re.search(r'name="token" value="([^"]+)"', text)
    assert token is not None
    keys = [value.key for value in demo_plays()][:3]
    data = {"token": token[1], "play": keys}
    assert founder.post(reverse("import-plays"), data).status_code == 302
    assert sorted(Play.objects.on_shelf().values_list("key", flat=True)) == sorted(keys)
    again = founder.get(reverse("starter-plays")).content.decode()
    assert again.count('name="play"') == len(demo_plays()) - 3
    assert "filters" in founder.get(reverse("library")).content.decode()


def test_they_are_found_by_situation_and_age_and_what_is_ticked_stays(founder: Client) -> None:
    path = reverse("starter-plays")
    plays = demo_plays()
    found = founder.get(path, {"situation": "baseline", "level": "U12"}).context["preview"].items
    young = (AgeGroup.U10, AgeGroup.U12)
    fits = {p.key for p in plays if p.situation == "baseline" and p.level in young}
    assert fits
    assert {each.key for each in found} == fits
    other = next(p.key for p in plays if p.key not in fits)
    more = {"situation": "baseline", "level": "U12", "play": other}
    again = founder.get(path, more)
    assert {each.key for each in again.context["preview"].items} == {*fits, other}
    assert re.search(rf'value="{other}"\s+checked', again.content.decode())
    odd = founder.get(path, {"situation": "moon", "level": "U99"}).context["preview"].items
    assert len(odd) == len(plays)


def test_all_that_are_shown_come_in_and_none_ticked_is_told(founder: Client) -> None:
    shown = founder.get(reverse("starter-plays"), {"situation": "press_break"})
    preview = shown.context["preview"]
    answer = founder.post(reverse("import-plays"), {"token": preview.token})
    assert answer.status_code == 422
    assert "No play is ticked." in answer.content.decode()
    assert not Play.objects.exists()
    data = {"token": preview.token, "all": "all"}
    assert founder.post(reverse("import-plays"), data).status_code == 302
    assert {each.key for each in preview.items} == set(Play.objects.values_list("key", flat=True))


def test_a_package_without_a_library_leads_there(founder: Client) -> None:
    team = Team.objects.create(name="Otters", season="2026/27", age_group="U14", rule_set="FIBA")
    Staff.objects.create(team=team, user_id=int(founder.session["_auth_user_id"]), duty=Duty.HEAD)
    text = founder.get(reverse("package", args=[team.pk])).content.decode()
    assert "the library has none to take up" in text
    assert f'href="{reverse("library")}">To the library' in text
