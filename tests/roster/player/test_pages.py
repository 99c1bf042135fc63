"""A player's own pages: index, one play a screen, "got it", what changed, and closed links."""

from __future__ import annotations

import html
import re
from dataclasses import replace

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from coachbook.demo import factories
from plays.core.words.difference import role_changes
from plays.core.words.part import part_of
from plays.library.changes import publish, save_draft
from roster.models import GotIt
from roster.squad.links import link_for, renew_link
from shared.core.language import ENGLISH
from tests.cast import Cast
from tests.phone import moved_start, opened_by

pytestmark = pytest.mark.django_db


def part(client: Client, cast: Cast, player: int, role: str) -> str:
    return f"{opened_by(client, cast.players[player])}{cast.entry.pk}/{role}/"


def shown(client: Client, address: str) -> str:
    answer = client.get(address)
    assert answer.status_code == 200
    return answer.content.decode()


def test_the_index_says_what_is_shouted_and_what_comes_next(client: Client, cast: Cast) -> None:
    cast.practice.date = timezone.localdate()
    cast.practice.save()
    text = shown(client, opened_by(client, cast.players[4]))
    assert f"Gangway {cast.players[4].name}" in text
    assert ">new</span>" in text
    assert "Game against Millbrook" in text
    assert "<strong>Practice</strong>" in text
    assert "yours" in text
    assert "you are second" in shown(client, opened_by(client, cast.players[5]))


def test_somebody_in_no_play_is_told_so(client: Client, cast: Cast) -> None:
    nobody = factories.PlayerFactory.create(team=cast.team, number="99")
    assert "You are in no play yet." in shown(client, opened_by(client, nobody))


def test_one_play_stands_alone_with_its_pictures(client: Client, cast: Cast) -> None:
    text = shown(client, part(client, cast, 4, "5"))
    play = cast.play.published().value()
    assert all(phase.title in text for phase in play.phases)
    assert "as always" in text  # a counter beside the plain picture
    assert text.count("<svg") > len(play.phases)


def test_lines_and_terms_are_told_in_plain_words_on_a_page(client: Client, cast: Cast) -> None:
    reading = f"{opened_by(client, cast.players[4])}reading/"
    assert "/reading/" in shown(client, part(client, cast, 4, "5"))
    text = shown(client, reading)
    assert "<svg" in text
    told = set(re.findall(r"<dt>([^<]+)</dt>", text))
    assert told >= {"slot", "nail", "hash", "short corner", "dunker spot", "pop", "slip", "gate"}
    assert len(told) == text.count("<dd>")
    assert "What the words mean" in text.split("<dl", 1)[0].rsplit("<details", 1)[1]
    spanish = shown(client, f"{reading}?in=es")
    assert "<dt>marca de banda</dt>" in spanish
    assert "Qué significan las palabras" in spanish
    sheet = cast.client(cast.head).get(reverse("sheet", args=[cast.players[4].pk]))
    assert "<dt>dunker spot</dt>" in sheet.content.decode()


def test_looks_stand_under_their_diagram_and_a_later_one_is_named(
    client: Client, cast: Cast
) -> None:
    """In Gangway the 1 reads looks 2 and 3 in the first picture, and look 1 in the second."""
    text = shown(client, part(client, cast, 0, "1"))
    first, second = re.findall(r'<section class="phase">(.*?)</section>', text, re.DOTALL)[:2]
    looks = [re.findall(r"<li[^>]*>\s*(Look \d[^<]*)", each) for each in (first, second)]
    assert looks[0][0].strip() == "Look 1 comes with picture 2."
    assert [each[:7] for each in looks[0]] == ["Look 1 ", "Look 2.", "Look 3."]
    assert [each[:7] for each in looks[1]] == ["Look 1."]


def test_the_coachs_cue_heads_its_step(client: Client, cast: Cast) -> None:
    value = cast.play.published().value()
    step = part_of(value, "5").steps[0]
    taught = tuple(
        replace(
            phase,
            actions=tuple(
                replace(a, teach=("Low and wide",)) if a.id == step.action else a
                for a in phase.actions
            ),
        )
        for phase in value.phases
    )
    cast.entry.revision = publish(save_draft(cast.play, replace(value, phases=taught), None), None)
    cast.entry.save()
    text = " ".join(shown(client, part(client, cast, 4, "5")).split())
    assert '<div> <p class="cue">Low and wide</p> <p>' in text


def test_a_role_of_somebody_else_is_not_shown(client: Client, cast: Cast) -> None:
    assert client.get(part(client, cast, 4, "1")).status_code == 404
    index = opened_by(client, cast.players[4])
    assert client.get(f"{index}{cast.entry.pk + 1}/5/").status_code == 404
    assert client.post(f"{part(client, cast, 4, '1')}got/").status_code == 404


def test_got_it_is_said_once_for_each_revision(client: Client, cast: Cast) -> None:
    address = part(client, cast, 4, "5")
    link_for(cast.players[0], timezone.now())  # who holds none is not waited for
    for _ in range(2):
        assert client.post(f"{address}got/").status_code == 302
    assert GotIt.objects.count() == 1
    assert ">got it</span>" in shown(client, opened_by(client, cast.players[4]))
    assert "You said that you have got this." in shown(client, address)
    coach = cast.client(cast.head).get(reverse("sheets", args=[cast.team.pk])).content.decode()
    assert "1 of 2" in " ".join(coach.split())


