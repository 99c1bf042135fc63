"""What every page for the staff keeps to: one button that stands out."""

from __future__ import annotations

import re
from typing import Final

import pytest
from django.db import transaction

from coachbook.demo import factories
from tests.cast import Cast
from tests.coachbook.test_access import address
from tests.coachbook.test_words import PAGES

# A button or a link that looks like one, and neither second nor danger nor quiet.
STANDS_OUT: Final = re.compile(
    r'<(?:a|button)\b[^>]*class="button"[^>]*>(.*?)</(?:a|button)>', re.DOTALL
)
UNSEEN: Final = re.compile(r"<(template|noscript)\b.*?</\1>|<!--.*?-->", re.DOTALL)
# The courtside log is a set of keys, and no page to read.
KEYS: Final = {"log"}


def standing_out(html: str) -> list[str]:
    main = UNSEEN.sub("", html.partition("<main")[2].partition("</main>")[0])
    return [" ".join(re.sub(r"<[^>]*>", " ", said).split()) for said in STANDS_OUT.findall(main)]


@pytest.mark.parametrize("who", ["runner", "head"])
def test_a_page_has_one_button_that_stands_out(cast: Cast, who: str) -> None:
    """A rule of ours: what most came for is filled, all else has an edge only."""
    client, wrong = cast.client(getattr(cast, who)), {}
    bare = factories.TeamFactory.create()
    factories.StaffFactory.create(team=bare, user=cast.head, duty="head")
    of_team = f"/teams/{cast.team.pk}/"
    places = {name: address(name, cast) for name in set(PAGES) - KEYS}
    places |= {
        f"{name} of a bare team": place.replace(of_team, f"/teams/{bare.pk}/")
        for name, place in places.items()
        if place.startswith(of_team)
    }
    for name, place in places.items():
        with transaction.atomic():
            response = client.get(place)
        if response.status_code == 200 and "html" in response.headers["Content-Type"]:
            found = standing_out(response.content.decode())
            if len(found) > 1:
                wrong[name] = found
    assert wrong == {}


def test_two_that_stand_out_are_found() -> None:
    page = '<main><a class="button" href="/">One</a><button class="button second">Two</button>'
    assert standing_out(page) == ["One"]
    assert standing_out(page + '<button class="button" name="x">Th<b>ree</b></button>') == [
        "One",
        "Th ree",
    ]
