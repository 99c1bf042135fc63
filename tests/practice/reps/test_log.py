"""The door through which taps come in: each once, whatever happens on the way."""

from __future__ import annotations

import json
import random
import uuid
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest
from django.urls import reverse
from django.utils import timezone

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from plays.core.play import ROLES
from practice.core.reps.log import Tap
from practice.core.reps.rep import Mode, Rep, Undo, as_cast
from practice.models import Absence, Attendance, HeldRep, RepRole
from practice.models import Rep as RepRow
from practice.models import Undo as UndoRow
from practice.reps.page import court_data, prefilled
from practice.reps.store import store, tally_of
from practice.reps.undecided import MOST_SHOWN
from shared.models import Change
from tests.cast import Cast

AT = (timezone.now() - timedelta(days=1)).isoformat(timespec="milliseconds")


def tap(cast: Cast, **more: Any) -> dict[str, Any]:
    five = {str(role): player.pk for role, player in enumerate(cast.players[:5], start=1)}
    return {
        "kind": "rep",
        "id": str(uuid.uuid4()),
        "practice": cast.practice.pk,
        "play": cast.entry.pk,
        "mode": "half_speed",
        "at": AT,
        "cast": five,
        "clean": True,
        **more,
    }


def undo(rep: str) -> dict[str, Any]:
    return {"kind": "undo", "id": str(uuid.uuid4()), "rep": rep, "at": AT}


def send(cast: Cast, *taps: dict[str, Any], user: Any = None) -> Any:
    client = cast.client(user or cast.assistant)
    path = f"{reverse('taps', args=[cast.team.pk])}?practice={cast.practice.pk}"
    body = json.dumps({"version": 1, "taps": taps})
    return client.post(path, body, content_type="application/json").json()


def counted(cast: Cast) -> int:
    return RepRow.objects.counted().filter(practice__team=cast.team).count()


def test_a_rep_is_stored_with_its_five_and_answered_for(cast: Cast) -> None:
    one = tap(cast, clean=False, erred="3", slip="late", unit=cast.unit.pk)
    answer = send(cast, one)
    assert answer["kept"] == [one["id"]]
    assert answer["tally"] == {str(cast.entry.pk): {"total": 1, "clean": 0}}
    row = RepRow.objects.get()
    assert (row.erred, row.slip, row.unit, row.logged_by) == (
        "3",
        "late",
        cast.unit,
        cast.assistant,
    )
    assert row.revision == cast.entry.revision
    assert row.roles.count() == 5


def test_doubled_and_reordered_sends_count_once(cast: Cast) -> None:
    taps = [tap(cast) for _ in range(12)]
    sends = taps * 3
    random.Random(5).shuffle(sends)
    for start in range(0, len(sends), 5):
        send(cast, *sends[start : start + 5])
    assert counted(cast) == 12
    assert RepRole.objects.count() == 60


@pytest.mark.parametrize("first", ["rep", "undo", "together", "undo again"])
def test_an_undo_takes_its_rep_back_whenever_it_comes(cast: Cast, first: str) -> None:
    one = tap(cast)
    back = undo(one["id"])
    orders = {
        "rep": [[one], [back]],
        "undo": [[back], [one]],
        "together": [[back, one]],
        "undo again": [[one], [back], [one], [back]],
    }
    for batch in orders[first]:
        answer = send(cast, *batch)
        assert {each["id"] for each in batch} <= set(answer["kept"])
    assert counted(cast) == 0
    assert RepRow.objects.count() == 1  # kept on record, and out of every count
    assert tally_of(cast.practice.pk) == {}


def test_nobody_undoes_a_rep_of_another_team(cast: Cast) -> None:
    one = tap(cast)
    send(cast, one)
    client = cast.client(cast.stranger)
    path = reverse("taps", args=[cast.other_team.pk])
    body = json.dumps({"taps": [undo(one["id"])]})
    assert client.post(path, body, content_type="application/json").status_code == 200
    assert UndoRow.objects.get().team == cast.other_team
    assert counted(cast) == 1


def test_a_rep_for_another_teams_practice_is_held_not_counted_there(cast: Cast) -> None:
    client = cast.client(cast.stranger)
    body = json.dumps({"taps": [tap(cast)]})
    answer = client.post(
        reverse("taps", args=[cast.other_team.pk]), body, content_type="application/json"
    )
    assert len(answer.json()["held"]) == 1
    assert counted(cast) == 0


