"""Plays called in a game: each possession once, whatever happens on the way."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import time, timedelta
from typing import Any

import pytest
from django.core.management import call_command
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from plays.core.defence.stance import Tactic
from plays.core.defence.words import TACTICS
from plays.library.changes import publish, save_draft
from practice.core.reps.called import SEEN, CallResult, Take, game_key, game_of, worth
from practice.core.reps.log import merge, to_json
from practice.core.reps.rep import Mode
from practice.core.reps.tap_file import read_taps
from practice.games.possessions import possessions_of
from practice.models import (
    DEFENCE_CHOICES,
    Absence,
    CalledPlay,
    CalledRole,
    HeldRep,
    Rep,
    RepSum,
    SquadMark,
)
from practice.models import Undo as UndoRow
from practice.reps.sums import reps_by_call, touches_of, touches_of_cell
from roster.models import Availability
from shared.core.language import ENGLISH
from tests.cast import Cast
from tests.practice.games.taps import called, counted, send, today, undo


@pytest.fixture(autouse=True)
def game_day(cast: Cast) -> Cast:
    return today(cast)


def test_the_defences_are_those_of_the_check_by_the_same_words() -> None:
    assert len(SEEN) == len(set(SEEN)) == len(Tactic)
    assert {value: str(label) for value, label in DEFENCE_CHOICES} == {
        tactic.value: said for tactic, said in TACTICS.items()
    }


def test_a_possession_is_stored_with_its_five_and_answered_for(cast: Cast) -> None:
    one = called(cast, period=2, clock=431, call="")
    answer = send(cast, one)
    assert answer["kept"] == [one["id"]]
    assert answer["tally"] == {str(cast.entry.pk): {"total": 1, "clean": 1}}
    row = CalledPlay.objects.get()
    assert (row.game, row.entry, row.revision) == (cast.game, cast.entry, cast.entry.revision)
    assert (row.defence, row.taken, row.look) == ("switch", "look", "post")
    assert (row.result, row.points) == ("points", 2)
    assert (row.period, row.clock, row.call, row.logged_by) == (2, 431, "", cast.assistant)
    assert dict(row.roles.values_list("role", "player")) == {
        str(role): player.pk for role, player in enumerate(cast.players[:5], start=1)
    }


@pytest.mark.parametrize(
    ("result", "said", "kept"),
    [
        ("points", 0, 0),
        ("points", 3, 3),
        ("foul", None, None),
        ("foul", 1, 1),
        ("turnover", None, 0),
        ("five_seconds", 2, 0),
        ("reset", None, None),
        ("reset", 2, None),
    ],
)
def test_what_a_possession_was_worth(
    cast: Cast, result: str, said: int | None, kept: int | None
) -> None:
    """A lost ball is worth nothing; one that was played on with is not over (our definition)."""
    send(cast, called(cast, result=result, points=said))
    assert CalledPlay.objects.get().points == kept
    assert worth(CallResult(result), said) == kept


def test_doubled_and_reordered_sends_of_two_phones_count_once(cast: Cast) -> None:
    """Forty possessions of two phones that log one game, each sent three times."""
    taps = [called(cast) for _ in range(40)]
    sends = taps * 3
    random.Random(5).shuffle(sends)
    for start in range(0, len(sends), 7):
        who = cast.head if start % 2 else cast.assistant
        send(cast, *sends[start : start + 7], user=who)
    assert counted(cast) == 40
    assert CalledRole.objects.count() == 200
    assert sum(RepSum.objects.values_list("count", flat=True)) == 200


@pytest.mark.parametrize("first", ["called", "undo", "together"])
def test_an_undo_takes_it_back_whenever_it_comes(cast: Cast, first: str) -> None:
    one = called(cast)
    back = undo(one)
    orders = {"called": [[one], [back]], "undo": [[back], [one]], "together": [[back, one]]}
    for batch in orders[first]:
        assert {each["id"] for each in batch} <= set(send(cast, *batch)["kept"])
    assert counted(cast) == 0
    assert CalledPlay.objects.count() == 1  # kept on record, and out of every count
    assert not RepSum.objects.exists()
    assert send(cast)["tally"] == {}


def test_nobody_takes_back_a_possession_of_another_team(cast: Cast) -> None:
    one = called(cast)
    send(cast, one)
    path = reverse("taps", args=[cast.other_team.pk])
    answer = cast.client(cast.stranger).post(
        path, {"taps": [undo(one)]}, content_type="application/json"
    )
    assert answer.status_code == 200
    assert UndoRow.objects.get().team == cast.other_team
    assert counted(cast) == 1


def test_the_five_ran_it_once_in_game_mode_and_no_rep_is_made(cast: Cast) -> None:
    send(cast, called(cast, call=""), called(cast, call=""))
    touches = touches_of(cast.team)
    assert not Rep.objects.exists()
    assert {(t.player, t.role, t.mode, t.count, t.clean) for t in touches} == {
        (player.pk, str(role), Mode.GAME, 2, True)
        for role, player in enumerate(cast.players[:5], start=1)
    }
    single = touches_of_cell(cast.players[0].pk, cast.entry.pk, "1")
    assert [t.mode for t in single] == [Mode.GAME, Mode.GAME]
    assert reps_by_call(cast.players[0], cast.entry, "1") == [("", 2)]


def test_a_broken_one_is_an_error_of_who_erred_alone(cast: Cast) -> None:
    send(cast, called(cast, taken="broken", look=None, erred="3"))
    clean = {touch.role: touch.clean for touch in touches_of(cast.team)}
    assert clean == {"1": True, "2": True, "3": False, "4": True, "5": True}


def test_a_game_is_never_taken_for_the_practice_of_its_number(cast: Cast) -> None:
    game = cast.game
    if game.pk != cast.practice.pk:
        factories.PracticeFactory.create(pk=game.pk, team=cast.team, start=time(6))
    rep = {
        "kind": "rep",
        "id": "0198a6f0-0000-7000-8000-000000000001",
        "practice": game.pk,
        "play": cast.entry.pk,
        "mode": "live",
        "at": timezone.now().isoformat(),
        "cast": called(cast)["cast"],
        "clean": True,
    }
    answer = send(cast, rep, called(cast))
    assert answer["held"] == []
    assert {touch.practice for touch in touches_of(cast.team)} == {
        game.pk,
        f"game {game.pk}",
    }
    assert game_of(game_key(7)) == 7
    assert game_of(7) is None


def test_sums_made_anew_say_the_same(cast: Cast) -> None:
    send(cast, called(cast), called(cast, taken="broken", look=None), called(cast, cast={}))
    before = touches_of(cast.team)
    RepSum.objects.all().delete()
    call_command("sum_reps")
    assert touches_of(cast.team) == before
    assert sum(touch.count for touch in before) == 10


def test_without_a_five_it_counts_for_the_play_alone(cast: Cast) -> None:
    assert send(cast, called(cast, cast={}))["held"] == []
    assert counted(cast) == 1
    assert not RepSum.objects.exists()
    assert send(cast, called(cast, cast={"1": cast.players[0].pk}))["held"] == []
    assert [touch.role for touch in touches_of(cast.team)] == ["1"]


def dropped(cast: Cast) -> dict[str, Any]:
    cast.entry.dropped_on = timezone.localdate()
    cast.entry.save()
    return called(cast)


def absent(cast: Cast) -> dict[str, Any]:
    day = timezone.localdate()
    Absence.objects.create(player=cast.players[1], first=day, last=day)
    return called(cast)


def out_today(cast: Cast) -> dict[str, Any]:
    SquadMark.objects.create(game=cast.game, player=cast.players[1], is_out=True)
    return called(cast)


def out_until_cleared(cast: Cast) -> dict[str, Any]:
    cast.players[1].availability = Availability.OUT
    cast.players[1].save()
    return called(cast)


def moved_game(cast: Cast) -> dict[str, Any]:
    one = called(cast)
    cast.game.date += timedelta(days=9)
    cast.game.save()
    return one


def game_of_others(cast: Cast) -> dict[str, Any]:
    return called(cast, game=factories.GameFactory.create(team=cast.other_team).pk)


def gone_player(cast: Cast) -> dict[str, Any]:
    cast.players[1].left_on = timezone.localdate()
    cast.players[1].save()
    return called(cast)


def two_roles(cast: Cast) -> dict[str, Any]:
    return called(cast, cast={"1": cast.players[0].pk, "2": cast.players[0].pk})


def unknown_look(cast: Cast) -> dict[str, Any]:
    return called(cast, look="nobody-drew-this")


def look_of_another_play(cast: Cast) -> dict[str, Any]:
    """A revision that is another play's: the state that is carried is asked instead."""
    other = factories.published(demo_play("foghorn"), cast.keeper).published()
    return called(cast, revision=other.pk, look="never-of-gangway")


