"""The grid of the cast: choosing, swapping, locking, undoing, and two coaches at once."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from django.http import HttpResponse
from django.test import Client

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from plays.core.play import Need, Quality
from plays.library.changes import publish, save_draft
from roster.models import CastLock, CastStep, PackagePlay
from shared.models import Change
from tests.cast import Cast


def who(entry: PackagePlay) -> dict[str, str]:
    return {f"{c.role}.{c.depth}": c.player.name for c in entry.castings.select_related("player")}


def choose(client: Client, cast: Cast, slot: str, player: object, before: object) -> HttpResponse:
    role, depth = slot.split(".")
    path = f"/package/{cast.entry.pk}/cast/{role}/{depth}/"
    return client.post(path, {"player": player, "before": before}, follow=True)  # type: ignore[return-value]


def test_choosing_somebody_new_puts_them_in(cast: Cast) -> None:
    ida, pia = cast.players[0], cast.players[6]
    choose(cast.client(cast.head), cast, "1.1", pia.pk, ida.pk)
    assert who(cast.entry)["1.1"] == "Pia"
    step = CastStep.objects.get()
    assert (step.user, step.kind) == (cast.head, "hand")
    assert Change.objects.filter(verb="cast", team=cast.team.pk).exists()


def test_choosing_somebody_of_the_same_five_swaps_the_two(cast: Cast) -> None:
    ida, noor = cast.players[:2]
    choose(cast.client(cast.head), cast, "1.1", noor.pk, ida.pk)
    assert (who(cast.entry)["1.1"], who(cast.entry)["2.1"]) == ("Noor", "Ida")


def test_choosing_the_second_of_a_role_as_first_swaps_the_depths(cast: Cast) -> None:
    zoe, runa = cast.players[4], cast.players[5]
    choose(cast.client(cast.head), cast, "5.1", runa.pk, zoe.pk)
    assert (who(cast.entry)["5.1"], who(cast.entry)["5.2"]) == ("Runa", "Zoë")


def test_a_slot_can_be_left_open_and_then_shows_the_hole(cast: Cast) -> None:
    response = choose(cast.client(cast.head), cast, "2.1", "", cast.players[1].pk)
    assert "2.1" not in who(cast.entry)
    assert "nobody" in response.content.decode()


def test_what_another_coach_changed_meanwhile_is_not_overwritten(cast: Cast) -> None:
    ida, runa, pia = cast.players[0], cast.players[5], cast.players[6]
    choose(cast.client(cast.runner), cast, "1.1", pia.pk, ida.pk)
    response = choose(cast.client(cast.head), cast, "1.1", runa.pk, ida.pk)
    assert "nothing was overwritten" in response.content.decode()
    assert who(cast.entry)["1.1"] == "Pia"


def test_an_old_form_of_the_whole_play_is_shown_again_beside_theirs(cast: Cast) -> None:
    client, path = cast.client(cast.head), f"/package/{cast.entry.pk}/cast/"
    form = {"version": cast.entry.cast_version, "role-1-1": cast.players[5].pk}
    choose(cast.client(cast.runner), cast, "1.1", cast.players[6].pk, cast.players[0].pk)
    response = client.post(path, form)
    assert response.status_code == 422
    assert "As it stands now" in response.content.decode()
    assert who(cast.entry)["1.1"] == "Pia"


def test_a_swap_that_would_put_somebody_into_one_five_twice_is_refused_in_words(cast: Cast) -> None:
    """Zoë is second in role 1 too: as second in role 5 she would be in that five twice."""
    zoe, runa = cast.players[4], cast.players[5]
    factories.CastingFactory.create(entry=cast.entry, role="1", depth=2, player=zoe)
    response = choose(cast.client(cast.head), cast, "5.1", runa.pk, zoe.pk)
    assert "Zoë (8) is in roles 1 and 5 of Gangway" in response.content.decode()
    assert who(cast.entry)["5.1"] == "Zoë"


def test_the_list_says_fit_in_words_best_first(cast: Cast) -> None:
    value = demo_play("gangway")
    need = next(need for need in value.needs if need.role == "1")
    best, worst = cast.players[6], cast.players[0]
    for player, rating in ((best, 5), (worst, 1)):
        setattr(player, need.quality.value, rating)
        player.save()
    text = cast.client(cast.head).get(f"/package/{cast.entry.pk}/cast/1/1/").content.decode()
    assert text.index("Pia") < [found.start() for found in re.finditer(r">\s*Ida", text)][-1]
    assert "not rated" in text
    assert "Not all of it is rated." in text


def test_a_step_is_undone_and_said_to_be(cast: Cast) -> None:
    client = cast.client(cast.head)
    before = who(cast.entry)
    choose(client, cast, "1.1", cast.players[1].pk, cast.players[0].pk)
    step = CastStep.objects.get()
    client.post(f"/teams/{cast.team.pk}/cast/undo/", {"step": step.pk})
    assert who(cast.entry) == before
    assert CastStep.objects.get(pk=step.pk).undone
    text = client.get(f"/teams/{cast.team.pk}/cast/record/").content.decode()
    assert "undone" in text
    assert "Hedda" in text
    assert "role 1, first: Noor instead of Ida." in text


def test_a_step_is_not_undone_over_a_later_one(cast: Cast) -> None:
    client = cast.client(cast.head)
    choose(client, cast, "1.1", cast.players[6].pk, cast.players[0].pk)
    first = CastStep.objects.get()
    choose(client, cast, "1.1", cast.players[5].pk, cast.players[6].pk)
    response = client.post(f"/teams/{cast.team.pk}/cast/undo/", {"step": first.pk}, follow=True)
    assert "Not undone" in response.content.decode()
    assert who(cast.entry)["1.1"] == "Runa"


def test_who_leaves_leaves_a_hole_and_the_record_knows_who_it_was(cast: Cast) -> None:
    client, ida = cast.client(cast.head), cast.players[0]
    CastLock.objects.create(entry=cast.entry, role="1", depth=1, player=ida)
    client.post(f"/players/{ida.pk}/leave/")
    assert "1.1" not in who(cast.entry)
    assert not CastLock.objects.exists()
    grid = client.get(f"/teams/{cast.team.pk}/cast/").content.decode()
    assert "nobody" in grid
    record = client.get(f"/teams/{cast.team.pk}/cast/record/").content.decode()
    assert "role 1, first: left open, no longer Ida (4)." in record
    step = CastStep.objects.get(kind="left")
    answer = client.post(f"/teams/{cast.team.pk}/cast/undo/", {"step": step.pk}, follow=True)
    assert "Not undone" in answer.content.decode()


def test_fewer_than_five_is_said_and_nothing_breaks(cast: Cast) -> None:
    for player in cast.players[2:]:
        player.availability = "out"
        player.save()
    client, team = cast.client(cast.head), cast.team.pk
    for page in ("cast", "coverage", "five"):
        response = client.get(f"/teams/{team}/{page}/")
        assert response.status_code == 200
        assert "Only 2 players are available" in response.content.decode()
    response = client.post(f"/teams/{team}/cast/propose/", follow=True)
    assert "five players who are not out" in response.content.decode()
    assert client.get(f"/teams/{team}/five/card.pdf").status_code == 200


def test_a_lock_shows_and_lifts(cast: Cast) -> None:
    client, path = cast.client(cast.head), f"/package/{cast.entry.pk}/cast/1/1/lock/"
    assert "locked" in client.post(path, follow=True).content.decode()
    assert CastLock.objects.get().player == cast.players[0]
    client.post(path)
    assert not CastLock.objects.exists()


@pytest.mark.parametrize("path", ["6/1/", "1/4/", "x/1/"])
def test_a_place_that_no_play_has_is_not_found(path: str, cast: Cast) -> None:
    response = cast.client(cast.head).get(f"/package/{cast.entry.pk}/cast/{path}")
    assert response.status_code == 404


def test_a_revision_with_other_needs_is_told_until_the_cast_is_looked_at(cast: Cast) -> None:
    client, team = cast.client(cast.head), cast.team.pk
    asks_more(cast)
    assert "newer one" in client.get(f"/teams/{team}/cast/").content.decode()
    client.post(f"/package/{cast.entry.pk}/revision/")
    text = client.get(f"/teams/{team}/cast/").content.decode()
    assert "Role 3 asks for other things than before: Ada fits" in text
    assert "Role 2 asks" not in text
    client.post(f"/package/{cast.entry.pk}/cast/stands/")
    assert "other needs" not in client.get(f"/teams/{team}/cast/").content.decode()


def test_casting_such_a_play_anew_settles_it_too(cast: Cast) -> None:
    client = cast.client(cast.head)
    asks_more(cast)
    client.post(f"/package/{cast.entry.pk}/revision/")
    choose(client, cast, "3.1", cast.players[6].pk, cast.players[2].pk)
    cast.entry.refresh_from_db()
    assert cast.entry.cast_for is None


def asks_more(cast: Cast) -> None:
    """The library's play asks for the longest reach in role 3."""
    value = demo_play("gangway")
    more = replace(value, needs=(*value.needs, Need("3", Quality.REACH, 5, 3)))
    publish(save_draft(cast.play, more, cast.keeper), cast.keeper)


