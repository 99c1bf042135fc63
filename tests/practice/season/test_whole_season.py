"""A season played week by week through the pages: what is counted, kept and shown holds throughout.

Everything is asked of the real views, on a clock that the test moves. What a coach sees on the
pages after each event is held in ``tests/browser/test_season.py``.
"""

from __future__ import annotations

from datetime import date, time, timedelta
from typing import Final

import pytest
from django.db import connection

from practice.bridge import moment
from practice.models import Rep
from roster.models import Casting, Team
from tests.cast import Cast
from tests.machine import ALL
from tests.practice.season.played import FIRST_DAY, Clock, SeasonPlayed

SHORT: Final = 4  # weeks; its pages are walked once
WHOLE: Final = 12  # a minute long


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> Clock:
    return Clock(monkeypatch)


def test_a_season_is_played_and_goes_on(cast: Cast, clock: Clock) -> None:
    """A whole one where everything is run, and once: a short one says enough of a database."""
    weeks = WHOLE if ALL and connection.vendor == "sqlite" else SHORT
    played = SeasonPlayed(cast, clock, weeks)
    played.begins()
    at = {name: round(share * weeks) for name, share in WHEN.items()}
    for week in range(weeks):
        monday = FIRST_DAY + timedelta(days=7 * week)
        clock.now = moment(monday, time(9))
        for name, when in at.items():
            if when == week:
                EVENTS[name](played, monday)
        days = (monday, monday + timedelta(days=6))
        for practice in played.team.practices.filter(date__range=days, cancelled=False):
            played.practises(practice)
        clock.now = moment(days[1], time(20))
        played.holds()
        if weeks > SHORT or week == weeks - 1:
            played.walks()
    goes_on(played)


def falls_ill(played: SeasonPlayed, _monday: date) -> None:
    played.send("set-availability", played.cast.players[1].pk, availability="out")


def is_well_again(played: SeasonPlayed, _monday: date) -> None:
    played.send("set-availability", played.cast.players[1].pk, availability="available")


def joins(played: SeasonPlayed, _monday: date) -> None:
    who = played.adds_a_player("Svea", 40)
    entry = played.carried()[0]
    before = entry.castings.filter(role="1", depth=2).values_list("player", flat=True).first()
    played.send("cast-cell", entry.pk, "1", 2, player=who.pk, before=before or "")
    assert Casting.objects.filter(player=who, entry=entry, depth=2).exists()


def is_away(played: SeasonPlayed, monday: date) -> None:
    who, last = played.cast.players[3], monday + timedelta(days=3)
    played.send("add-absence", played.team.pk, player=who.pk, first=monday, last=last)
    played.announced.append((who, monday, last))


def is_lost(played: SeasonPlayed, monday: date) -> None:
    practice = played.team.practices.get(date=monday + timedelta(days=2))
    played.send("cancel-practice", practice.pk, plan_again="on")


def is_planned(played: SeasonPlayed, monday: date) -> None:
    played.plans_for(monday + timedelta(days=12))


def is_dropped(played: SeasonPlayed, _monday: date) -> None:
    entry = played.carried()[-1]
    played.send("drop-entry", entry.pk)
    assert entry not in played.carried()


def leaves(played: SeasonPlayed, _monday: date) -> None:
    who = played.cast.players[4]
    played.send("leave-team", who.pk)
    played.gone.append(who)
    assert not Casting.objects.filter(player=who).exists()


WHEN: Final = {
    "planned": 0.1,
    "ill": 0.2,
    "away": 0.25,
    "well": 0.4,
    "joins": 0.4,
    "lost": 0.45,
    "dropped": 0.55,
    "leaves": 0.65,
    "planned again": 0.7,
}
EVENTS: Final = {
    "planned": is_planned,
    "planned again": is_planned,
    "ill": falls_ill,
    "away": is_away,
    "well": is_well_again,
    "joins": joins,
    "lost": is_lost,
    "dropped": is_dropped,
    "leaves": leaves,
}


def goes_on(played: SeasonPlayed) -> None:
    """The next season: everybody who is there, every carried play with its cast, and no rep."""
    old = played.team
    along = ("package", "cast", "units", "patterns", "staff", "put_away")
    played.send(
        "next-season",
        old.pk,
        name=old.name,
        season="2027/28",
        age_group=old.age_group,
        players=[who.pk for who in old.players.present()],
        **dict.fromkeys(along, "on"),
    )
    new = Team.objects.latest("pk")
    assert names(new) == names(old)
    assert len(names(new)) == 13  # one came, one went
    assert casts(new) == casts(old)
    assert not Rep.objects.filter(entry__team=new).exists()
    assert played.sums() == played.counted
    played.walks(put_away=True)
    played.team = new
    played.gone = []
    played.walks()


def names(team: Team) -> list[str]:
    return sorted(team.players.present().values_list("name", flat=True))


def casts(team: Team) -> set[tuple[str, str, int, str]]:
    rows = Casting.objects.filter(entry__in=team.package.all().carried())
    return set(rows.values_list("entry__call", "role", "depth", "player__name"))
