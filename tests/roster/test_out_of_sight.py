"""What a first evening needs stands in sight, and what it does not is one tap away."""

from __future__ import annotations

import re

import pytest
from django.test import Client
from django.urls import reverse

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from roster.core.people import RATED
from roster.models import Player, Team
from tests.cast import Cast

TO_RATINGS, TO_COVERAGE = "Rate the players", "Coverage"


def read(client: Client, route: str, team: Team) -> str:
    return client.get(reverse(route, args=[team.pk])).content.decode()


def in_sight(page: str) -> str:
    """A page without what stands behind a closed fold."""
    page = re.sub(r"</summary>.*?</details>", "", page, flags=re.DOTALL)
    return re.sub(r'<div class="fold-rest">.*?</section>\s*</div>', "", page, flags=re.DOTALL)


@pytest.fixture
def fresh(cast: Cast) -> tuple[Client, Team]:
    """A team with a squad that nobody has rated, and nothing else yet."""
    team = cast.other_team
    for number in range(20, 25):
        factories.PlayerFactory.create(team=team, number=str(number))
    team.players.update(**dict.fromkeys(quality.value for quality in RATED))
    return cast.client(cast.runner), team


def test_the_rows_of_the_frame_name_coverage_only_where_one_has_come_to_it(
    fresh: tuple[Client, Team],
) -> None:
    client, team = fresh
    row = re.compile(r'<nav class="tab-nav".*?</nav>', re.DOTALL)
    for route, named in (("package", False), ("cast", False), ("coverage", True)):
        found = row.search(read(client, route, team))
        assert found
        assert (TO_COVERAGE in found[0]) is named, route


def test_ratings_are_behind_a_tap_and_their_columns_come_with_the_first(
    fresh: tuple[Client, Team],
) -> None:
    client, team = fresh
    before = read(client, "roster", team)
    assert TO_RATINGS in before
    assert TO_RATINGS not in in_sight(before)
    assert "Reading the play" not in before
    team.players.filter(number="20").update(passing=3)
    assert "Reading the play" in read(client, "roster", team)


def test_a_new_players_ratings_are_folded_and_what_is_rated_or_wrong_never_is(
    fresh: tuple[Client, Team],
) -> None:
    client, team = fresh
    path = reverse("new-player", args=[team.pk])
    shut, wide_open = '<details class="fold-way">', '<details class="fold-way" open>'
    assert shut in client.get(path).content.decode()
    unnamed = client.post(path, {"number": "9"}).content.decode()
    assert shut in unnamed
    typed = client.post(path, {"number": "9", "passing": "4"}).content.decode()
    assert wide_open in typed
    wrong = client.post(path, {"name": "Bo", "number": "9", "passing": "8"}).content.decode()
    assert wide_open in wrong
    player = team.players.get(number="20")
    Player.objects.filter(pk=player.pk).update(passing=2)
    page = client.get(reverse("edit-player", args=[player.pk])).content.decode()
    assert wide_open in page


def test_units_pace_and_coverage_stay_folded_until_the_first_steps_are_done(
    fresh: tuple[Client, Team], cast: Cast
) -> None:
    client, team = fresh
    page = read(client, "team", team)
    for said in (TO_COVERAGE, "Pace", "New unit"):
        assert said in page
        assert said not in in_sight(page), said
    assert "fold-always" in page
    client.post(reverse("make-links", args=[cast.team.pk]))  # the last step of the other team
    assert "fold-always" not in read(client, "team", cast.team)


def test_plays_to_take_up_stand_with_their_picture_those_that_suit_them_first(
    fresh: tuple[Client, Team],
) -> None:
    client, team = fresh
    Team.objects.filter(pk=team.pk).update(age_group="U12")
    names = ("ballast", "sluice", "duckboard")  # the first two from U16, the third from U12
    plays = [factories.published(demo_play(name)) for name in names]
    page = read(client, "package", team)
    shown = re.findall(r'name="play" value="([a-z]+)"', page)
    assert shown.index("duckboard") < min(shown.index(key) for key in ("ballast", "sluice"))
    for play in plays:
        assert reverse("play-card", args=[play.key, play.published().number, "light"]) in page


def test_who_has_no_unit_is_not_asked_for_one(fresh: tuple[Client, Team], cast: Cast) -> None:
    client, team = fresh
    play, asked = factories.published(demo_play("duckboard")), 'name="unit"'
    practice = factories.PracticeFactory.create(team=team)
    paths = (
        reverse("take-up", args=[team.pk, play.key]),
        reverse("practice", args=[practice.pk]),
    )
    for path in paths:
        page = client.get(path).content.decode()
        assert "<form" in page
        assert asked not in page, path
    assert client.post(paths[0], {"call": "Duck", "priority": "2"}).status_code == 302
    assert team.package.get().unit is None
    factories.UnitFactory.create(team=team).members.set(team.players.present()[:5])
    entry = team.package.get()
    for path in (reverse("edit-entry", args=[entry.pk]), paths[1]):
        assert asked in client.get(path).content.decode(), path
