"""Coverage, minutes, pairs kept apart, and the list of what is to be taught."""

from __future__ import annotations

import re
from datetime import timedelta

import pytest
from django.utils import timezone

from coachbook.demo import factories
from roster.cast.loaded import team_cast
from roster.models import KeptApart, Lesson
from tests.cast import Cast


def coverage(cast: Cast, query: str = "") -> str:
    response = cast.client(cast.head).get(f"/teams/{cast.team.pk}/coverage/{query}")
    assert response.status_code == 200
    return response.content.decode()


def percent(text: str) -> int:
    found = re.search(r"<strong>(\d+) %", text)
    assert found
    return int(found[1])


def test_the_share_is_that_of_the_fives_that_can_run_the_play(cast: Cast) -> None:
    """Seven players alike: 2 of the 21 fives hold the four firsts and one for role 5."""
    assert percent(coverage(cast)) == 100 * 2 // 21


def test_minutes_move_the_share(cast: Cast) -> None:
    client, path = cast.client(cast.head), f"/teams/{cast.team.pk}/minutes/"
    assert "minutes together" not in client.get(path).content.decode()  # none stated, no sum
    minutes = {f"minutes-{player.pk}": 40 for player in cast.players[:4]}
    minutes |= {f"minutes-{player.pk}": 10 for player in cast.players[4:]}
    response = client.post(path, {"kind": "minutes", **minutes}, follow=True)
    assert "The minutes are saved." in response.content.decode()
    # The four firsts always play; the fifth place falls to each of the other three alike.
    assert percent(coverage(cast)) == 100 * 2 // 3


def test_minutes_out_of_range_are_refused_with_a_word(cast: Cast) -> None:
    form = {"kind": "minutes", f"minutes-{cast.players[0].pk}": "61"}
    response = cast.client(cast.head).post(f"/teams/{cast.team.pk}/minutes/", form)
    assert response.status_code == 422
    everybody = {f"minutes-{player.pk}": "0" for player in cast.players}
    response = cast.client(cast.head).post(
        f"/teams/{cast.team.pk}/minutes/", {"kind": "minutes", **everybody}
    )
    assert "Somebody must have minutes." in response.content.decode()


def test_a_pair_kept_apart_leaves_no_five_with_both(cast: Cast) -> None:
    client, path = cast.client(cast.head), f"/teams/{cast.team.pk}/minutes/"
    zoe, runa = cast.players[4:6]
    form = {"kind": "apart", "apart-one": runa.pk, "apart-other": zoe.pk}
    client.post(path, form)
    pair = KeptApart.objects.get()
    assert (pair.one, pair.other) == (zoe, runa)
    squad = team_cast(cast.team).squad()
    # Of the 21 fives, C(5, 3) = 10 hold both.
    assert squad.floor.allowed.sum() == 11
    assert client.post(path, form).status_code == 422
    client.post(path, {"remove-apart": pair.pk})
    assert not KeptApart.objects.exists()


def test_nobody_is_kept_apart_from_themselves(cast: Cast) -> None:
    ida = cast.players[0].pk
    response = cast.client(cast.head).post(
        f"/teams/{cast.team.pk}/minutes/", {"kind": "apart", "apart-one": ida, "apart-other": ida}
    )
    assert "Choose two different players." in response.content.decode()


def test_supposing_somebody_out_changes_the_figures_and_the_call(cast: Cast) -> None:
    text = coverage(cast, f"?out={cast.players[4].pk}")
    assert percent(text) == 100 // 6  # one of the six fives without Zoë
    assert "with nobody else out" in text
    assert "Gangway Runa" in text
    assert "nobody can run it" in coverage(cast, f"?out={cast.players[0].pk}")


def test_an_absence_says_what_nobody_could_run(cast: Cast) -> None:
    text = coverage(cast)
    row = re.search(r"<strong>Ida</strong>.*?</li>", text, re.DOTALL)
    assert row
    assert "Nobody could run" in row[0]


def test_a_lesson_goes_on_the_list_once_and_is_struck_off(cast: Cast) -> None:
    client, path = cast.client(cast.head), f"/teams/{cast.team.pk}/coverage/lessons/"
    found = re.search(r'name="lesson" value="([^"]+)"', coverage(cast))
    assert found
    for _ in range(2):
        client.post(path, {"lesson": found[1]})
    lesson = Lesson.objects.get()
    assert f"{lesson.player_id}.{lesson.entry_id}.{lesson.role}" == found[1]
    assert lesson.made_by == cast.head
    assert "on the list" in coverage(cast)
    client.post(path, {"strike": lesson.pk})
    assert not Lesson.objects.filter(done=False).exists()


def test_a_lesson_that_makes_no_sense_is_passed_over(cast: Cast) -> None:
    client, path = cast.client(cast.head), f"/teams/{cast.team.pk}/coverage/lessons/"
    ida, entry = cast.players[0].pk, cast.entry.pk
    for text in (
        "",
        "x.y.z",
        f"{ida}.{entry}.9",
        f"{cast.other_player.pk}.{entry}.1",
        f"{ida}.0.1",
    ):
        assert client.post(path, {"lesson": text}).status_code == 302
    assert not Lesson.objects.exists()


