"""One player to another team of the club, and back."""

from __future__ import annotations

from typing import Any

import pytest
from django.urls import reverse
from django.utils import timezone

from coachbook.demo import factories
from practice.models import Rep, RepRole
from roster.models import Casting, CastLock, Player, Team
from roster.squad.links import link_for
from tests.cast import Cast


@pytest.fixture
def kestrels(cast: Cast) -> Team:
    """Another team that the same head coach leads."""
    team = factories.TeamFactory.create(name="Kestrels")
    factories.StaffFactory.create(team=team, user=cast.head)
    return team


def send(cast: Cast, player: Player, **sent: Any) -> Any:
    return cast.client(cast.head).post(reverse("move-player", args=[player.pk]), sent)


def moved(cast: Cast, player: Player, team: Team, **sent: Any) -> Player:
    answer = send(cast, player, team=team.pk, number=player.number, **sent)
    assert answer.status_code == 302
    made = team.players.get()
    assert answer.headers["Location"] == reverse("move-player", args=[made.pk])
    return made


def undo(cast: Cast, player: Player) -> str:
    answer = cast.client(cast.head).post(reverse("undo-move", args=[player.pk]), follow=True)
    return answer.content.decode()


def test_who_moves_keeps_what_casting_needs_and_leaves_the_history_where_it_was(
    cast: Cast, kestrels: Team
) -> None:
    zoe = cast.players[4]
    Player.objects.filter(pk=zoe.pk).update(passing=4, height_cm=171, availability="limited")
    rep = factories.RepFactory.create(
        practice=cast.practice, entry=cast.entry, cast={"5": zoe}, at=timezone.now()
    )
    link = link_for(zoe, timezone.now())
    made = moved(cast, zoe, kestrels)
    assert (made.name, made.passing, made.height_cm) == (zoe.name, 4, 171)
    assert (made.availability, made.left_on) == ("limited", None)
    zoe.refresh_from_db()
    assert zoe.team == cast.team
    assert zoe.left_on == timezone.localdate()
    assert list(RepRole.objects.filter(rep=rep).values_list("player", flat=True)) == [zoe.pk]
    assert Rep.objects.get().practice.team == cast.team
    assert not zoe.castings.exists()
    link.refresh_from_db()
    assert link.withdrawn_at is not None


def test_who_stays_as_well_keeps_everything_there(cast: Cast, kestrels: Team) -> None:
    zoe = cast.players[4]
    made = moved(cast, zoe, kestrels, stays="on")
    zoe.refresh_from_db()
    assert zoe.left_on is None
    assert zoe.castings.count() == 1
    assert made.pk != zoe.pk


def test_a_number_that_is_taken_there_is_told_at_its_field(cast: Cast, kestrels: Team) -> None:
    factories.PlayerFactory.create(team=kestrels, name="Bodil", number="8")
    answer = send(cast, cast.players[4], team=kestrels.pk, number="8")
    assert answer.status_code == 422
    form = answer.context["form"]
    assert form.errors["number"] == ["Another player of this team wears that number."]
    assert form["team"].value() == str(kestrels.pk)
    assert kestrels.players.count() == 1


@pytest.mark.parametrize("key", ["", "x", "999999", "9" * 40])
def test_only_a_team_that_one_may_change_is_a_choice(cast: Cast, kestrels: Team, key: str) -> None:
    wanted = key or str(cast.other_team.pk)
    answer = send(cast, cast.players[4], team=wanted, number="8")
    assert answer.status_code == 422
    assert "team" in answer.context["form"].errors
    assert Player.objects.get(pk=cast.players[4].pk).left_on is None


def test_a_move_is_taken_back_with_the_places_that_are_still_open(
    cast: Cast, kestrels: Team
) -> None:
    zoe = cast.players[4]
    places = list(Casting.objects.order_by("role", "depth").values_list("role", "depth", "player"))
    CastLock.objects.create(entry=cast.entry, role="5", depth=1, player=zoe)
    made = moved(cast, zoe, kestrels)
    assert "is taken back" in undo(cast, made)
    zoe.refresh_from_db()
    assert zoe.left_on is None
    assert not kestrels.players.exists()
    now = Casting.objects.order_by("role", "depth").values_list("role", "depth", "player")
    assert list(now) == places


def test_a_place_that_somebody_has_filled_meanwhile_stays_theirs(
    cast: Cast, kestrels: Team
) -> None:
    made = moved(cast, cast.players[4], kestrels)
    other = cast.players[6]
    factories.CastingFactory.create(entry=cast.entry, role="5", player=other)
    assert "is taken back" in undo(cast, made)
    assert Casting.objects.get(entry=cast.entry, role="5", depth=1).player == other


def test_what_has_happened_since_is_not_undone_but_said(cast: Cast, kestrels: Team) -> None:
    made = moved(cast, cast.players[4], kestrels)
    practice = factories.PracticeFactory.create(team=kestrels)
    practice.attendance.create(player=made, presence="away")
    assert "has been cast, practised or been noted here since" in undo(cast, made)
    assert kestrels.players.get() == made


def test_a_number_given_to_somebody_else_meanwhile_is_said(cast: Cast, kestrels: Team) -> None:
    made = moved(cast, cast.players[4], kestrels)
    factories.PlayerFactory.create(team=cast.team, name="Bodil", number=made.number)
    assert f"wears {made.number} now" in undo(cast, made)
    assert kestrels.players.get() == made


def test_from_a_season_put_away_somebody_goes_on_and_stays(cast: Cast, kestrels: Team) -> None:
    Team.objects.filter(pk=cast.team.pk).update(archived_on=timezone.localdate())
    zoe = cast.players[4]
    moved(cast, zoe, kestrels)
    zoe.refresh_from_db()
    assert zoe.left_on is None


def test_who_has_left_is_moved_no_more(cast: Cast, kestrels: Team) -> None:
    made = moved(cast, cast.players[4], kestrels)
    assert made.number == cast.players[4].number
    answer = send(cast, cast.players[4], team=kestrels.pk, number="99")
    assert answer.status_code == 302
    assert answer.headers["Location"] == reverse("roster", args=[cast.team.pk])
    assert kestrels.players.count() == 1
