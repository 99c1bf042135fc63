"""The five: what five people can run, who takes what after a change, and what the page weighs."""

from __future__ import annotations

import gzip
import re
from pathlib import Path

import pytest
from django.contrib.staticfiles import finders
from django.utils import timezone
from whitenoise.compress import Compressor

from coachbook.demo import factories
from coachbook.demo.files import demo_plays
from practice.core.readiness import assumptions
from practice.parameters import chosen, settings_row
from tests.cast import Cast

LIMIT = 50_000  # bytes over the air, everything that the page loads


def five(cast: Cast, *numbers: int, was: tuple[int, ...] = ()) -> str:
    on = "&".join(f"on={cast.players[n].pk}" for n in numbers)
    before = "-".join(str(cast.players[n].pk) for n in was)
    response = cast.client(cast.assistant).get(f"/teams/{cast.team.pk}/five/?{on}&was={before}")
    assert response.status_code == 200
    return response.content.decode()


def test_the_first_five_of_the_cast_is_there_to_begin_with(cast: Cast) -> None:
    text = cast.client(cast.assistant).get(f"/teams/{cast.team.pk}/five/").content.decode()
    assert text.count(" checked") == 5
    assert "Can run 1 of 1" in text
    assert "Gangway Zoë" in text


def test_the_call_is_that_of_who_is_on(cast: Cast) -> None:
    text = five(cast, 0, 1, 2, 3, 5)
    assert "Gangway Runa" in text
    assert "Gangway Zoë" not in text


def test_why_not_is_said_in_words(cast: Cast) -> None:
    text = five(cast, 0, 1, 2, 4, 6)
    assert "Can run 0 of 1" in text
    assert "Nobody here knows role 4." in text
    assert "Roles 1 and 4 share one person: Ida." in five_after_teaching_ida_role_4(cast)


def five_after_teaching_ida_role_4(cast: Cast) -> str:
    factories.CastingFactory.create(entry=cast.entry, role="4", depth=2, player=cast.players[0])
    return five(cast, 0, 1, 2, 4, 6)


def test_after_a_change_it_says_who_takes_which_role(cast: Cast) -> None:
    text = five(cast, 0, 1, 2, 3, 5, was=(0, 1, 2, 3, 4))
    assert "Runa takes role 5 in Gangway Runa." in text
    assert "Ida takes" not in text


def test_who_moves_within_the_five_is_told_from_which_role(cast: Cast) -> None:
    """Runa knows role 1 only now, and Ida role 5: Ida goes over when Zoë goes off."""
    cast.entry.castings.filter(player=cast.players[5]).delete()
    factories.CastingFactory.create(entry=cast.entry, role="1", depth=2, player=cast.players[5])
    factories.CastingFactory.create(entry=cast.entry, role="5", depth=2, player=cast.players[0])
    text = five(cast, 0, 1, 2, 3, 5, was=(0, 1, 2, 3, 4))
    assert "Ida goes from role 1 to role 5 in" in text


def test_a_sixth_asks_who_goes_off_best_way_first(cast: Cast) -> None:
    text = five(cast, 0, 1, 2, 3, 4, 5, was=(0, 1, 2, 3, 4))
    assert "Who goes off for Runa?" in text
    ways = re.findall(
        r'class="button second"\s+href="[^"]*">\s*(\w+)\s+<span class="way-can">\s*then (\d)', text
    )
    assert ways[0] == ("Zoë", "1")
    assert {can for _, can in ways[1:]} == {"0"}


@pytest.mark.parametrize(
    ("numbers", "said"),
    [((0, 1, 2), "Pick 2 more."), ((), "Pick 5 more."), ((0, 1, 2, 3, 4, 5, 6), "7 are picked")],
)
def test_any_other_number_is_told(numbers: tuple[int, ...], said: str, cast: Cast) -> None:
    assert said in five(cast, *numbers)


def test_what_nobody_ticked_is_passed_over(cast: Cast) -> None:
    query = f"on={cast.other_player.pk}&on=x&on=99999999999999999999&was=a-b"
    response = cast.client(cast.head).get(f"/teams/{cast.team.pk}/five/?{query}")
    assert "Pick 5 more." in response.content.decode()


