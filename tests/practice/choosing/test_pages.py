"""Which plays for us: the page, one tap in and out, the search behind it, and taking plays in."""

from __future__ import annotations

import re
import uuid
from dataclasses import replace
from datetime import timedelta
from unittest.mock import patch

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from plays.check import results
from plays.core.motion.team_pace import EDITABLE
from plays.core.play import AgeGroup
from plays.models import Play
from practice.choosing import search, wishes
from practice.choosing.asked import AskedPackage, asked_for
from practice.choosing.candidates import occasions_of
from practice.choosing.judging import judge, setting_of
from practice.core.choosing.programme import best_package
from practice.core.choosing.question import Occasion, RuledOut
from practice.core.choosing.score import score_of
from practice.core.choosing.words import OCCASIONS
from practice.core.learning.coming import KINDS
from practice.models import PackageSearch, PackageWishes
from roster.models import PackagePlay
from shared import worker
from shared.models import Change
from shared.worker import Pulse
from tests.cast import Cast

KEYS = ("duckboard", "lamp-row", "oar-rack", "open-water", "paper-lantern", "last-bell")


@pytest.fixture
def shelf(cast: Cast) -> dict[str, Play]:
    """Six more plays, all of them checked, a game in nine days and two practices before it."""
    plays = {key: factories.published(demo_play(key), cast.keeper) for key in KEYS}
    cast.team.age_group = AgeGroup.U14.value
    cast.team.save()
    with patch("plays.check.results.AGES", (AgeGroup.U14,)):
        while results.work_off(results.library_rows(), 20):
            pass
    today = timezone.localdate()
    cast.game.date = today + timedelta(days=9)
    cast.game.save()
    for days in (3, 6):
        factories.PracticeFactory.create(team=cast.team, date=today + timedelta(days=days))
    return {**plays, cast.play.key: cast.play}


def page_of(cast: Cast) -> str:
    answer = cast.client(cast.head).get(reverse("which-plays", args=[cast.team.pk]))
    assert answer.status_code == 200
    return answer.content.decode()


def picked(said: str) -> list[int]:
    return [int(pk) for pk in re.findall(r'name="play" value="(\d+)"', said)]


def send(cast: Cast, name: str, **said: object) -> str:
    answer = cast.client(cast.head).post(reverse(name, args=[cast.team.pk]), said)
    assert answer.status_code == 302
    return str(answer.headers["Location"])


def asked(cast: Cast) -> AskedPackage:
    cast.team.refresh_from_db()
    return asked_for(cast.team, timezone.now())


def test_an_answer_is_there_at_once_and_the_search_begins_once(
    cast: Cast, shelf: dict[str, Play]
) -> None:
    said = page_of(cast)
    assert "Chosen at once. The best package is being looked for." in said
    assert picked(said)
    page_of(cast)
    assert PackageSearch.objects.count() == 1


@pytest.mark.django_db(transaction=True)  # the worker's beat has a connection of its own
def test_the_worker_judges_by_the_teams_own_court_and_finds_the_best(
    cast: Cast, shelf: dict[str, Play]
) -> None:
    page_of(cast)
    assert not asked(cast).own
    worker.perform(PackageSearch.objects.get())
    run = PackageSearch.objects.get()
    assert (run.state, run.share, run.fault) == ("done", 1.0, "")
    now = asked(cast)
    assert now.own
    assert run.question_hash == now.fingerprint
    said = page_of(cast)
    assert "No package is better: all have been compared." in said
    assert "Without it" in said
    assert "With it" in said
    assert "One play more" in said
    assert PackageSearch.objects.count() == 1  # nothing has changed: nothing is looked for again


@pytest.mark.django_db(transaction=True)
def test_a_worker_hears_a_stop_while_it_judges(cast: Cast, shelf: dict[str, Play]) -> None:
    page_of(cast)
    run = PackageSearch.objects.get()
    pulse = Pulse(run)
    pulse.stopped = True
    assert search.work(run, pulse) == {}
    assert not PackageWishes.objects.exclude(judged={}).exists()