def test_nobody_logs_as_somebody_else(cast: Cast) -> None:
    """Who is signed in is the author, whatever the tap says."""
    send(cast, tap(cast, by=cast.head.pk), user=cast.assistant)
    assert RepRow.objects.get().logged_by == cast.assistant


def test_every_undo_stands_in_the_record(cast: Cast) -> None:
    own, others = tap(cast), tap(cast)
    send(cast, own, user=cast.assistant)
    send(cast, others, user=cast.head)
    backs = [undo(own["id"]), undo(others["id"])]
    for _ in range(2):  # sent twice, written down once
        send(cast, *backs, user=cast.assistant)
    line = Change.objects.get(verb="took back reps")
    assert (line.user, line.team) == (cast.assistant, cast.team.pk)
    after: dict[str, Any] = line.after or {}
    assert set(after["reps"]) == {own["id"], others["id"]}
    assert after["logged_by_others"] == 1


def test_one_spoilt_tap_does_not_cost_the_good_ones(cast: Cast) -> None:
    good = tap(cast)
    answer = send(cast, tap(cast, mode="flying"), good)
    assert answer["kept"] == [good["id"]]
    assert [fault["place"] for fault in answer["faults"]] == ["/taps/0/mode"]


def test_two_different_reps_under_one_id_lose_neither(cast: Cast) -> None:
    one = tap(cast)
    send(cast, one, {**one, "clean": False, "erred": "2"})
    assert counted(cast) == 1
    assert HeldRep.objects.count() == 1


def spoil_practice(cast: Cast) -> None:
    cast.practice.delete()


def spoil_play(cast: Cast) -> None:
    cast.entry.dropped_on = date(2026, 9, 2)
    cast.entry.save()


def spoil_player(cast: Cast) -> None:
    cast.players[0].delete()


def spoil_attendance(cast: Cast) -> None:
    Attendance.objects.create(practice=cast.practice, player=cast.players[1], presence="absent")


def spoil_availability(cast: Cast) -> None:
    cast.players[2].availability = "out"
    cast.players[2].save()


SPOILT = {
    "practice": (spoil_practice, "practice is not there"),
    "play": (spoil_play, "not in the package"),
    "player": (spoil_player, "Role 1: the player is not in the team"),
    "absent": (spoil_attendance, "Noor (5) was marked absent"),
    "out": (spoil_availability, "Ada (6) is out until cleared"),
}


@pytest.mark.parametrize("what", sorted(SPOILT))
def test_a_rep_for_what_is_gone_is_kept_and_shown(cast: Cast, what: str) -> None:
    one = tap(cast)
    spoil, sentence = SPOILT[what]
    spoil(cast)
    for _ in range(2):
        assert send(cast, one)["held"] == [one["id"]]
    assert counted(cast) == 0
    shown = cast.client(cast.assistant).get(reverse("held-reps", args=[cast.team.pk]))
    assert sentence in shown.content.decode()


def decision(cast: Cast, held: HeldRep, **more: object) -> dict[str, object]:
    values = {"practice": cast.practice.pk, "play": cast.entry.pk}
    values |= {f"role-{role}": who.pk for role, who in enumerate(cast.players[:5], start=1)}
    return {f"{held.pk}-{name}": value for name, value in (values | more).items()}


def test_a_held_rep_counts_once_it_is_put_right(cast: Cast) -> None:
    one = tap(cast)
    spoil_attendance(cast)
    send(cast, one)
    held = HeldRep.objects.get()
    client = cast.client(cast.assistant)
    path = reverse("decide-rep", args=[cast.team.pk, held.pk])
    assert client.post(path, decision(cast, held)).status_code == 422  # Noor is still absent
    bench = cast.players[5].pk
    assert client.post(path, decision(cast, held, **{"role-2": bench})).status_code == 302
    assert counted(cast) == 1
    assert RepRow.objects.get().roles.get(role="2").player_id == bench
    assert send(cast, one)["kept"] == [one["id"]]  # the phone sends again: still one
    assert counted(cast) == 1
    assert client.post(path, decision(cast, held)).status_code == 404


def test_a_held_rep_set_aside_stays_aside(cast: Cast) -> None:
    one = tap(cast)
    spoil_play(cast)
    send(cast, one)
    held = HeldRep.objects.get()
    cast.client(cast.head).post(reverse("decide-rep", args=[cast.team.pk, held.pk]), {"aside": "1"})
    send(cast, one)
    held.refresh_from_db()
    assert (held.counted, held.decided_by) == (False, cast.head)
    assert counted(cast) == 0