def wrong_clock(cast: Cast) -> dict[str, Any]:
    return called(cast, at="9999-12-31T23:59:59+00:00")


ODD = (
    dropped,
    absent,
    out_today,
    out_until_cleared,
    moved_game,
    game_of_others,
    gone_player,
    two_roles,
    unknown_look,
    look_of_another_play,
    wrong_clock,
)


@pytest.mark.parametrize("odd", ODD, ids=lambda each: each.__name__)
def test_what_does_not_fit_is_kept_for_a_decision_and_shown(cast: Cast, odd: Any) -> None:
    one = odd(cast)
    assert send(cast, one, one)["held"] == [one["id"]]
    assert counted(cast) == 0
    assert not RepSum.objects.exists()
    page = cast.client(cast.assistant).get(reverse("held-reps", args=[cast.team.pk]))
    said = page.content.decode()
    assert "note-warning" in said
    assert "Nothing speaks against it" not in said
    assert f'name="{one["id"]}-look"' in said
    assert send(cast, one)["held"] == [one["id"]]  # sent again, it stays one
    assert HeldRep.objects.count() == 1


def test_a_look_of_the_state_that_the_phone_had_counts_after_a_newer_one(cast: Cast) -> None:
    """A revision that a coach published meanwhile takes nothing from what was run before."""
    one = called(cast, look="corner")
    value = demo_play("gangway")
    counters = tuple(
        replace(each, looks=tuple(look for look in each.looks if look.id != "corner"))
        for each in value.counters
    )
    looks = tuple(look for look in value.looks if look.id != "corner")
    without = replace(value, looks=looks, counters=counters)
    newer = publish(save_draft(cast.play, without, cast.keeper), cast.keeper)
    cast.entry.revision = newer
    cast.entry.save()
    late = called(cast, look="corner", revision=newer.pk)
    answer = send(cast, one, late)
    assert (answer["kept"], answer["held"]) == ([one["id"]], [late["id"]])