def test_a_pair_kept_apart_is_told_when_both_are_on(cast: Cast) -> None:
    client, (ida, noor) = cast.client(cast.head), cast.players[:2]
    form = {"kind": "apart", "apart-one": noor.pk, "apart-other": ida.pk}
    client.post(f"/teams/{cast.team.pk}/minutes/", form)
    assert "Ida and Noor are kept apart" in five(cast, 0, 1, 2, 3, 4)


def test_the_page_loads_under_fifty_kilobytes(cast: Cast) -> None:
    """A full squad and package, each thing packed as it is sent: the page by the site, style
    sheets and scripts by WhiteNoise when they are collected. The fonts stay away: the page is
    set in the device's own face (seen in the browser's test)."""
    for value in demo_plays():
        if value.key != cast.play.key:
            play = factories.published(value)
            entry = factories.PackagePlayFactory.create(team=cast.team, play=play)
            for role, player in enumerate(cast.players[:5], start=1):
                factories.CastingFactory.create(entry=entry, role=str(role), player=player)
    for number in range(30, 38):
        factories.PlayerFactory.create(team=cast.team, number=str(number))
    response = cast.client(cast.assistant).get(
        f"/teams/{cast.team.pk}/five/", headers={"accept-encoding": "gzip"}
    )
    page = gzip.decompress(response.content).decode()
    assert page.count('class="can-run"') > 10
    files = set(re.findall(r'(?:href|src)="/static/([^"]+)"', page))
    assert any(name.endswith(".js") for name in files)
    assert len(response.content) + sum(packed(name) for name in files) < LIMIT


def packed(name: str) -> int:
    found = finders.find(name)
    assert found, name
    data = Path(str(found)).read_bytes()
    return min(len(data), len(Compressor.compress_gzip(data)))


def test_without_a_rep_nobody_is_blamed(cast: Cast) -> None:
    text = five(cast, 0, 1, 2, 3, 4)
    assert "weakest" not in text
    assert "ready" not in text.split("Can run", 1)[1].split("</main>")[0]


def test_plays_come_by_situation_and_the_readier_one_first(cast: Cast) -> None:
    """Half Tide and Gangway alike cast; only one of them was run live, fifteen times today."""
    fives = {str(role): who for role, who in enumerate(cast.players[:5], start=1)}
    by_key = {play.key: play for play in demo_plays()}
    same = [k for k, p in by_key.items() if p.situation == by_key["gangway"].situation]
    other = factories.PackagePlayFactory.create(
        team=cast.team, play=factories.published(by_key[next(k for k in same if k != "gangway")])
    )
    for role, player in fives.items():
        factories.CastingFactory.create(entry=other, role=role, player=player)
    practice = factories.PracticeFactory.create(team=cast.team, date=timezone.localdate())
    for _ in range(15):
        factories.RepFactory.create(
            practice=practice, entry=other, mode="live", cast=fives, at=timezone.now()
        )
    text = five(cast, 0, 1, 2, 3, 4)
    heads = re.findall(r'<li class="can-run">\s*<details>\s*<summary><h3>(.*?)</h3>', text)
    assert heads[1] == "Gangway Zoë"
    assert re.search(r"Can run 2 of 2\s*<span class=\"faint\">\s*1 ready", text)
    assert "weakest 0 %" in text
    assert "5 of five have no rep yet" in " ".join(text.split())
    assert text.partition("Can run")[2].count("mark-good") == 1
    row = settings_row()
    row.assumptions = {**assumptions.to_json(chosen(row)), "ready": 0.99}
    row.save()
    assert "needs reps: 5 of five" in five(cast, 0, 1, 2, 3, 4), "one bar, as the club has it"


def test_a_play_that_cannot_be_run_keeps_its_name(cast: Cast) -> None:
    cast.entry.call = "{5}"
    cast.entry.save()
    text = five(cast, 0, 1, 2, 4, 6)
    assert cast.play.name in text.split("Not these", 1)[1]