def test_undoing_a_held_rep_takes_it_off_the_list(cast: Cast) -> None:
    one = tap(cast)
    spoil_play(cast)
    send(cast, one, undo(one["id"]))
    shown = cast.client(cast.head).get(reverse("held-reps", args=[cast.team.pk]))
    assert "No rep waits for a decision" in shown.content.decode()


def test_a_phone_hands_its_reps_over_as_a_file(cast: Cast, tmp_path: Any) -> None:
    taps = [tap(cast) for _ in range(3)]
    send(cast, taps[0])
    file = tmp_path / "waiting.json"
    file.write_text(json.dumps({"version": 1, "taps": taps}))
    client = cast.client(cast.assistant)
    path = reverse("held-reps", args=[cast.team.pk])
    with file.open("rb") as opened:
        assert client.post(path, {"file": opened}).status_code == 302
    assert counted(cast) == 3
    file.write_text("no list")
    with file.open("rb") as opened:
        assert client.post(path, {"file": opened}).status_code == 422


def test_a_send_without_the_token_of_the_form_is_refused(cast: Cast) -> None:
    client = cast.client(cast.assistant)
    client.handler.enforce_csrf_checks = True
    path = reverse("taps", args=[cast.team.pk])
    body = json.dumps({"taps": [tap(cast)]})
    assert client.post(path, body, content_type="application/json").status_code == 403
    client.get(reverse("log", args=[cast.practice.pk]))
    token = client.cookies["csrftoken"].value
    sent = client.post(path, body, content_type="application/json", headers={"x-csrftoken": token})
    assert sent.status_code == 200


def test_the_page_carries_everybody_and_fives_without_the_absent(cast: Cast) -> None:
    Absence.objects.create(
        player=cast.players[4], first=cast.practice.date, last=cast.practice.date
    )
    cast.players[3].availability = "limited"
    cast.players[3].save()
    data = court_data(cast.practice, cast.assistant)
    (play,) = data["plays"]
    quiet, live = play["fives"][""]
    assert quiet == [*(p.pk for p in cast.players[:4]), cast.players[5].pk]  # second in role 5
    assert live == [*(p.pk for p in cast.players[:3]), None, cast.players[5].pk]
    assert [person["away"] for person in data["players"]].count(True) == 1


def test_prefilled_uses_each_person_once() -> None:
    cast_by_place = {("1", 1): 1, ("2", 1): 2, ("3", 1): 3, ("1", 2): 2, ("3", 2): 1}
    assert prefilled(cast_by_place, {1, 2, 3}) == [1, 2, 3, None, None]
    assert prefilled(cast_by_place, {1, 2}) == [1, 2, None, None, None]
    assert prefilled(cast_by_place, {2, 9}, [9, 2]) == [9, 2, None, None, None]


def test_store_and_core_merge_agree_on_random_batches(cast: Cast) -> None:
    """The database after any sequence of batches holds what the core's merge of all says."""
    chance = random.Random(11)
    reps = [_rep(cast, number) for number in range(25)]
    undos = [Undo(str(uuid.uuid4()), rep.id, rep.at) for rep in chance.sample(reps, 8)]
    sends: list[Tap] = [*reps, *undos, *reps, *undos]
    chance.shuffle(sends)
    while sends:
        size = chance.randint(1, 9)
        store(sends[:size], cast.team, cast.assistant)
        del sends[:size]
    gone = {undo.rep for undo in undos}
    kept = {str(pk) for pk in RepRow.objects.counted().values_list("pk", flat=True)}
    assert kept == {rep.id for rep in reps} - gone


def _rep(cast: Cast, number: int) -> Rep:
    five = as_cast({role: who.pk for role, who in zip(ROLES, cast.players, strict=False)})
    made = datetime(2026, 9, 1, 16, 0, number, tzinfo=UTC)
    key = str(uuid.UUID(int=number + 1, version=4))
    return Rep(key, cast.practice.pk, cast.entry.pk, Mode.LIVE, made, five)


@pytest.fixture
def gate(cast: Cast) -> Cast:
    """The team carries a play with two calls."""
    play = factories.published(demo_play("tidegate"), cast.keeper)
    entry = factories.PackagePlayFactory.create(team=cast.team, play=play, call="Tide {2}")
    for role, player in enumerate(cast.players[:5], start=1):
        factories.CastingFactory.create(entry=entry, role=str(role), player=player)
    return replace(cast, entry=entry)


