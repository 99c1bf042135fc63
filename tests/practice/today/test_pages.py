"""A team's first page: what comes next, who is expected, what was, and the first steps."""

from __future__ import annotations

import re
from datetime import date, datetime, time, timedelta
from typing import Final
from unittest.mock import patch

from django.urls import reverse
from django.utils import timezone

from coachbook.demo import factories
from practice.bridge import moment
from practice.models import Absence, Attendance, Practice
from roster.models import GotIt, Player, Printing, Team
from roster.squad.links import link_for
from tests.cast import Cast
from tests.coachbook.test_look import standing_out
from tests.phone import moved_start

DAY: Final = timedelta(days=1)


def today_page(cast: Cast, at: datetime | None = None, team: Team | None = None) -> str:
    address = reverse("team", args=[(team or cast.team).pk])
    now = at or moment(cast.practice.date, time(12))
    with patch("practice.today.views.timezone.localtime", return_value=now):
        return cast.client(cast.runner).get(address).content.decode()


def log(cast: Cast, practice: Practice, clean: int, early: int) -> None:
    """Runs of the cast's play by its first five, those that were early by Ida in role 1."""
    five = {str(role): who for role, who in enumerate(cast.players[:5], start=1)}
    at = moment(practice.date, practice.start)
    for n in range(clean + early):
        extra = {"is_clean": False, "erred": "1", "slip": "early"} if n >= clean else {}
        factories.RepFactory.create(
            practice=practice, entry=cast.entry, cast=five, at=at + timedelta(minutes=n), **extra
        )


def before(cast: Cast, days: int = 2) -> Practice:
    return factories.PracticeFactory.create(
        team=cast.team, date=cast.practice.date - timedelta(days=days)
    )


def test_who_has_not_confirmed_the_carried_revision_stands_by_name(cast: Cast) -> None:
    """Only who has a page to say so on, and only for the revision that is carried now."""
    zoe = cast.players[4]
    assert "Not confirmed yet" not in today_page(cast)  # all read on paper
    link_for(zoe, timezone.now())
    said = " ".join(today_page(cast).partition("Not confirmed yet")[2].split())
    call = cast.entry.spoken()
    assert call != cast.entry.call, "the cast's call has a player's name in it"
    named = f"<strong>{re.escape(str(zoe))}</strong> {re.escape(call)}"
    assert re.search(rf"^</h2> .*?<li> {named}", said)
    assert said.partition("</section>")[0].count("<li>") == 1
    for row in zoe.castings.select_related("entry"):
        older = row.entry.revision_id
        GotIt.objects.create(player=zoe, entry=row.entry, role=row.role, revision_id=older)
    assert "Not confirmed yet" not in today_page(cast)
    moved_start(cast)
    assert "Not confirmed yet" in today_page(cast)


def test_on_the_day_the_log_is_one_tap_away_until_midnight(cast: Cast) -> None:
    log_address = reverse("log", args=[cast.practice.pk])
    at = moment(cast.practice.date, time(23, 30))
    for page in (today_page(cast), today_page(cast, at)):
        assert "Today, " in page
        assert f'href="{log_address}"' in page
    assert f'href="{log_address}"' not in today_page(cast, at - timedelta(days=1))


def test_of_two_practices_on_a_day_the_one_that_is_not_over(cast: Cast) -> None:
    morning = factories.PracticeFactory.create(
        team=cast.team, date=cast.practice.date, start=time(8)
    )
    factories.BlockFactory.create(practice=morning, minutes=60)
    early, late = (
        today_page(cast, moment(cast.practice.date, time(*at))) for at in ((8, 30), (9, 1))
    )
    assert f'href="{reverse("log", args=[morning.pk])}"' in early
    assert f'href="{reverse("log", args=[cast.practice.pk])}"' in late


