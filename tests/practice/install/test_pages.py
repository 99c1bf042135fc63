"""The install plan on screen: proposed at once, changed, locked, accepted, improved."""

from __future__ import annotations

import math
import re
from datetime import date, datetime, time, timedelta

import pytest
from django.db import connection
from django.urls import reverse
from django.utils import timezone

from coachbook.demo import factories
from coachbook.demo.files import demo_plays
from practice.core.install.question import Schedule
from practice.core.reps.rep import Mode
from practice.install import improving
from practice.install import plan as service
from practice.models import Block, Game, Improvement, InstallPlan, Practice
from roster.models import Lesson
from shared.worker import SILENT, perform
from tests.cast import Cast


@pytest.fixture
def game(cast: Cast) -> Game:
    """A game in a week, four practices before it, three plays carried."""
    today = timezone.localdate()
    cast.practice.delete()
    for days in (1, 3, 4, 6):
        factories.PracticeFactory.create(team=cast.team, date=today + timedelta(days=days))
    others = [play for play in demo_plays() if play.key != cast.play.key][:2]
    for value in others:
        entry = factories.PackagePlayFactory.create(
            team=cast.team, play=factories.published(value), call=value.name
        )
        for role, who in enumerate(cast.players[:5], start=1):
            factories.CastingFactory.create(entry=entry, role=str(role), player=who)
    made: Game = factories.GameFactory.create(
        team=cast.team, date=today + timedelta(days=7), start=time(15)
    )
    return made


def send(cast: Cast, game: Game, name: str, data: dict[str, str] | None = None) -> int:
    return cast.client(cast.head).post(reverse(name, args=[game.pk]), data or {}).status_code


def plan(game: Game) -> InstallPlan:
    return InstallPlan.objects.get(game=game)


def test_a_plan_is_proposed_at_once_and_keeps_the_steps(cast: Cast, game: Game) -> None:
    assert send(cast, game, "propose") == 302
    entries = service.entries_of(plan(game))
    assert sum(entry.reps for entry in entries) > 10
    order = {p.pk: n for n, p in enumerate(service.practices_before(game, timezone.now()))}
    first: dict[tuple[object, Mode], int] = {}
    for entry in sorted(entries, key=lambda e: (order[int(e.practice)], list(Mode).index(e.mode))):
        first.setdefault((entry.play, entry.mode), order[int(entry.practice)])
    for play in {entry.play for entry in entries}:
        assert first[play, Mode.WALK_THROUGH] <= first.get((play, Mode.LIVE), 99)
    text = cast.client(cast.assistant).get(reverse("install", args=[game.pk])).content.decode()
    assert "What to expect on game day" in text
    assert "without the plan 0\N{NO-BREAK SPACE}%" in text
    assert "all five right" in text


def test_absent_out_and_cancelled_are_taken_into_the_question(cast: Cast, game: Game) -> None:
    first, second = game.team.practices.order_by("date")[:2]
    factories.AttendanceFactory.create(practice=first, player=cast.players[0], presence="absent")
    cast.players[1].availability = "out"
    cast.players[1].save()
    Practice.objects.filter(pk=second.pk).update(cancelled=True)
    ask = service.question(game, timezone.now()).ask
    assert [slot.practice for slot in ask.slots] == [
        first.pk,
        *(game.team.practices.order_by("date").values_list("pk", flat=True)[2:]),
    ]
    assert ask.slots[0].absent == {cast.players[0].pk, cast.players[1].pk}
    assert ask.slots[1].absent == {cast.players[1].pk}


def test_a_wished_lesson_is_planned_right_behind_the_first(cast: Cast, game: Game) -> None:
    pia = cast.players[6]
    Lesson.objects.create(team=cast.team, player=pia, entry=cast.entry, role="5")
    Lesson.objects.create(team=cast.team, player=pia, entry=cast.entry, role="1", done=True)
    ask = service.question(game, timezone.now()).ask
    (play,) = (play for play in ask.plays if play.play == cast.entry.pk)
    assert play.cast["5"] == (cast.players[4].pk, pia.pk, cast.players[5].pk)
    assert play.cast["1"] == (cast.players[0].pk,)


