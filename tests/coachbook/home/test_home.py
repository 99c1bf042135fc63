"""The first page of a club, from one team to a federation's four hundred."""

from __future__ import annotations

import re
from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from coachbook.demo import factories
from coachbook.home.views import MOST_CARDS, with_facts
from tests.cast import Cast

CARD = re.compile(r'<section class="card">\s*<h2><a href="/teams/(\d+)/">')


def test_what_comes_next_is_the_nearest_that_is_not_cancelled(cast: Cast) -> None:
    today = timezone.localdate()
    team = factories.TeamFactory.create()
    for days, cancelled in ((-1, False), (1, True), (3, False), (2, False)):
        factories.PracticeFactory.create(
            team=team, date=today + timedelta(days=days), cancelled=cancelled
        )
    game = factories.GameFactory.create(team=team, date=today)
    gone = factories.PlayerFactory.create(team=team, left_on=today)
    factories.PlayerFactory.create(team=team)
    (card,) = with_facts([team], today)
    assert card.practice is not None
    assert card.practice.date == today + timedelta(days=2)
    assert card.game == game
    assert (card.squad, card.carried) == (1, 0)
    assert gone.team == team


def test_a_federation_has_its_own_teams_first_and_the_rest_in_lines(cast: Cast) -> None:
    keeper = factories.UserFactory.create(runs_club=True)
    teams = [factories.TeamFactory.create() for _ in range(MOST_CARDS + 5)]
    factories.StaffFactory.create(team=teams[-1], user=keeper)
    page = cast.client(keeper).get(reverse("home")).content.decode()
    cards = CARD.findall(page)
    assert len(cards) == MOST_CARDS
    assert cards[0] == str(teams[-1].pk)
    shown = set(re.findall(r'href="/teams/(\d+)/"', page))
    assert shown == {str(team.pk) for team in [*teams, cast.team, cast.other_team]}


@pytest.mark.parametrize("teams", [2, 12])
def test_the_page_asks_as_often_for_twelve_teams_as_for_two(
    cast: Cast, teams: int, django_assert_max_num_queries: object
) -> None:
    made = [factories.TeamFactory.create() for _ in range(teams)]
    with django_assert_max_num_queries(4):  # type: ignore[operator]
        with_facts(made, timezone.localdate())
