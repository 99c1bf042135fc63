"""Readiness on screen: the numbers are the core's own, computed by hand from the formula."""

from __future__ import annotations

import math
import re
import uuid
from datetime import datetime, timedelta

import pytest
from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format

from coachbook.demo import factories
from practice.core.readiness.assumptions import to_json
from practice.core.readiness.grid import ReadinessMark
from practice.core.reps.rep import Undo
from practice.models import Calibrating, ReadinessSettings
from practice.parameters import chosen, settings_row
from practice.readiness.page import team_readiness
from practice.reps.store import store
from shared import worker
from shared.core.numbers import hundredths
from tests.cast import Cast
from tests.practice.games import taps


def log(cast: Cast, days: float, reps: int, mode: str = "live") -> datetime:
    """Clean reps of the cast's five so many days ago; when they were."""
    at = timezone.now() - timedelta(days=days)
    local = timezone.localtime(at)
    practice = factories.PracticeFactory.create(
        team=cast.team, date=local.date(), start=local.time().replace(microsecond=0)
    )
    five = {str(role): who for role, who in enumerate(cast.players[:5], start=1)}
    for _ in range(reps):
        factories.RepFactory.create(
            practice=practice, entry=cast.entry, cast=five, mode=mode, at=at
        )
    return at


def by_hand(*practices: tuple[float, float]) -> float:
    """From (days ago, worth of the reps): massing 0.5, decay 0.5, spread 0.45, threshold 0."""
    strength = sum(math.sqrt(worth) / math.sqrt(max(0.25, days)) for days, worth in practices)
    return 1 / (1 + math.exp(-math.log(strength) / 0.45))


def test_the_grid_shows_what_the_formula_gives(cast: Cast) -> None:
    log(cast, 2, 4)
    log(cast, 9, 6, "half_speed")
    expected = by_hand((2, 4), (9, 3.6))
    (row, *_rest) = [
        cells
        for player, cells in team_readiness(cast.team).rows(timezone.now())
        if player == cast.players[0]
    ]
    assert row[0] is not None
    assert row[0].value == pytest.approx(expected, abs=1e-3)
    page = cast.client(cast.assistant).get(reverse("readiness", args=[cast.team.pk]))
    text = page.content.decode()
    assert f"{hundredths(expected)} %" in text
    assert "Not calibrated yet" in text


def test_a_rep_taken_back_teaches_nothing(cast: Cast) -> None:
    log(cast, 2, 1)
    rep = cast.entry.reps.get()
    undo = Undo(str(uuid.uuid4()), str(rep.pk), rep.at)
    store([undo], cast.team, cast.head)
    ((_player, cells), *_rest) = team_readiness(cast.team).rows(timezone.now())
    assert cells[0] is None or cells[0].value == 0


def test_a_rep_logged_days_later_counts_on_the_practices_day(cast: Cast) -> None:
    held = timezone.localtime() - timedelta(days=8)
    practice = factories.PracticeFactory.create(
        team=cast.team, date=held.date(), start=held.time().replace(microsecond=0)
    )
    five = {str(role): who for role, who in enumerate(cast.players[:5], start=1)}
    for _ in range(4):
        factories.RepFactory.create(
            practice=practice, entry=cast.entry, cast=five, mode="live", at=timezone.now()
        )
    loaded = team_readiness(cast.team)
    found = loaded.of(cast.players[0], cast.entry, "1", timezone.now())
    assert found.value == pytest.approx(by_hand((8, 4)), abs=1e-3)


def test_what_is_due_before_the_next_game_and_how_many_reps(cast: Cast) -> None:
    starts = timezone.localtime() + timedelta(days=5)
    cast.game.date, cast.game.start = starts.date(), starts.time().replace(microsecond=0)
    cast.game.save()
    last = cast.practice  # the reps of the last practice count, two days before the game
    last.date, last.start = cast.game.date - timedelta(days=2), cast.game.start
    last.save()
    log(cast, 20, 1)
    value = by_hand((25, 1))
    text = cast.client(cast.head).get(reverse("readiness", args=[cast.team.pk])).content.decode()
    assert "Due before Millbrook" in text
    assert f"{round(100 * value)} %" in text
    goal = math.exp(0.45 * math.log(0.6 / 0.4))  # the strength of 60 %
    missing = goal - 1 / math.sqrt(25)
    assert f"{math.ceil((missing * math.sqrt(2)) ** 2)} live reps" in text