def test_a_lock_survives_planning_again_and_a_practice_missed_falls_away(
    cast: Cast, game: Game
) -> None:
    send(cast, game, "propose")
    entries = service.entries_of(plan(game))
    numbers = {f"reps-{n}": str(entry.reps) for n, entry in enumerate(entries)}
    send(cast, game, "change-install", numbers | {"reps-0": "7", "lock-0": "on"})
    kept = entries[0]
    practice = Practice.objects.get(pk=int(kept.practice))
    send(cast, game, "propose")
    again = service.entries_of(plan(game), locked=True)
    assert [(e.practice, e.play, e.mode, e.reps) for e in again] == [
        (kept.practice, kept.play, kept.mode, 7)
    ]
    practice.cancelled = True
    practice.save()
    send(cast, game, "propose")
    assert practice.pk not in {e.practice for e in service.entries_of(plan(game))}


def test_accepting_writes_blocks_once_and_spares_edited_ones(cast: Cast, game: Game) -> None:
    send(cast, game, "propose")
    send(cast, game, "accept-install")
    practice = service.practices_before(game, timezone.now())[0]
    before = [(b.entry_id, b.mode, b.minutes) for b in practice.blocks.all()]
    assert before
    assert all(block.kind == "install" for block in practice.blocks.all())
    send(cast, game, "accept-install")
    assert [(b.entry_id, b.mode, b.minutes) for b in practice.blocks.all()] == before
    edited = practice.blocks.first()
    assert edited is not None
    cast.client(cast.head).post(
        reverse("edit-block", args=[practice.pk, edited.pk]),
        {"kind": "install", "minutes": "3", "entry": edited.entry_id, "mode": edited.mode},
    )
    send(cast, game, "accept-install")
    assert practice.blocks.filter(pk=edited.pk, minutes=3).exists()


def test_accepting_fills_the_open_blocks_of_a_pattern_and_again_says_the_same(
    cast: Cast, game: Game
) -> None:
    practice = service.practices_before(game, timezone.now())[0]
    for order, (kind, minutes) in enumerate(
        [("warm_up", 10), ("install", 25), ("live", 10), ("cool_down", 5)], start=1
    ):
        factories.BlockFactory.create(
            practice=practice, order=order, kind=kind, minutes=minutes, notes=kind
        )
    send(cast, game, "propose")
    send(cast, game, "accept-install")

    def plan_now() -> list[tuple[object, ...]]:
        return [(b.kind, b.entry_id, b.minutes, b.notes, b.runs) for b in practice.blocks.all()]

    first = plan_now()
    assert [kind for kind, *_ in first][:2] == ["warm_up", "install"]
    assert [kind for kind, *_ in first][-2:] == ["live", "cool_down"]
    plays = [entry for _, entry, *_ in first if entry]
    assert len(plays) == len(set(plays)) > 0  # one block a play
    assert sum(b.minutes for b in practice.blocks.all()) == 50
    assert first[1][3] == "install"  # the slot's note sits on what fills it
    send(cast, game, "accept-install")
    assert plan_now() == first


def test_a_slot_that_was_used_up_comes_back_when_the_proposal_goes(cast: Cast, game: Game) -> None:
    practice = service.practices_before(game, timezone.now())[0]
    send(cast, game, "propose")
    needed = [entry for entry in service.entries_of(plan(game)) if entry.practice == practice.pk]
    assert needed
    factories.BlockFactory.create(practice=practice, order=1, kind="warm_up", minutes=5)
    send(cast, game, "accept-install")
    whole = sum(b.minutes for b in practice.blocks.filter(proposed=True))
    practice.blocks.filter(proposed=True).delete()
    slot = factories.BlockFactory.create(
        practice=practice, order=2, kind="install", minutes=whole, equipment="cones"
    )
    send(cast, game, "accept-install")
    assert not practice.blocks.filter(pk=slot.pk).exists()
    InstallPlan.objects.filter(game=game).update(entries=[])
    send(cast, game, "accept-install")
    back = practice.blocks.get(kind="install")
    assert (back.minutes, back.order, back.equipment, back.entry_id) == (whole, 2, "cones", None)


def test_a_slot_that_is_too_short_grows_and_shrinks_back_when_the_proposal_goes(
    cast: Cast, game: Game
) -> None:
    practice = service.practices_before(game, timezone.now())[0]
    send(cast, game, "propose")
    factories.BlockFactory.create(practice=practice, order=1, kind="warm_up", minutes=5)
    factories.BlockFactory.create(practice=practice, order=2, kind="install", minutes=2)
    factories.BlockFactory.create(practice=practice, order=3, kind="cool_down", minutes=5)
    for _ in range(2):  # again says the same
        send(cast, game, "accept-install")
        blocks = list(practice.blocks.order_by("order"))
        assert (blocks[0].kind, blocks[-1].kind) == ("warm_up", "cool_down")
        assert all(block.proposed and block.entry_id for block in blocks[1:-1])  # none is open
        assert blocks[1].minutes > 2
    InstallPlan.objects.filter(game=game).update(entries=[])
    send(cast, game, "accept-install")
    assert list(practice.blocks.order_by("order").values_list("kind", "minutes", "proposed")) == [
        ("warm_up", 5, False),
        ("install", 2, False),
        ("cool_down", 5, False),
    ]


