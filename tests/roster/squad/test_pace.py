"""The page of a team's own pace."""

from __future__ import annotations

import re

import pytest
from django.urls import reverse

from plays.core.motion.pace import PACES
from plays.core.motion.team_pace import EDITABLE, bounds
from plays.core.play import AgeGroup
from roster.bridge import team_pace
from roster.models import Player, Team
from shared.models import Change
from tests.cast import Cast


def send(cast: Cast, **data: object) -> object:
    return cast.client(cast.head).post(reverse("team-pace", args=[cast.team.pk]), data)


def test_times_and_constants_are_kept(cast: Cast) -> None:
    who = cast.players[0]
    data = {"ten-team": "2.05", "twenty-team": "3.50", "gate-team": "0.3", "c-reaction": "0.31"}
    answer = send(cast, **data, **{f"twenty-{who.pk}": "3.9"})
    assert answer.status_code == 302  # type: ignore[attr-defined]
    team = Team.objects.get(pk=cast.team.pk)
    pace = team_pace(team)
    assert (pace.timed.ten, pace.timed.twenty, pace.timed.gate) == (2.05, 3.5, 0.3)
    assert pace.constants == {"reaction": 0.31}
    assert Player.objects.get(pk=who.pk).sprint_20 == 3.9
    change = Change.objects.filter(verb="changed pace").get()
    assert change.before == {}
    shown = cast.client(cast.head).get(reverse("team-pace", args=[cast.team.pk])).content.decode()
    assert 'value="2.05"' in shown
    assert 'value="0.31"' in shown


def test_an_empty_form_is_the_tables_row(cast: Cast) -> None:
    send(cast, **{"c-reaction": "0.31"})
    send(cast)
    pace = team_pace(Team.objects.get(pk=cast.team.pk))
    age = AgeGroup(cast.team.age_group)
    assert pace.base(age) == PACES[age]


def test_what_cannot_be_is_refused_and_nothing_kept(cast: Cast) -> None:
    for data in (
        {"ten-team": "3.0", "twenty-team": "2.9"},
        {"ten-team": "0.2"},
        {"c-top_speed": "90"},
        {"c-reaction": "-1"},
        {"c-reaction": "nan"},
        {"twenty-team": "3.5", "c-top_speed": "7.5"},
    ):
        answer = send(cast, **data)
        assert answer.status_code == 422, data  # type: ignore[attr-defined]
        assert Team.objects.get(pk=cast.team.pk).pace == {}


def test_every_constant_is_shown_with_its_label(cast: Cast) -> None:
    content = cast.client(cast.head).get(reverse("team-pace", args=[cast.team.pk])).content.decode()
    for name in EDITABLE:
        assert f'name="c-{name}"' in content
    tags = content.count('class="tag basis-')
    assert tags == len(EDITABLE)


def test_somebody_elses_player_cannot_be_changed(cast: Cast) -> None:
    send(cast, **{f"twenty-{cast.other_player.pk}": "3.3"})
    assert Player.objects.get(pk=cast.other_player.pk).sprint_20 is None


@pytest.mark.parametrize("name", sorted(EDITABLE))
def test_limits_can_be_told_and_lie_within_the_true_ones(cast: Cast, name: str) -> None:
    """Three figures, never "0.007686193453914862", and no value that the clock would refuse."""
    low, high = bounds(name)
    for wrong in (low / 2, high * 2):
        page = send(cast, **{f"c-{name}": str(wrong)}).content.decode()  # type: ignore[attr-defined]
        (told,) = re.findall(r"Write ([\d.]+) or (?:more|less)\.", page)
        assert len(told.replace(".", "").strip("0")) <= 3, told
        assert low <= float(told) <= high
        assert abs(float(told) - (low if wrong < low else high)) < 0.01 * high
