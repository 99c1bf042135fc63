"""The bar of every page: which team this is, in which season, and the way to one's other teams."""

from __future__ import annotations

import re
from datetime import date
from typing import Final

import pytest
from django.db import transaction
from django.urls import reverse

from coachbook.demo import factories
from coachbook.home.navigation import MOST_TEAMS, teams_in_bar
from roster.models import Team
from tests.cast import Cast
from tests.coachbook.test_access import address
from tests.coachbook.test_words import PAGES

BAR: Final = re.compile(r'<header class="(bar|log-bar)">(.*?)</header>', re.DOTALL)
LINK: Final = re.compile(r'<a href="/teams/(\d+)/"( aria-current="true")?>')
# What belongs to the club, to a person or to everybody, and to no team.
OF_NO_TEAM: Final = ("library", "help", "home", "staff", "account", "new-team", "assumptions")


@pytest.fixture
def others(cast: Cast) -> tuple[Team, Team]:
    """Two more teams of who runs the club and of the assistant: one is another season's Herons."""
    last = factories.TeamFactory.create(name="Herons", season="2025/26")
    kestrels = factories.TeamFactory.create(name="Kestrels")
    for team in (last, kestrels):
        for person in (cast.runner, cast.assistant):
            factories.StaffFactory.create(team=team, user=person)
    factories.StaffFactory.create(team=cast.team, user=cast.runner)
    return last, kestrels


def bar_of(cast: Cast, path: str, user: str = "runner") -> tuple[str, str]:
    """The kind of the bar, and its text."""
    response = cast.client(getattr(cast, user)).get(path)
    assert response.status_code == 200, path
    found = BAR.search(response.content.decode())
    assert found, path
    return found[1], found[2]


def words(html: str) -> str:
    return " ".join(re.sub(r"<[^>]*>", " ", html.partition("<nav")[0]).split())


def test_every_page_of_a_team_says_which_team(cast: Cast, others: tuple[Team, Team]) -> None:
    client, silent, of_no_team = cast.client(cast.runner), {}, set()
    for name in PAGES:
        with transaction.atomic():
            response = client.get(address(name, cast))
        if response.status_code != 200 or "html" not in response.headers["Content-Type"]:
            continue
        found = BAR.search(response.content.decode())
        team = response.context.get("team") if response.context else None
        if not isinstance(team, Team):
            of_no_team.add(name)
            continue
        said = words(found[2]) if found else ""
        wanted = team.name if found and found[1] == "log-bar" else str(team)
        if wanted not in said:
            silent[name] = said
    assert silent == {}
    assert of_no_team >= set(OF_NO_TEAM)
    about = [address(name, cast) for name in of_no_team]
    assert not [path for path in about if re.match(r"/(teams/\d|players|games|practices)", path)]


def test_the_other_teams_are_one_tap_away_on_every_page(
    cast: Cast, others: tuple[Team, Team]
) -> None:
    last, kestrels = others
    wanted = {str(team.pk) for team in (cast.team, last, kestrels)}
    for path in (reverse("roster", args=[cast.team.pk]), reverse("library"), reverse("help")):
        _kind, bar = bar_of(cast, path)
        assert {pk for pk, _current in LINK.findall(bar)} == wanted
        current = [pk for pk, current in LINK.findall(bar) if current]
        assert current == ([str(cast.team.pk)] if "teams" in path else [])
    assert "Herons 2025/26" in words(bar_of(cast, reverse("team", args=[last.pk]))[1])


def test_a_season_put_away_leaves_the_bar_and_its_own_pages_still_say_its_name(
    cast: Cast, others: tuple[Team, Team]
) -> None:
    last, _kestrels = others
    Team.objects.filter(pk=last.pk).update(archived_on=date(2026, 6, 30))
    _kind, bar = bar_of(cast, reverse("roster", args=[cast.team.pk]))
    assert str(last.pk) not in {pk for pk, _current in LINK.findall(bar)}
    _kind, own = bar_of(cast, reverse("roster", args=[last.pk]))
    assert str(last) in words(own)
    assert {pk for pk, _current in LINK.findall(own)} >= {str(cast.team.pk)}


def test_who_has_one_team_finds_it_from_the_library_without_a_list(cast: Cast) -> None:
    for path in (reverse("library"), reverse("roster", args=[cast.team.pk])):
        _kind, bar = bar_of(cast, path, "head")
        assert "team-menu" not in bar
        assert re.search(rf'<a class="bar-team" href="/teams/{cast.team.pk}/">', bar)


def test_no_bar_shows_the_team_of_somebody_else(cast: Cast, others: tuple[Team, Team]) -> None:
    _kind, bar = bar_of(cast, reverse("library"), "stranger")
    assert str(cast.other_team) in words(bar)
    _kind, bar = bar_of(cast, reverse("library"), "keeper")  # who coaches no team
    assert "/teams/" not in bar
    assert teams_in_bar(None) == []


def test_of_very_many_teams_the_first_ones(cast: Cast) -> None:
    for _ in range(MOST_TEAMS + 3):
        factories.StaffFactory.create(team=factories.TeamFactory.create(), user=cast.head)
    assert len(teams_in_bar(cast.head)) == MOST_TEAMS