def test_a_unit_dissolved_since_leaves_its_reps_to_whoever_is_there(cast: Cast, game: Game) -> None:
    send(cast, game, "propose")
    practice = service.practices_before(game, timezone.now())[0]
    assert {entry.unit for entry in service.entries_of(plan(game))} == {cast.unit.pk}
    cast.unit.delete()
    assert send(cast, game, "accept-install") == 302
    assert practice.blocks.exists()
    assert not practice.blocks.exclude(unit=None).exists()
    connection.check_constraints()


def accepted_block(cast: Cast, game: Game) -> Block:
    """The first block that an accepted plan has put into the first practice."""
    send(cast, game, "propose")
    send(cast, game, "accept-install")
    block = service.practices_before(game, timezone.now())[0].blocks.first()
    assert block is not None
    return block


def test_what_is_planned_is_told_on_the_practice_and_opens_the_log_at_it(
    cast: Cast, game: Game
) -> None:
    block = accepted_block(cast, game)
    practice = block.practice
    block.runs = [{"mode": "live", "reps": 3, "unit": "seconds"}]
    block.save()
    client = cast.client(cast.assistant)
    text = client.get(reverse("practice", args=[practice.pk])).content.decode()
    assert "3 × Live</a> · Second five" in text
    log = reverse("log", args=[practice.pk])
    assert f"{log}?play={block.entry_id}&amp;mode=live&amp;unit=seconds" in text
    pdf = client.get(reverse("plan-pdf", args=[practice.pk]))
    assert pdf.status_code == 200


def test_a_block_that_the_coach_runs_otherwise_tells_the_plan_no_more(
    cast: Cast, game: Game
) -> None:
    block = accepted_block(cast, game)
    practice = block.practice
    sent = {"kind": "install", "minutes": block.minutes, "entry": block.entry_id}
    address = reverse("edit-block", args=[practice.pk, block.pk])
    cast.client(cast.head).post(address, {**sent, "mode": block.mode, "unit": block.unit_id or ""})
    block.refresh_from_db()
    assert block.runs
    cast.client(cast.head).post(address, {**sent, "mode": "live"})
    block.refresh_from_db()
    assert block.runs == []


def test_a_hall_that_is_too_short_keeps_its_plan(cast: Cast, game: Game) -> None:
    send(cast, game, "propose")
    practice = service.practices_before(game, timezone.now())[0]
    Practice.objects.filter(pk=practice.pk).update(hall_until=time(18, 2))
    client = cast.client(cast.head)
    answer = client.post(reverse("accept-install", args=[game.pk]), follow=True)
    assert "the hall booking is too short" in answer.content.decode()
    assert not practice.blocks.exists()


def run_of(game: Game, seconds: int = 3) -> Improvement:
    return improving.begin(plan(game), seconds)


@pytest.mark.django_db(transaction=True)
def test_improving_is_never_worse_and_tells_its_gap(cast: Cast, game: Game) -> None:
    send(cast, game, "propose")
    before = plan(game).worth
    run = run_of(game)
    perform(run)
    run.refresh_from_db()
    assert run.state == Improvement.State.DONE
    after = plan(game)
    assert after.worth >= before
    assert after.gap is not None
    assert 0 <= after.gap < 1
    text = cast.client(cast.head).get(reverse("install", args=[game.pk])).content.decode()
    least = math.floor(100 * (1 - after.gap))
    assert (
        f"This plan is worth at least {least}\N{NO-BREAK SPACE}% of the best there can be." in text
    )


@pytest.mark.parametrize(
    ("worth", "gap", "least"),
    [(4.0, 0.031, 96), (4.0, None, None), (0.0, None, None), (0.0, 1.0, None)],
)
def test_no_share_of_the_best_is_told_where_there_is_none(
    worth: float, gap: float | None, least: int | None
) -> None:
    assert InstallPlan(worth=worth, gap=gap).least_percent == least