def test_who_is_expected_and_who_is_not(cast: Cast) -> None:
    noor, ada, mila = cast.players[1:4]
    day = cast.practice.date
    Absence.objects.create(player=noor, first=day, last=day)
    Player.objects.filter(pk=ada.pk).update(availability="out")
    Player.objects.filter(pk=mila.pk).update(availability="limited")
    page = today_page(cast)
    assert "5 of 7 players expected" in page
    assert "health-care professional" in page
    Attendance.objects.create(practice=cast.practice, player=noor, presence="late")
    assert "6 of 7 players expected" in today_page(cast)


def test_the_last_practice_with_reps_is_told_in_counts(cast: Cast) -> None:
    last, empty = before(cast, 3), before(cast, 1)
    Attendance.objects.create(practice=last, player=cast.players[5], presence="absent")
    log(cast, last, clean=17, early=3)
    page = today_page(cast)
    assert "20 runs, 17 clean" in page
    assert "Ida too early 3 times" in page
    assert "Runa (9) was away and missed Gangway Zoë" in page
    assert reverse("practice", args=[last.pk]) in page
    assert reverse("practice", args=[empty.pk]) not in page
    own = cast.client(cast.assistant).get(reverse("practice", args=[last.pk])).content.decode()
    assert "What happened" in own
    assert "Ida too early 3 times" in own


def test_who_is_back_is_told_with_the_plays_that_they_missed(cast: Cast) -> None:
    """Ida ran Gangway once and then was out for two practices, though nobody took attendance.

    So did Runa, who is Zoë's second there: whose turn it was is no matter of missing.
    """
    ida, pia = cast.players[0], cast.players[6]
    first = before(cast, 9)
    log(cast, first, clean=1, early=0)
    at = moment(first.date, first.start)
    second = {"5": cast.players[5]}
    factories.RepFactory.create(practice=first, entry=cast.entry, cast=second, at=at)
    for days in (6, 4):
        five = {"1": pia, **{str(r): cast.players[r - 1] for r in range(2, 6)}}
        practice = before(cast, days)
        at = moment(practice.date, practice.start)
        factories.RepFactory.create(practice=practice, entry=cast.entry, cast=five, at=at)
    said = "Ida (4) has missed the last 2 times that Gangway Zoë was run"
    page = today_page(cast)
    assert said in page
    assert page.count("has missed the last") == 1
    Player.objects.filter(pk=ida.pk).update(availability="out")
    assert said not in today_page(cast), "who is out is not expected to make up for it tonight"
    Player.objects.filter(pk=ida.pk).update(availability="available")
    log(cast, before(cast, 2), clean=1, early=0)
    assert "has missed the last" not in today_page(cast)


def test_what_is_not_ready_by_the_next_game_is_told_with_its_reason(cast: Cast) -> None:
    """A play that nobody has run and one with a hole are as little ready as one that fades."""
    cast.game.date = cast.practice.date + timedelta(days=3)
    cast.game.save()

    def told() -> str:
        page = " ".join(re.sub(r"<[^>]*>", " ", today_page(cast)).split())
        return page.partition("Game against")[2].partition("To the game")[0]

    assert "0 of 1 play ready by then" in told()
    assert "Gangway Zoë 5 of five have no rep yet" in told()
    log(cast, before(cast, 1), clean=60, early=0)
    assert "1 of 1 play ready by then" in told()
    assert "Gangway" not in told()
    cast.entry.castings.filter(role="5").delete()
    assert "0 of 1 play ready by then" in told()
    assert "a role has nobody" in told()


def test_a_plan_that_nobody_has_accepted_is_told_until_somebody_has(cast: Cast) -> None:
    """Made anew after a practice was lost, it stands in no practice before it is accepted again."""
    client, said = cast.client(cast.head), "The install plan is not accepted yet"
    cast.game.date = cast.practice.date + timedelta(days=3)
    cast.game.save()
    lost = factories.PracticeFactory.create(
        team=cast.team, date=cast.practice.date + timedelta(days=1)
    )
    with patch("django.utils.timezone.now", return_value=moment(cast.practice.date, time(12))):
        assert said not in today_page(cast)
        client.post(reverse("propose", args=[cast.game.pk]))
        assert said in today_page(cast)
        client.post(reverse("accept-install", args=[cast.game.pk]))
        assert said not in today_page(cast)
        client.post(reverse("cancel-practice", args=[lost.pk]), {"plan_again": "on"})
        assert said in today_page(cast)
        client.post(reverse("accept-install", args=[cast.game.pk]))
        assert said not in today_page(cast)


