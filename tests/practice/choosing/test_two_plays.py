"""Two plays side by side: what stands there is the check's, the squad's and the drawing's."""

from __future__ import annotations

import re

import pytest
from django.urls import reverse

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from plays.core.check.setting import checked
from plays.models import Play
from practice.choosing.judging import setting_of
from tests.cast import Cast


@pytest.fixture
def other(cast: Cast) -> Play:
    return factories.published(demo_play("paper-lantern"), cast.keeper)


def said(cast: Cast, **asked: str | int) -> str:
    answer = cast.client(cast.assistant).get(reverse("two-plays", args=[cast.team.pk]), asked)
    assert answer.status_code == 200
    return " ".join(answer.content.decode().split())


def test_each_has_its_looks_findings_and_people(cast: Cast, other: Play) -> None:
    text = said(cast, one=cast.play.pk, other=other.pk)
    parts = re.split(r'<section class="card beside-play"', text)[1:]
    assert len(parts) == 2
    for part, key in zip(parts, ("gangway", "paper-lantern"), strict=True):
        report = checked(demo_play(key), setting_of(cast.team))
        assert part.count('class="beside-look"') == len(report.verdicts)
        for verdict in report.verdicts:
            assert f"{verdict.margin:.2f} s" in part
        listed = part.partition("What the check finds")[2]
        assert listed.count("<li") == max(1, len(report.findings))
        assert f"{min(v.turn for v in report.verdicts):.1f}" in part
        assert "<svg" in part
    for player in cast.players[:5]:
        assert player.name in parts[0]  # as the coach has cast it
    assert "start in the same place in both" in text or "starts in the same place" in text


@pytest.mark.parametrize("asked", [{}, {"one": "x"}, {"one": "9" * 30}, {"other": "-1"}])
def test_what_cannot_be_read_is_left_out(cast: Cast, asked: dict[str, str]) -> None:
    assert "beside-play" not in said(cast, **asked)


def test_one_play_twice_is_shown_once_and_one_put_away_not_at_all(cast: Cast, other: Play) -> None:
    assert said(cast, one=other.pk, other=other.pk).count("card beside-play") == 1
    Play.objects.filter(pk=other.pk).update(put_away=True)
    assert said(cast, one=cast.play.pk, other=other.pk).count("card beside-play") == 1


def test_a_stranger_to_the_team_sees_none_of_its_players(cast: Cast, other: Play) -> None:
    address = reverse("two-plays", args=[cast.team.pk])
    assert cast.client(cast.stranger).get(address, {"one": other.pk}).status_code == 404