@pytest.mark.django_db(transaction=True)
def test_a_plan_changed_meanwhile_is_not_overwritten(cast: Cast, game: Game) -> None:
    send(cast, game, "propose")
    run = run_of(game, 1)
    service.keep(plan(game), Schedule((), 0.0))
    perform(run)
    run.refresh_from_db()
    assert run.state == Improvement.State.OVERTAKEN
    assert plan(game).entries == []


@pytest.mark.django_db(transaction=True)
def test_a_run_that_is_stopped_brings_its_plan_home(cast: Cast, game: Game) -> None:
    send(cast, game, "propose")
    run = run_of(game, 30)
    send(cast, game, "stop-improving")
    began = datetime.now()  # noqa: DTZ005 - only a difference is read
    perform(run)
    assert (datetime.now() - began).total_seconds() < 25  # noqa: DTZ005
    run.refresh_from_db()
    assert run.state in {Improvement.State.CANCELLED, Improvement.State.DONE}


def test_one_worker_at_a_time_and_a_silent_one_is_begun_again_once(cast: Cast, game: Game) -> None:
    send(cast, game, "propose")
    run = run_of(game)
    assert improving.begin(plan(game), 3) == run
    client, path = cast.client(cast.head), reverse("install", args=[game.pk])
    for said in ("Improving in the background", "broke off twice"):
        Improvement.objects.update(beat_at=timezone.now() - SILENT - timedelta(seconds=1))
        assert said in client.get(path).content.decode()
    run.refresh_from_db()
    assert (run.state, run.starts) == (Improvement.State.FAILED, 2)
    assert improving.begin(plan(game), 3) != run


def test_a_page_without_practices_says_what_to_do(cast: Cast, game: Game) -> None:
    game.date = date(2020, 1, 1)
    game.save()
    text = cast.client(cast.head).get(reverse("install", args=[game.pk])).content.decode()
    assert "No practice is left before this game" in text


def test_two_of_one_name_are_told_apart_by_their_numbers(cast: Cast, game: Game) -> None:
    one, other = cast.players[:2]
    other.name = one.name
    other.save()
    names = service.question(game, timezone.now()).names
    assert {names[one.pk], names[other.pk]} == {
        f"{one.name} ({one.number})",
        f"{one.name} ({other.number})",
    }


def test_cancelling_a_practice_plans_anew_in_the_same_tap(cast: Cast, game: Game) -> None:
    send(cast, game, "propose")
    used = {entry.practice for entry in service.entries_of(plan(game))}
    assert used
    gone = min(used, key=str)
    data = {"plan_again": "on"}
    cast.client(cast.head).post(reverse("cancel-practice", args=[gone]), data)
    assert Practice.objects.get(pk=gone).cancelled
    left = {entry.practice for entry in service.entries_of(plan(game))}
    assert gone not in left


def test_a_plays_own_deadline_and_set_up_reach_the_question(cast: Cast, game: Game) -> None:
    cast.entry.ready_by, cast.entry.setup_minutes = game.date - timedelta(days=1), 4
    cast.entry.save()
    ask = service.question(game, timezone.now()).ask
    (play,) = (play for play in ask.plays if play.play == cast.entry.pk)
    assert play.setup_minutes == 4
    assert play.deadline is not None
    assert play.deadline < ask.game


def test_each_play_is_told_with_its_minutes_and_they_add_up(cast: Cast, game: Game) -> None:
    cast.entry.setup_minutes = 4
    cast.entry.save()
    send(cast, game, "propose")
    asked = service.question(game, timezone.now())
    text = cast.client(cast.head).get(reverse("install", args=[game.pk])).content.decode()
    head = r'<p class="install-play[^"]*">\s*<strong>(.*?)</strong>\s*.*?>(\d+):(\d\d) min<'
    each = re.findall(head, text)
    whole = re.findall(r">\s*(\d+):(\d\d) of \d+ minutes", text)
    assert len(whole) == len(asked.practices)

    def seconds(found: list[tuple[str, ...]]) -> int:
        return sum(60 * int(one[-2]) + int(one[-1]) for one in found)

    assert seconds(each) == seconds(whole) > 0
    setup = {play.play: play.setup_minutes for play in asked.ask.plays}
    assert setup[cast.entry.pk] == 4
    entries = service.entries_of(plan(game))
    rules = asked.ask.rules
    own = sum(rules.minutes(e.mode) * e.reps for e in entries if e.play == cast.entry.pk)
    visits = len({e.practice for e in entries if e.play == cast.entry.pk})
    call = cast.entry.spoken()
    assert visits > 0
    assert seconds([one for one in each if one[0] == call]) == 60 * (own + 4 * visits)
