"""A team's next season: who and what goes on, and what stays."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from practice.dates.feeds import give, token
from practice.models import PlanPattern, Practice, Rep
from practice.season.copies import TakenAlong, a_year_on, begin_season
from roster.models import CastBan, Casting, CastLock, KeptApart, Player, Team
from shared.models import Change
from tests.cast import Cast
from tests.phone import path

PLAYS = ("slipway", "foghorn", "breakwater", "open-water", "paper-lantern")


def sent(cast: Cast, **changed: Any) -> dict[str, Any]:
    """What the form sends where nothing is changed."""
    return {
        "name": "Herons",
        "season": "2027/28",
        "season_ends": "",
        "age_group": cast.team.age_group,
        "players": [player.pk for player in cast.players],
        **dict.fromkeys(("package", "cast", "units", "patterns", "staff", "put_away"), "on"),
        **changed,
    }


def begin(cast: Cast, **changed: Any) -> Team:
    answer = cast.client(cast.head).post(
        reverse("next-season", args=[cast.team.pk]), sent(cast, **changed)
    )
    assert answer.status_code == 302, answer.context["form"].errors
    return Team.objects.latest("pk")


def test_the_form_proposes_the_year_after_and_everybody_of_the_squad(cast: Cast) -> None:
    Team.objects.filter(pk=cast.team.pk).update(season="2026/27", season_ends=date(2027, 5, 31))
    form = cast.client(cast.head).get(reverse("next-season", args=[cast.team.pk])).context["form"]
    assert form["season"].value() == "2027/28"
    assert form["season_ends"].value() == date(2028, 5, 31)
    assert form["players"].value() == [player.pk for player in cast.players]


def test_the_squad_goes_on_with_numbers_ratings_and_who_is_out(cast: Cast) -> None:
    Player.objects.filter(pk=cast.players[0].pk).update(passing=4, availability="out")
    new = begin(cast)
    before, after = (
        list(team.players.values_list("name", "number", "passing", "availability", "height_cm"))
        for team in (cast.team, new)
    )
    assert before == after
    assert ("Ida", "4", 4, "out", cast.players[0].height_cm) in after


def test_the_plays_go_on_with_their_cast_and_nothing_of_the_old_team_moves(cast: Cast) -> None:
    before = list(Casting.objects.values_list("pk", "entry", "player"))
    new = begin(cast)
    (entry,) = new.package.all()
    assert (entry.call, entry.revision_id) == ("Gangway {5}", cast.entry.revision_id)
    places = entry.castings.values_list("role", "depth", "player__name")
    assert list(places) == list(cast.entry.castings.values_list("role", "depth", "player__name"))
    assert {casting.player.team_id for casting in entry.castings.all()} == {new.pk}
    assert (
        list(Casting.objects.filter(entry__team=cast.team).values_list("pk", "entry", "player"))
        == before
    )


def test_a_day_to_be_ready_by_is_over(cast: Cast) -> None:
    cast.team.package.update(ready_by=date(2026, 12, 1))
    assert begin(cast).package.get().ready_by is None


def test_who_stays_behind_leaves_holes_and_breaks_the_unit(cast: Cast) -> None:
    staying = cast.players[4]
    kept = [player.pk for player in cast.players if player != staying]
    new = begin(cast, players=kept)
    assert not new.players.filter(name=staying.name).exists()
    assert not new.units.exists()
    entry = new.package.get()
    assert not entry.castings.filter(role="5", depth=1).exists()
    assert entry.castings.get(role="5", depth=2).player.name == "Runa"


def test_a_whole_unit_goes_on_and_its_play_still_names_it(cast: Cast) -> None:
    cast.team.package.update(unit=cast.unit)
    new = begin(cast)
    unit = new.units.get()
    assert {player.team_id for player in unit.members.all()} == {new.pk}
    assert new.package.get().unit == unit


def test_wishes_go_on_where_everybody_they_speak_of_does(cast: Cast) -> None:
    one, other, third = cast.players[:3]
    CastLock.objects.create(entry=cast.entry, role="1", player=one)
    CastBan.objects.create(player=other, entry=cast.entry, role="5")
    CastBan.objects.create(player=other, role="4")
    KeptApart.objects.create(team=cast.team, one=one, other=other)
    KeptApart.objects.create(team=cast.team, one=one, other=third)
    kept = [player.pk for player in cast.players if player != third]
    new = begin(cast, players=kept)
    assert CastLock.objects.get(entry__team=new).player.name == one.name
    bans = CastBan.objects.filter(player__team=new)
    assert sorted(bans.values_list("role", "entry__team")) == [("4", None), ("5", new.pk)]
    apart = new.kept_apart.get()
    assert {apart.one.name, apart.other.name} == {one.name, other.name}


def test_patterns_and_staff_go_on_and_dates_do_not(cast: Cast) -> None:
    PlanPattern.objects.create(team=cast.team, name="Tuesday", blocks=[{"kind": "free"}])
    new = begin(cast)
    assert new.patterns.get().blocks == [{"kind": "free"}]
    duties = new.staff_places.values_list("user", "duty")
    assert set(duties) == {(cast.head.pk, "head"), (cast.assistant.pk, "assistant")}
    assert not Practice.objects.filter(team=new).exists()


@pytest.mark.parametrize("left", ["package", "cast", "units", "patterns", "staff", "put_away"])
def test_each_of_them_can_be_left_behind(cast: Cast, left: str) -> None:
    PlanPattern.objects.create(team=cast.team, name="Tuesday", blocks=[])
    data = sent(cast)
    del data[left]
    cast.client(cast.head).post(reverse("next-season", args=[cast.team.pk]), data)
    new = Team.objects.latest("pk")
    there = {
        "package": new.package.exists(),
        "cast": Casting.objects.filter(entry__team=new).exists(),
        "units": new.units.exists(),
        "patterns": new.patterns.exists(),
        "staff": new.staff_places.filter(user=cast.assistant).exists(),
        "put_away": Team.objects.get(pk=cast.team.pk).archived_on is not None,
    }
    gone = {left, "cast"} if left == "package" else {left}
    assert {name for name, is_there in there.items() if not is_there} == gone
    assert new.staff_places.filter(user=cast.head, duty="head").exists()


def test_a_dropped_play_and_who_has_left_do_not_come_along(cast: Cast) -> None:
    cast.team.package.update(dropped_on=date(2026, 10, 1))
    Player.objects.filter(pk=cast.players[6].pk).update(left_on=date(2026, 10, 1))
    answer = cast.client(cast.head).post(reverse("next-season", args=[cast.team.pk]), sent(cast))
    assert answer.status_code == 422  # somebody who has left was sent by hand
    new = begin(cast, players=[player.pk for player in cast.players[:6]])
    assert not new.package.exists()
    assert new.players.count() == 6


@pytest.mark.parametrize(
    ("changed", "field"),
    [({"season": ""}, "season"), ({"season": "2026/27"}, "season"), ({"name": ""}, "name")],
)
def test_what_is_wrong_is_said_at_its_field(
    cast: Cast, changed: dict[str, str], field: str
) -> None:
    Team.objects.filter(pk=cast.team.pk).update(season="2026/27")
    before = Team.objects.count()
    address = reverse("next-season", args=[cast.team.pk])
    answer = cast.client(cast.head).post(address, sent(cast, **changed))
    assert answer.status_code == 422
    assert field in answer.context["form"].errors
    assert Team.objects.count() == before


def test_a_season_is_not_begun_beside_itself(cast: Cast) -> None:
    begin(cast)
    address = reverse("next-season", args=[cast.team.pk])
    answer = cast.client(cast.head).post(address, sent(cast))
    assert "season" in answer.context["form"].errors


def test_two_presses_begin_one_season(cast: Cast) -> None:
    client = cast.client(cast.head)
    address = reverse("next-season", args=[cast.team.pk])
    data = sent(cast, once="8f14e45f-ceea-467f-a8f6-7b1f3c5a1d11")
    first, second = client.post(address, data), client.post(address, data)
    assert first.headers["Location"] == second.headers["Location"]
    assert Team.objects.filter(season="2027/28").count() == 1


def test_as_many_queries_for_six_plays_as_for_one(cast: Cast) -> None:
    def cost(season: str) -> int:
        new = Team(name="Herons", season=season, age_group="U16", rule_set="FIBA")
        along = TakenAlong(frozenset(player.pk for player in cast.players))
        with CaptureQueriesContext(
            connection,
        ) as seen:
            begin_season(cast.team, new, along, cast.head)
        return len(seen)

    alone = cost("a")
    for number in range(len(PLAYS)):
        play = factories.published(demo_play(PLAYS[number]), cast.keeper)
        entry = factories.PackagePlayFactory.create(team=cast.team, play=play)
        for role, player in enumerate(cast.players[:5], start=1):
            factories.CastingFactory.create(entry=entry, role=str(role), player=player)
    assert cost("b") == alone


def test_a_leap_day_has_a_year_after() -> None:
    assert a_year_on(date(2028, 2, 29)) == date(2029, 2, 28)
    assert a_year_on(None) is None


def test_a_season_put_away_is_read_and_not_changed(cast: Cast) -> None:
    client = cast.client(cast.head)
    client.post(reverse("put-season-away", args=[cast.team.pk]))
    assert client.get(reverse("roster", args=[cast.team.pk])).status_code == 200
    assert client.get(reverse("new-player", args=[cast.team.pk])).status_code == 403
    assert client.get(reverse("edit-practice", args=[cast.practice.pk])).status_code == 403
    home = client.get(reverse("home"))
    assert [team.pk for team in home.context["past"]] == [cast.team.pk]
    assert cast.team not in home.context["teams"]
    client.post(reverse("bring-season-back", args=[cast.team.pk]))
    assert client.get(reverse("new-player", args=[cast.team.pk])).status_code == 200


def test_a_season_put_away_closes_its_links_and_its_calendars(cast: Cast) -> None:
    """As the page says before; brought back, new ones have to be handed out."""
    client, zoe = cast.client(cast.head), cast.players[4]
    phone = Client(headers={"user-agent": "a phone"})
    link = path(zoe)
    give(cast.team, zoe, cast.head)
    calendar = reverse("feed", args=[token(cast.team.feed_links.get())])
    assert phone.get(link).status_code == 200
    assert phone.get(calendar).status_code == 200
    client.post(reverse("put-season-away", args=[cast.team.pk]))
    for _brought_back in (False, True):
        assert phone.get(link).status_code == 404
        assert phone.get(calendar).status_code == 404
        client.post(reverse("bring-season-back", args=[cast.team.pk]))


def test_a_family_can_still_have_its_data_from_a_season_put_away(cast: Cast) -> None:
    client = cast.client(cast.head)
    client.post(reverse("put-season-away", args=[cast.team.pk]))
    address = reverse("player-data", args=[cast.players[0].pk])
    assert client.get(address).status_code == 200
    client.post(address)
    assert not Player.objects.filter(team=cast.team, name="Ida").exists()


def test_deleting_asks_for_the_name_and_takes_everything(
    cast: Cast, django_capture_on_commit_callbacks: Any
) -> None:
    rep = factories.RepFactory.create(practice=cast.practice, entry=cast.entry)
    client = cast.client(cast.head)
    address = reverse("delete-team", args=[cast.team.pk])
    wrong = client.post(address, {"typed": "Otters"})
    assert wrong.status_code == 422
    rows = wrong.context["rows"]
    assert (rows.players, rows.plays, rows.practices) == (7, 1, 1)
    assert (rows.games, rows.opponents, rows.reps) == (1, 1, 1)
    assert Team.objects.filter(pk=cast.team.pk).exists()
    with django_capture_on_commit_callbacks(execute=True):
        done = client.post(address, {"typed": f"  {str(cast.team).lower()} "})
    assert done.status_code == 302
    assert not Team.objects.filter(pk=cast.team.pk).exists()
    assert not Rep.objects.filter(pk=rep.pk).exists()
    assert not Player.objects.filter(name="Ida").exists()
    assert Player.objects.filter(name="Olaf").exists()  # of the other team
    (line,) = Change.objects.filter(team=cast.team.pk)
    assert line.verb == "deleted a team"
