"""How long the pages are on a phone of 360 px for a team of 14 with ten plays.

The limits are our own choice: lists are one row a person or a play, and the rest is behind a fold.
"""

from __future__ import annotations

import pytest
from django.urls import reverse

from coachbook.demo import factories
from coachbook.demo.files import demo_plays
from tests.browser.conftest import PHONE, Opener
from tests.cast import Cast

SQUAD = 14
PLAYS = 10
LONGEST = {  # pixels
    "readiness": 1750,  # no play is ready: a row for each of them besides
    "roster": 1600,
    "team-ratings": 1600,
    "sheets": 1600,
    "team-pace": 1800,
    "coverage": 2700,
    "the-five": 2400,
    "cast": 3800,
}


@pytest.mark.parametrize("name", sorted(LONGEST))
def test_a_page_is_no_longer_than_it_has_to_be(name: str, opened: Opener, cast: Cast) -> None:
    grown(cast)
    query = "".join(f"on={player.pk}&" for player in cast.players[:5]) if name == "the-five" else ""
    page = opened(f"{reverse(name, args=[cast.team.pk])}?{query}", cast.head, PHONE)
    assert page.evaluate("document.documentElement.scrollHeight") <= LONGEST[name]
    assert page.evaluate("document.documentElement.scrollWidth") == PHONE["width"]


def grown(cast: Cast) -> None:
    """Fourteen in the squad, and ten plays with two in each role."""
    for number in range(20, 20 + SQUAD - len(cast.players)):
        factories.PlayerFactory.create(team=cast.team, number=str(number))
    squad = list(cast.team.players.all())
    others = [play for play in demo_plays() if play.key != cast.play.key][: PLAYS - 1]
    for n, value in enumerate(others):
        entry = factories.PackagePlayFactory.create(
            team=cast.team, play=factories.published(value), call=value.name
        )
        for role in range(1, 6):
            for depth in (1, 2):
                who = squad[(n + role + 5 * depth) % SQUAD] if depth == 2 else squad[role - 1]
                factories.CastingFactory.create(
                    entry=entry, role=str(role), depth=depth, player=who
                )