def test_the_curve_shows_every_practices_part(cast: Cast) -> None:
    log(cast, 2, 4)
    log(cast, 9, 6, "half_speed")
    path = reverse("readiness-curve", args=[cast.players[0].pk, cast.entry.pk, "1"])
    text = cast.client(cast.assistant).get(path).content.decode()
    assert "<svg" in text
    said = " ".join(re.sub(r"<[^>]*>", " ", text).split())
    last = date_format(timezone.localdate() - timedelta(days=2), "D j M")
    assert f"10 reps, 10 clean, last on {last}" in said
    assert said.index("10 reps") < said.index("% today"), "words and counts come first"
    assert f"{math.sqrt(4) / math.sqrt(2):.2f}" in text
    assert f"{math.sqrt(3.6) / 3:.2f}" in text
    other = reverse("readiness-curve", args=[cast.other_player.pk, cast.entry.pk, "1"])
    assert cast.client(cast.runner).get(other).status_code == 404
    assert cast.client(cast.head).get(path.replace("/1/", "/9/")).status_code == 404


def test_a_game_stands_by_its_opponent_among_what_the_curve_is_made_of(cast: Cast) -> None:
    """A play called in a game adds as a practice does, and is no practice."""
    taps.send(taps.today(cast), taps.called(cast))
    path = reverse("readiness-curve", args=[cast.players[0].pk, cast.entry.pk, "1"])
    answer = cast.client(cast.head).get(path)
    assert answer.status_code == 200
    assert reverse("game", args=[cast.game.pk]) in answer.content.decode()


def test_who_runs_the_club_sets_the_parameters(cast: Cast) -> None:
    path = reverse("assumptions")
    shown = cast.client(cast.assistant).get(path).content.decode()
    assert "Our choice" in shown
    assert "Anderson and Schooler 1991" in shown
    client = cast.client(cast.runner)
    values = {
        "decay": 0.7,
        "massing": 0.5,
        "walk_through": 0.3,
        "half_speed": 0.6,
        "live": 1,
        "game": 1,
        "error": 0.5,
        "spread": 0.45,
        "threshold": 0,
        "youngest": 0.25,
        "carried": 0,
        "ready": 0.5,
    }
    assert client.post(path, {**values, "decay": 9}).status_code == 422
    assert client.post(path, values).status_code == 302
    assert ReadinessSettings.objects.get().assumptions["decay"] == 0.7
    assert cast.client(cast.head).post(path, values).status_code == 403


def test_the_bar_is_a_choice_with_its_reason_and_its_price(cast: Cast) -> None:
    """By hand: .6 asks for 3 clean live reps two days before, .9 for 15; .6 ** 5 is 7 in 100."""

    def told() -> list[list[str]]:
        text = cast.client(cast.assistant).get(reverse("assumptions")).content.decode()
        assert "is a choice" in text
        table = text.partition("Why this bar")[2].partition("</table>")[0]
        rows = re.findall(r"<tr.*?</tr>", table.partition("<tbody>")[2], re.DOTALL)
        return [re.sub(r"<[^>]*>|&nbsp;%", " ", row).split() for row in rows]

    assert told()[1] == ["60", "now", "3", "7"]
    assert told()[4] == ["90", "15", "59"]
    row = settings_row()
    row.assumptions = {**to_json(chosen(row)), "ready": 0.9}
    row.save()
    assert told()[4] == ["90", "now", "15", "59"]