def test_an_opponent_that_does_one_thing_moves_the_package(
    cast: Cast, shelf: dict[str, Play]
) -> None:
    """Each play is worth most against something: who mostly meets that picks by it."""
    cast.opponent.observations.all().delete()
    found = {}
    for tactic in KINDS:
        row = factories.ObservationFactory.create(
            opponent=cast.opponent, **{tactic.value: 90, "switch": 90 * (tactic == "switch")}
        )
        question = asked(cast).question
        assert max(question.faced, key=lambda each: question.faced[each]) is tactic
        assert question.against == 2
        found[tactic] = best_package(question)
        row.delete()
    even = best_package(asked(cast).question)
    assert any(one.picks != even.picks for one in found.values())
    for tactic, one in found.items():  # what is chosen for them serves them at least as well
        faced = replace(asked(cast).question, shares={tactic: 1.0})
        mine, plain = (score_of(faced, p.picks, p.turned) for p in (one, even))
        assert mine.worth >= plain.worth - 0.02


def test_a_tap_wants_a_play_in_or_out_and_a_second_one_leaves_it_again(
    cast: Cast, shelf: dict[str, Play]
) -> None:
    play = shelf["paper-lantern"]
    assert send(cast, "wish-play", wish=f"in-{play.pk}").endswith(f"#play-{play.pk}")
    send(cast, "wish-play", wish=f"in-{play.pk}")  # a double tap
    assert asked(cast).question.pins == {play.pk}
    assert "You want it in." in page_of(cast)
    assert play.pk in picked(page_of(cast))
    send(cast, "wish-play", wish=f"out-{play.pk}")
    found = asked(cast).question
    assert not found.pins
    assert found.bans == {play.pk}
    assert play.pk not in picked(page_of(cast))
    send(cast, "wish-play", wish=f"free-{play.pk}")
    assert asked(cast).question.bans == frozenset()
    verbs = Change.objects.filter(verb__in=wishes.VERBS.values()).values_list("verb", flat=True)
    assert list(verbs)[::-1] == [*wishes.VERBS.values()]


@pytest.mark.parametrize("wish", ["", "in", "in-x", "up-1", "in--1", "in-99999999999999999999"])
def test_what_is_no_wish_changes_nothing(cast: Cast, wish: str) -> None:
    address = reverse("wish-play", args=[cast.team.pk])
    assert cast.client(cast.head).post(address, {"wish": wish}).status_code in (302, 404)
    wants = PackageWishes.objects.filter(team=cast.team).values_list("pins", "bans")
    assert all(want == ([], []) for want in wants)


def test_a_changed_wish_ends_the_search_for_the_old_question(
    cast: Cast, shelf: dict[str, Play]
) -> None:
    page_of(cast)
    old = PackageSearch.objects.get()
    send(cast, "wish-play", wish=f"out-{shelf['gangway'].pk}")
    page_of(cast)
    assert PackageSearch.objects.get().pk != old.pk
    assert not old.update(share=1.0)  # its worker can write nothing any more


def test_pins_beyond_the_minutes_are_said_with_the_numbers(
    cast: Cast, shelf: dict[str, Play]
) -> None:
    send(cast, "choice-terms", minutes="5")
    for key in ("paper-lantern", "oar-rack"):
        send(cast, "wish-play", wish=f"in-{shelf[key].pk}")
    said = " ".join(page_of(cast).split())
    assert "minutes to learn, and there are 5" in said
    assert not picked(said)


def test_what_cannot_be_covered_is_named_with_its_reason(
    cast: Cast, shelf: dict[str, Play]
) -> None:
    said = page_of(cast)
    assert "No play for the last shot may be chosen: Last Bell (meant for older players)." in said
    assert "The library has no play in the half court." not in said  # nobody asked for one
    send(cast, "choice-terms", occasions=["baseline", "half_court"])
    assert "The library has no play in the half court." in page_of(cast)
    send(cast, "choice-terms", minutes="1")
    assert "The minutes do not reach for a play on the baseline" in page_of(cast)