def test_what_changed_is_told_by_role_until_it_is_confirmed(client: Client, cast: Cast) -> None:
    address = part(client, cast, 4, "5")
    client.post(f"{address}got/")
    value = cast.play.published().value()
    start = value.start_of("5")
    moved = tuple(
        replace(each, at=start._replace(x=start.x + 1.5)) if each.role == "5" else each
        for each in value.starts
    )
    cast.entry.revision = publish(save_draft(cast.play, replace(value, starts=moved), None), None)
    cast.entry.save()
    assert ">changed</span>" in shown(client, opened_by(client, cast.players[4]))
    assert "New since you last said" in shown(client, address)
    client.post(f"{address}got/")
    assert ">got it</span>" in shown(client, opened_by(client, cast.players[4]))
    assert "New since you last said" not in shown(client, address)


def test_a_revision_that_changes_others_only_says_that_nothing_is_new(
    client: Client, cast: Cast
) -> None:
    """The 5 starts elsewhere: that is no news for the 3, who confirms it with one tap."""
    three, five = (part(client, cast, n, role) for n, role in ((2, "3"), (4, "5")))
    for address in (three, five):
        client.post(f"{address}got/")
    moved_start(cast)
    index = shown(client, opened_by(client, cast.players[2]))
    assert ">nothing new</span>" in index
    assert "New since you last said" not in index
    assert ">changed</span>" not in index
    assert "but nothing of it is yours" in shown(client, three)
    client.post(f"{three}got/")
    assert ">got it</span>" in shown(client, opened_by(client, cast.players[2]))
    assert "but nothing of it is yours" not in shown(client, three)
    theirs = shown(client, opened_by(client, cast.players[4]))
    head = theirs[: theirs.index("<h2>My plays")]
    said = re.search(r"<li>(.*?)</li>", head[head.index("New since you last said") :], re.DOTALL)
    assert said
    news = role_changes(
        cast.play.revisions.get(number=1).value(), cast.entry.revision.value(), "5", ENGLISH
    )
    assert html.unescape(said[1]).split("role 5: ")[1].strip().startswith(news[0])


def test_the_player_chooses_the_language(client: Client, cast: Cast) -> None:
    address = opened_by(client, cast.players[4])
    assert "Mis jugadas" in shown(client, f"{address}?in=es")
    assert "Mis jugadas" in shown(client, address)
    assert "My plays" in shown(client, f"{address}?in=en")
    assert "My plays" in shown(client, f"{address}?in=xx")


@pytest.mark.parametrize("page", ["", "1/5/"])
def test_a_link_that_was_withdrawn_says_what_to_do_and_no_name(
    client: Client, cast: Cast, page: str
) -> None:
    address = opened_by(client, cast.players[4])
    renew_link(cast.players[4], timezone.now())
    answer = client.get(f"{address}{page}")
    text = answer.content.decode()
    assert answer.status_code == 404
    assert "Ask your coach for a new slip" in text
    assert cast.players[4].name not in text
    assert client.post(f"{address}1/5/got/").status_code == 404


def test_names_of_others_are_all_that_is_shown_of_them(client: Client, cast: Cast) -> None:
    cast.players[0].height_cm = 187
    cast.players[0].save()
    text = shown(client, part(client, cast, 4, "5"))
    said = re.sub(r"<[^>]+>", " ", text)
    assert cast.players[0].name in said
    assert "187" not in said
    assert 'content="noindex"' in text


def test_second_roles_stand_behind_a_switch(client: Client, cast: Cast) -> None:
    factories.CastingFactory.create(entry=cast.entry, role="4", depth=2, player=cast.players[4])
    index = shown(client, opened_by(client, cast.players[4]))
    first, later = index.split("<details>")
    assert "yours" in first
    assert "you are second" not in first
    assert "Second and third roles" in later
    assert "you are second" in later
    only_second = shown(client, opened_by(client, cast.players[5]))
    assert "<details open>" in only_second


def test_from_the_other_side_the_whole_part_is_mirrored(client: Client, cast: Cast) -> None:
    address = part(client, cast, 4, "5")
    plain, other = shown(client, address), shown(client, f"{address}?side=other")
    assert "Shown from the other side" in other
    assert "Shown from the other side" not in plain
    motions = [client.get(f"{address}motion/{end}").json() for end in ("", "?side=other")]
    xs = [found["roles"]["5"][0::2] for found in motions]
    assert xs[0] == pytest.approx([-x for x in xs[1]], abs=0.011)
    assert any(x != 0 for x in xs[0])


def test_the_play_in_motion_brings_out_the_own_role(client: Client, cast: Cast) -> None:
    address = part(client, cast, 4, "5")
    text = shown(client, f"{address}moving/")
    assert '<option value="5">me</option>' in text
    assert 'data-mover="5"' in text
    found = client.get(f"{address}motion/").json()
    start = cast.play.published().value().start_of("5")
    assert found["roles"]["5"][:2] == pytest.approx(start, abs=0.006)
    assert "defenders" not in found
    assert client.get(f"{part(client, cast, 4, '1')}moving/").status_code == 404


def test_from_my_eyes_up_is_where_i_look_and_the_words_say_what_that_means(
    client: Client, cast: Cast
) -> None:
    thrower = part(client, cast, 0, "1")
    plain, own = shown(client, thrower), shown(client, f"{thrower}?eyes=own")
    assert "Up in the pictures" not in plain
    assert "The basket is on your" in own

    def size(text: str) -> list[float]:
        found = re.search(r'<figure><svg[^>]*viewBox="0 0 ([\d.]+) ([\d.]+)"', text)
        assert found
        return [float(found[1]), float(found[2])]

    assert size(own) == size(plain)[::-1]  # a sideline throw-in is a quarter of a turn
    assert "?side=other&amp;eyes=own" in own
    other = shown(client, f"{thrower}?side=other&eyes=own")
    sides = [re.search(r"on your (left|right)\.", text) for text in (own, other)]
    assert all(sides)
    assert sides[0][1] != sides[1][1]  # type: ignore[index]