def test_the_page_carries_the_calls_of_a_play_that_has_several(gate: Cast) -> None:
    plays = {play["id"]: play["calls"] for play in court_data(gate.practice, gate.head)["plays"]}
    assert plays.pop(gate.entry.pk) == (("", "Tide Noor"), ("Tide {3}", "Tide Ada"))
    assert set(plays.values()) == {()}


def test_a_rep_keeps_its_call_and_counts_for_the_play_either_way(gate: Cast) -> None:
    reps = [tap(gate, call=""), tap(gate, call="Tide {3}"), tap(gate, call="Tide {3}"), tap(gate)]
    answer = send(gate, *reps)
    assert set(answer["kept"]) == {each["id"] for each in reps}
    assert answer["tally"] == {str(gate.entry.pk): {"total": 4, "clean": 4}}
    said = dict(RepRow.objects.values_list("pk", "call"))
    assert [said[uuid.UUID(each["id"])] for each in reps] == ["", "Tide {3}", "Tide {3}", None]
    client = gate.client(gate.assistant)
    page = client.get(reverse("practice", args=[gate.practice.pk])).content.decode()
    assert "Tide Ada 2" in " ".join(page.split())
    assert "Tide Noor 1" in " ".join(page.split())
    path = reverse("readiness-curve", args=[gate.players[1].pk, gate.entry.pk, "2"])
    curve = " ".join(client.get(path).content.decode().split())
    assert "4 reps, 4 clean, last on" in curve
    assert "<strong>Tide Ada</strong> 2 reps" in curve
    assert "<strong>Tide Noor</strong> 1 rep" in curve


def test_a_held_rep_keeps_its_call_until_it_counts(gate: Cast) -> None:
    Attendance.objects.create(practice=gate.practice, player=gate.players[0], presence="absent")
    send(gate, tap(gate, call="Tide {3}"))
    held = HeldRep.objects.get()
    Attendance.objects.all().delete()
    five = {f"{held.pk}-role-{n}": player.pk for n, player in enumerate(gate.players[:5], 1)}
    place = {f"{held.pk}-practice": gate.practice.pk, f"{held.pk}-play": gate.entry.pk}
    path = reverse("decide-rep", args=[gate.team.pk, held.pk])
    gate.client(gate.head).post(path, {**five, **place})
    assert RepRow.objects.get().call == "Tide {3}"


def test_the_plain_form_asks_for_the_call_where_there_are_several(gate: Cast) -> None:
    client, path = gate.client(gate.assistant), reverse("log", args=[gate.practice.pk])
    page = client.get(f"{path}?play={gate.entry.pk}").content.decode()
    assert ">Tide Ada</option>" in page
    five = {f"role-{n}": player.pk for n, player in enumerate(gate.players[:5], start=1)}
    for call in ("1", "0", ""):
        sent = {
            "id": uuid.uuid4(),
            "play": gate.entry.pk,
            "mode": "live",
            "result": "clean",
            "call": call,
            **five,
        }
        assert client.post(path, sent).status_code == 302
    calls = RepRow.objects.order_by("at").values_list("call", flat=True)
    assert list(calls) == ["Tide {3}", "", None]


def test_what_waits_for_a_decision_comes_a_page_at_a_time(cast: Cast) -> None:
    """Each is a form with seven lists of choices: five hundred at once took seconds."""
    Attendance.objects.update_or_create(
        practice=cast.practice, player=cast.players[1], defaults={"presence": "absent"}
    )
    taps = [tap(cast) for _ in range(MOST_SHOWN + 3)]
    assert len(send(cast, *taps)["held"]) == len(taps)
    page = cast.client(cast.assistant).get(reverse("held-reps", args=[cast.team.pk]))
    text = page.content.decode()
    assert text.count('name="aside"') == MOST_SHOWN
    assert "3 more wait behind these" in text
    for row in HeldRep.objects.all()[:3]:
        path = reverse("decide-rep", args=[cast.team.pk, row.pk])
        cast.client(cast.assistant).post(path, {"aside": "1"})
    page = cast.client(cast.assistant).get(reverse("held-reps", args=[cast.team.pk]))
    assert "more wait" not in page.content.decode()