def test_the_terms_are_kept_and_what_is_no_number_comes_back(
    cast: Cast, shelf: dict[str, Play]
) -> None:
    send(
        cast, "choice-terms", occasions=["baseline"], minutes="33", game=str(cast.game.pk), trap="3"
    )
    found = asked(cast)
    assert found.question.occasions == (Occasion.BASELINE,)
    assert found.question.minutes == 33
    assert found.game == cast.game
    assert [tactic.value for tactic in found.question.faced] == ["trap"]
    address = reverse("choice-terms", args=[cast.team.pk])
    for wrong in ({"minutes": "many"}, {"minutes": "-1"}, {"trap": "101"}, {"game": "0"}):
        assert cast.client(cast.head).post(address, wrong).status_code == 422
    assert asked(cast).question.minutes == 33


def test_the_minutes_are_those_of_the_practices_before_the_game(
    cast: Cast, shelf: dict[str, Play]
) -> None:
    found = asked(cast)
    assert found.game == cast.game
    today = timezone.localdate()
    left = [p for p in cast.team.practices.all() if today <= p.date < cast.game.date]
    assert found.question.minutes == sum(p.install_minutes for p in left)
    cast.game.delete()
    assert asked(cast).game is None
    assert "The calendar has no game with a practice before it" in page_of(cast)


def test_terms_that_somebody_else_has_set_meanwhile_are_told_and_kept(cast: Cast) -> None:
    address, coach = reverse("choice-terms", args=[cast.team.pk]), cast.client(cast.head)

    def mark(page: str) -> str:
        return str(re.findall(r'name="stood" value="([0-9a-f]+)"', page)[0])

    first = mark(page_of(cast))
    theirs = {"occasions": ["baseline"], "minutes": "22", "trap": "3", "stood": first}
    assert coach.post(address, theirs).status_code == 302
    mine = {"occasions": ["half_court"], "minutes": "33", "stood": first}
    told = coach.post(address, mine)
    said = told.content.decode()
    assert told.status_code == 422
    assert "Somebody has changed this meanwhile." in said
    assert "There stands now: 22" in said
    assert f"There stands now: {OCCASIONS[Occasion.BASELINE]}" in said
    assert 'value="33"' in said  # what was typed is there still
    assert asked(cast).wishes.minutes == 22
    assert coach.post(address, mine | {"stood": mark(said)}).status_code == 302
    assert asked(cast).wishes.minutes == 33
    assert asked(cast).wishes.shares == {}
    assert coach.post(address, mine | {"stood": first}).status_code == 302  # it stands so already


def test_taking_adds_what_is_picked_once_and_drops_nothing(
    cast: Cast, shelf: dict[str, Play]
) -> None:
    picks = picked(page_of(cast))
    once = str(uuid.uuid4())
    before = set(cast.team.package.all().carried().values_list("pk", flat=True))
    for _tap in range(2):
        send(cast, "take-package", play=picks, once=once)
    send(cast, "take-package", play=picks)  # another tab
    carried = cast.team.package.all().carried()
    assert before <= set(carried.values_list("pk", flat=True))
    assert sorted(e.play_id for e in carried if e.pk not in before) == sorted(picks)
    assert Change.objects.filter(verb="took up").count() == len(picks)
    assert "The team carries every play that is picked." in page_of(cast)
    send(cast, "take-package-back")
    assert set(cast.team.package.all().carried().values_list("pk", flat=True)) == before
    assert Change.objects.filter(verb="dropped").count() == len(picks)
    send(cast, "take-package-back")
    assert Change.objects.filter(verb="dropped").count() == len(picks)


def test_a_dropped_play_comes_back_with_its_call_and_cast(
    cast: Cast, shelf: dict[str, Play]
) -> None:
    cast.entry.dropped_on = timezone.localdate()
    cast.entry.save()
    wishes.take(cast.team, cast.head, [cast.play])
    back = PackagePlay.objects.get(pk=cast.entry.pk)
    assert (back.dropped_on, back.call, back.castings.count()) == (None, "Gangway {5}", 6)