def test_a_held_one_is_put_right_and_counts_once(cast: Cast) -> None:
    one = moved_game(cast)
    send(cast, one)
    client = cast.client(cast.head)
    path = reverse("decide-rep", args=[cast.team.pk, one["id"]])
    start = f"{cast.game.date}T{cast.game.start:%H:%M}"
    answers = {f"{one['id']}-{name}": value for name, value in put_right(cast).items()}
    shown = client.get(reverse("held-reps", args=[cast.team.pk])).content.decode()
    assert f"{date_format(cast.game.date, 'j M Y')}, {cast.game.opponent}</option>" in shown
    refused = client.post(path, answers | {f"{one['id']}-at": ""})
    assert refused.status_code == 422
    assert client.post(path, answers | {f"{one['id']}-at": start}).status_code == 302
    assert counted(cast) == 1
    row = CalledPlay.objects.get()
    assert (row.taken, row.look) == ("look", "slot")
    assert send(cast, one)["kept"] == [one["id"]]  # the phone's copy comes once more
    assert counted(cast) == 1
    assert sum(t.count for t in touches_of(cast.team)) == 2


def put_right(cast: Cast) -> dict[str, Any]:
    five = {f"role-{role}": "" for role in "12345"}
    people = {"role-1": cast.players[0].pk, "role-2": cast.players[1].pk}
    return {"game": cast.game.pk, "play": cast.entry.pk, "look": "look-slot", **five, **people}