def test_a_squad_of_any_size_is_reckoned_with(cast: Cast) -> None:
    for number in range(40, 58):
        factories.PlayerFactory.create(team=cast.team, number=str(number))
    text = coverage(cast)
    assert "No more than 20 players" in text
    assert cast.client(cast.head).get(f"/teams/{cast.team.pk}/five/").status_code == 200


def test_an_empty_package_says_what_to_do(cast: Cast) -> None:
    cast.team.package.all().delete()
    assert "The team carries no play yet." in coverage(cast)


@pytest.mark.parametrize("page", ["coverage", "five", "cast", "readiness", "sheets"])
def test_a_team_without_anybody_is_led_to_the_roster_first(cast: Cast, page: str) -> None:
    team = factories.TeamFactory.create()
    path = f"/teams/{team.pk}/{page}/"
    main = cast.client(cast.runner).get(path).content.decode().partition("<main")[2]
    assert main.count("Nobody is on the roster yet.") == 1
    assert f'href="/teams/{team.pk}/roster/">To the roster' in main
    assert "To the package" not in main


def test_one_player_sees_every_role_and_the_load(cast: Cast) -> None:
    text = cast.client(cast.assistant).get(f"/players/{cast.players[4].pk}/cast/").content.decode()
    assert "Strong finisher" in text or "not rated" in text
    assert "Gangway" in text
    ida = cast.client(cast.assistant).get(f"/players/{cast.players[0].pk}/cast/").content.decode()
    assert "Nobody else who can play is cast in:" in ida


def test_only_who_is_ready_by_the_reps_counts_where_that_is_asked(cast: Cast) -> None:
    """Nobody has run a rep: nobody is ready. Twelve clean live reps a day ago make five ready."""
    assert percent(coverage(cast, "?ready=on")) == 0
    assert percent(coverage(cast)) > 0
    cast.practice.date = timezone.localdate() - timedelta(days=1)
    cast.practice.save()
    began = timezone.now() - timedelta(days=1)
    five = {str(role): who for role, who in enumerate(cast.players[:5], start=1)}
    for minute in range(12):
        at = began + timedelta(minutes=minute)
        factories.RepFactory.create(
            practice=cast.practice, entry=cast.entry, mode="live", at=at, cast=five
        )
    assert percent(coverage(cast, "?ready=on")) == 100 // 21


def test_by_default_the_fives_that_fill_the_positions_count_and_a_tap_shows_all(
    cast: Cast,
) -> None:
    """1 to 4 are one player each and 5 has three: C(3, 1) = 3 fives, two of which know role 5."""
    for number, player in enumerate(cast.players):
        player.positions = str(min(5, number + 1))
        player.save()
    text = coverage(cast)
    assert "Counted: the 3 fives that fill the usual positions, of 21." in text
    assert percent(text) == 100 * 2 // 3
    text = coverage(cast, "?fives=every")
    assert "Counted: all 21 fives." in text
    assert percent(text) == 100 * 2 // 21
    text = coverage(cast, "?fives=units")
    assert "Counted: 1 unit." in text
    assert percent(text) == 100
    assert 'href="?fives=usual"' in text


def test_units_that_give_everybody_a_place_count_by_themselves_and_one_tap_counts_others(
    cast: Cast,
) -> None:
    """Seven in the team: one unit leaves two out, so that the usual fives count; two leave none.

    The second unit has the two others and 1 to 3: nobody of it is cast in roles 4 and 5 but 5's
    second, so that one of the two units can run the play.
    """
    for number, player in enumerate(cast.players):
        player.positions = str(min(5, number + 1))
        player.save()
    assert "fill the usual positions" in coverage(cast)
    second = factories.UnitFactory.create(team=cast.team)
    second.members.set([*cast.players[:3], *cast.players[5:7]])
    text = coverage(cast, f"?out={cast.players[0].pk}")
    assert "None of those fives is whole now: all fives count." in text
    text = coverage(cast)
    assert "Counted: 2 units." in text
    assert 'href="?fives=usual"' in text
    assert 'href="?fives=every"' in text
    assert 'href="?fives=units"' not in text
    cast.players[0].expected_minutes = 0
    cast.players[0].save()
    assert "Counted: 2 units." in coverage(cast), "who is to sit out may be in a unit"
    second.members.remove(cast.players[6])
    assert "fill the usual positions" in coverage(cast)
    cast.players[6].expected_minutes = 0
    cast.players[6].save()
    assert "fill the usual positions" in coverage(cast), "5's second is in no whole unit"


def test_where_no_usual_five_is_left_all_count_and_the_page_says_so(cast: Cast) -> None:
    for number, player in enumerate(cast.players):
        player.positions = str(min(5, number + 1))
        player.save()
    text = coverage(cast, f"?out={cast.players[0].pk}")
    assert "None of those fives is whole now: all fives count." in text


def test_without_positions_all_fives_count(cast: Cast) -> None:
    assert "Counted: all 21 fives." in coverage(cast)
    assert 'value="usual"' not in coverage(cast)