def test_a_call_that_is_taken_already_is_not_given_twice(
    cast: Cast, shelf: dict[str, Play]
) -> None:
    cast.entry.call = shelf["duckboard"].name
    cast.entry.save()
    shelf["duckboard"].published()
    wishes.take(cast.team, cast.head, [shelf["duckboard"], shelf["lamp-row"]])
    calls = [e.call.casefold() for e in cast.team.package.all().carried()]
    assert len(calls) == len(set(calls)) == 3


def test_what_is_put_away_or_unknown_is_not_taken(cast: Cast, shelf: dict[str, Play]) -> None:
    Play.objects.filter(pk=shelf["oar-rack"].pk).update(put_away=True)
    send(cast, "take-package", play=[shelf["oar-rack"].pk, 0, "x", "9" * 30])
    assert cast.team.package.count() == 1


def test_an_assistant_reads_and_starts_nothing(cast: Cast, shelf: dict[str, Play]) -> None:
    said = cast.client(cast.assistant).get(reverse("which-plays", args=[cast.team.pk]))
    assert b"<button" not in said.content.partition(b"<main")[2]
    assert not PackageSearch.objects.exists()


def test_plays_that_nobody_has_checked_wait_and_the_check_is_asked_for(cast: Cast) -> None:
    found = asked(cast)
    assert [one.bar for one in found.question.candidates] == [RuledOut.UNCHECKED]
    assert "not checked yet" in page_of(cast)


def test_with_four_players_no_play_can_be_chosen(cast: Cast, shelf: dict[str, Play]) -> None:
    for player in cast.players[4:]:
        player.left_on = timezone.localdate()
        player.save()
    assert {one.bar for one in asked(cast).question.candidates} <= {
        RuledOut.NO_FIVE,
        RuledOut.LEVEL,
        RuledOut.SERIOUS,
    }
    assert not picked(page_of(cast))


def test_the_page_asks_as_many_queries_with_more_plays_and_players(
    cast: Cast, shelf: dict[str, Play]
) -> None:
    def count() -> int:
        with CaptureQueriesContext(
            connection,
        ) as found:
            asked(cast)
        return len(found)

    asked(cast)
    before = count()
    for number in range(10):
        factories.PlayerFactory.create(
            team=cast.team, name=f"Player {number}", number=str(40 + number)
        )
    wishes.take(cast.team, cast.head, shelf.values())
    factories.published(demo_play("weathervane"), cast.keeper)
    asked(cast)
    assert count() == before


def test_a_play_is_for_the_side_it_is_drawn_for_and_for_the_other_once_taught() -> None:
    left, right = frozenset({Occasion.LEFT}), frozenset({Occasion.RIGHT})
    assert occasions_of(demo_play("duckboard")) == (left, right)
    assert occasions_of(demo_play("gangway")) == (right, left)
    assert occasions_of(demo_play("oar-rack")) == (frozenset({Occasion.BASELINE}), frozenset())


def test_judged_at_once_or_one_by_one_a_play_is_judged_the_same(cast: Cast) -> None:
    """Against the check itself: its best margin, or that of a counter to this defence."""
    play, setting = demo_play("paper-lantern"), setting_of(cast.team)
    at_once = judge(play, setting)
    usual = setting.pace.base(setting.age, setting.effort).to_json()
    cast.team.pace = {"constants": {EDITABLE[0]: usual[EDITABLE[0]]}}  # its own, and as usual
    one_by_one = judge(play, setting_of(cast.team))
    assert set(at_once) == set(one_by_one) == set(KINDS)
    for tactic in KINDS:
        assert at_once[tactic].margin == pytest.approx(one_by_one[tactic].margin, abs=0.02)
        assert at_once[tactic].there == one_by_one[tactic].there