def test_the_first_steps_give_way_to_the_days_work_once_reps_are_logged(cast: Cast) -> None:
    steps, work = "First steps", reverse("attendance", args=[cast.practice.pk])
    page = today_page(cast)
    assert page.index(steps) < page.index(work)
    log(cast, before(cast, 2), clean=1, early=0)
    page = today_page(cast)
    assert page.index(work) < page.index(steps), "the sheets are not given out yet"
    assert standing_out(page) == ["Log reps"], "on the day of a practice"
    assert standing_out(today_page(cast, moment(cast.practice.date, time(12)) - DAY)) == ["Begin"]


def test_a_practice_without_reps_claims_nothing(cast: Cast) -> None:
    page = cast.client(cast.head).get(reverse("practice", args=[cast.practice.pk]))
    assert "What happened" not in page.content.decode()
    assert "Last time" not in today_page(cast)


def test_weeks_are_shown_from_the_second_on(cast: Cast) -> None:
    cast.practice.date = day = date(2026, 9, 4)  # a Friday
    cast.practice.save()
    log(cast, before(cast, 2), clean=4, early=0)
    assert "Week by week" not in today_page(cast)
    log(cast, before(cast, 15), clean=2, early=1)
    log(cast, before(cast, 16), clean=1, early=0)
    log(cast, before(cast, 70), clean=9, early=0)  # ten weeks ago: eight are shown
    rows = re.findall(r"<tr>(.*?)</tr>", today_page(cast).partition("Week by week")[2], re.DOTALL)
    told = [re.sub(r"<[^>]*>", " ", row).split() for row in rows[1:4]]
    mondays = [day - timedelta(days=day.weekday() + 7 * n) for n in range(3)]
    assert [row[:2] for row in told] == [[str(each.day), f"{each:%b}"] for each in mondays]
    assert [row[2:] for row in told] == [["1", "4", "4"], ["0", "0", "0"], ["2", "4", "3"]]
    assert len(rows) == 4


def test_an_empty_team_is_led_step_by_step(cast: Cast) -> None:
    team = cast.other_team
    page = today_page(cast, team=team)
    assert page.count('aria-current="step"') == 1
    assert "First steps" in page
    for number in range(20, 25):
        factories.PlayerFactory.create(team=team, number=str(number))
    entry = factories.PackagePlayFactory.create(team=team, play=cast.play, call="Two")
    after = today_page(cast, team=team)
    assert after.count("done") > page.count("done")
    for role, who in enumerate(team.players.all()[:5], start=1):
        factories.CastingFactory.create(entry=entry, role=str(role), player=who)
    factories.PracticeFactory.create(team=team, date=timezone.localdate())
    printing = Printing.objects.create(team=team, kind="booklets", paper="a4")
    assert "First steps" in today_page(cast, team=team)
    printing.state = Printing.State.DONE
    printing.save()
    assert "First steps" not in today_page(cast, team=team)  # given out on paper
    printing.delete()
    cast.client(cast.runner).post(reverse("make-links", args=[team.pk]))
    assert "First steps" not in today_page(cast, team=team)  # or by links


def test_an_assistant_is_not_led_where_only_a_head_coach_may_go(cast: Cast) -> None:
    page = cast.client(cast.assistant).get(reverse("team", args=[cast.team.pk]))
    assert "First steps" not in page.content.decode()
    assert reverse("edit-team", args=[cast.team.pk]) not in page.content.decode()