def test_too_few_reps_calibrate_nothing(cast: Cast) -> None:
    log(cast, 2, 3)
    client = cast.client(cast.runner)
    client.post(reverse("calibrate"))
    client.post(reverse("calibrate"))  # asked twice it is begun once
    path = reverse("assumptions")
    running = client.get(path).content.decode()
    assert "Calibrating in the background" in running
    assert 'hx-trigger="every 2s"' in running
    worker.perform(Calibrating.objects.get())
    assert 'hx-trigger="every 2s"' not in client.get(path).content.decode()
    text = client.get(reverse("assumptions")).content.decode()
    assert "Not calibrated yet: 0 graded reps, 150 are needed" in text


def test_walking_through_alone_never_makes_ready(cast: Cast) -> None:
    for day in range(1, 9):
        log(cast, day, 30, "walk_through")
    bar = team_readiness(cast.team).assumptions.ready
    ((_player, (cell, *_more)), *_rest) = team_readiness(cast.team).rows(timezone.now())
    assert cell is not None
    assert cell.value == pytest.approx(bar - 0.01)
    assert cell.standing == ReadinessMark.LEARNING
    log(cast, 0.9, 1, "half_speed")  # a practice of its own, at another time of day
    ((_player, (cell, *_more)), *_rest) = team_readiness(cast.team).rows(timezone.now())
    assert cell is not None
    assert cell.value > bar


def test_words_and_counts_come_first_and_nobody_is_judged_without_data(cast: Cast) -> None:
    url = reverse("readiness", args=[cast.team.pk])
    empty = cast.client(cast.head).get(url).content.decode()
    assert "5 of five have no rep yet" in empty
    assert "all five right" not in empty.split("Players by plays")[0]
    starts = timezone.localtime() + timedelta(days=1)
    cast.game.date, cast.game.start = starts.date(), starts.time().replace(microsecond=0)
    cast.game.save()
    log(cast, 2, 4)  # ready today, and not by tomorrow, three days after the reps
    assert by_hand((2, 4)) > 0.6 > by_hand((3, 4))
    text = cast.client(cast.head).get(url).content.decode()
    said, _, grid = text.partition("Players by plays")
    assert "needs reps: 5 of five" in said
    assert f"all five right about {hundredths(by_hand((3, 4)) ** 5)} times in 100" in said
    assert f"{hundredths(by_hand((2, 4)))} %" in grid
    # Five players at 60 % are all right 0.6 ** 5 = 0.078 of the time, independent of each other.
    assert "Five who are just ready: all five right about 7 times in 100." in text


def test_the_weakest_of_a_five_is_named(cast: Cast) -> None:
    """Mila, in role 4, was away when the others ran it for the second time."""
    cast.game.date = (timezone.localtime() + timedelta(days=1)).date()
    cast.game.save()
    log(cast, 3, 2)
    at = timezone.now() - timedelta(days=1)
    practice = factories.PracticeFactory.create(team=cast.team, date=timezone.localdate(at))
    others = {str(n): who for n, who in enumerate(cast.players[:5], start=1) if n != 4}
    others["4"] = cast.players[6]
    factories.RepFactory.create(
        practice=practice, entry=cast.entry, cast=others, mode="live", at=at
    )
    text = cast.client(cast.head).get(reverse("readiness", args=[cast.team.pk])).content.decode()
    assert re.findall(r"the weakest is (\w+)", text) == ["Mila"]


def test_plays_that_are_ready_share_one_line_below_those_that_are_not(cast: Cast) -> None:
    url = reverse("readiness", args=[cast.team.pk])
    before = cast.client(cast.head).get(url).context["ready_plays"]
    log(cast, 1, 60)
    answer = cast.client(cast.head).get(url)
    assert before == []
    assert answer.context["ready_plays"] == [cast.entry.spoken()]
    due = answer.content.decode().split("Players by plays")[0]
    assert "needs reps" not in due


def test_what_shows_the_bar_has_reached_it() -> None:
    assert hundredths(0.5999) == 59
    assert hundredths(0.6) == 60
    assert hundredths(0.29) == 29  # 100 * 0.29 is 28.999... in binary