# As Gangway's file says it: the 4 screens, the 5 comes off it, the 2 clears out.
JOBS = {
    "2": "Clear out to a step above the near corner.",
    "4": "Set a cross screen for the 5",
    "5": "Run close past the screen by the 4.",
}


def test_the_picture_and_the_job_stand_beside_the_choices_of_a_role(cast: Cast) -> None:
    client, picture = cast.client(cast.head), f"/library/{cast.play.key}/revisions/1/card-light.svg"
    for role, job in JOBS.items():
        text = client.get(f"/package/{cast.entry.pk}/cast/{role}/1/").content.decode()
        assert picture in text
        assert job in text
        assert [each for each in JOBS.values() if each in text] == [job]
        assert "The number is the fit" not in text  # nobody is rated


def test_the_picture_and_every_job_stand_where_a_play_is_cast_by_hand(cast: Cast) -> None:
    text = cast.client(cast.head).get(f"/package/{cast.entry.pk}/cast/").content.decode()
    assert f"/library/{cast.play.key}/revisions/1/card-light.svg" in text
    assert all(text.count(job) == 1 for job in JOBS.values())


def test_who_stands_behind_the_first_is_said_on_the_fold(cast: Cast) -> None:
    text = cast.client(cast.head).get(f"/package/{cast.entry.pk}/cast/").content.decode()
    behind = re.findall(r"<span class=\"faint\" data-behind>(.*?)</span>", text)
    assert behind == ["", "", "", "", "Runa (9)"]