def test_one_that_is_set_aside_does_not_count(cast: Cast) -> None:
    one = dropped(cast)
    send(cast, one)
    path = reverse("decide-rep", args=[cast.team.pk, one["id"]])
    assert cast.client(cast.head).post(path, {"aside": "1"}).status_code == 302
    assert HeldRep.objects.get().counted is False
    assert counted(cast) == 0


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("result", "won"),
        ("result", None),
        ("taken", "all"),
        ("look", None),
        ("look", 7),
        ("points", 4),
        ("points", -1),
        ("points", True),
        ("points", None),
        ("points", 10**30),
        ("period", 0),
        ("period", 10**9),
        ("clock", -1),
        ("clock", "5:00"),
        ("defence", "bluff"),
        ("game", None),
        ("game", 2**63),
        ("cast", {"6": 1}),
        ("at", "soon"),
    ],
)
def test_a_spoilt_one_is_told_at_its_place_beside_good_ones(
    cast: Cast, field: str, value: object
) -> None:
    answer = send(cast, called(cast, **{field: value}), good := called(cast))
    assert answer["kept"] == [good["id"]]
    assert answer["faults"][0]["place"] == f"/taps/0/{field}"
    assert counted(cast) == 1


def test_taps_of_both_kinds_survive_a_file(cast: Cast) -> None:
    plain: dict[str, Any] = {"defence": None, "cast": {}, "points": None, "result": "reset"}
    taps = [called(cast), called(cast, **plain), undo(called(cast))]
    read = read_taps({"taps": taps}, ENGLISH)
    assert read.findings == ()
    again = read_taps({"taps": [to_json(tap) for tap in read.taps]}, ENGLISH)
    assert again == read
    log = merge(read.taps, again.taps)
    assert [each.taken for each in log.called] == [Take.LOOK, Take.LOOK]


def test_a_game_that_is_moved_takes_its_possessions_along_once(cast: Cast) -> None:
    send(cast, called(cast))
    day = cast.game.date - timedelta(days=3)
    fields = {"date": day.isoformat(), "start": "18:00", "opponent": "Millbrook", "place": ""}
    answer = cast.client(cast.head).post(reverse("edit-game", args=[cast.game.pk]), fields)
    assert answer.status_code == 302
    touches = touches_of(cast.team)
    assert {timezone.localdate(touch.at) for touch in touches} == {day}
    assert sum(touch.count for touch in touches) == 5
    assert counted(cast) == 1


def test_what_estimates_start_from(cast: Cast) -> None:
    """Counted ones with their fives, the oldest first, of one team, game or play."""
    now = timezone.now()
    sent = [
        called(cast, at=(now - timedelta(minutes=n)).isoformat(timespec="milliseconds"))
        for n in (1, 2, 3)
    ]
    send(cast, *sent, back := called(cast), undo(back), called(cast, look="none", taken="none"))
    with CaptureQueriesContext(connection) as seen:
        found = possessions_of(cast.team)
    assert len(seen) == 2
    assert [each.id for each in found][:3] == [one["id"] for one in reversed(sent)]
    assert len(found) == 4
    assert (found[0].defence, found[0].look, found[0].points) == (Tactic.SWITCH, "post", 2)
    assert dict(found[0].cast) == {str(n): p.pk for n, p in enumerate(cast.players[:5], start=1)}
    assert possessions_of(cast.team, game=cast.game, entry=cast.entry) == found
    assert possessions_of(cast.other_team) == ()


def test_as_many_queries_for_forty_as_for_two(cast: Cast) -> None:
    def queries(n: int) -> int:
        with CaptureQueriesContext(connection) as seen:
            send(cast, *(called(cast) for _ in range(n)))
        return len(seen)

    queries(1)
    assert queries(2) == queries(40)


def test_a_possession_of_another_teams_game_counts_for_nobody(cast: Cast) -> None:
    """Sent through the own team's door, with its own play and players."""
    theirs = factories.GameFactory.create(team=cast.other_team, opponent="Elsewhere")
    send(cast, called(cast, game=theirs.pk))
    assert not CalledPlay.objects.exists()
    assert not RepSum.objects.exists()
