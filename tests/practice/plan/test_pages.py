"""The page of a plan: order, beginning from another plan, patterns, print, running view."""

from __future__ import annotations

import re
from datetime import time
from io import BytesIO

import pytest
from django.urls import reverse
from pypdf import PdfReader

from coachbook.demo import factories
from practice.models import Block, PlanPattern, Practice
from tests.cast import Cast


def path(name: str, cast: Cast) -> str:
    return reverse(name, args=[cast.practice.pk])


def titles(cast: Cast) -> list[str]:
    return [str(block) for block in cast.practice.blocks.all()]


def book(cast: Cast, until: time) -> None:
    cast.practice.hall_until = until
    cast.practice.save()


def test_blocks_are_put_into_the_order_that_was_dragged(cast: Cast) -> None:
    others = [
        factories.BlockFactory.create(practice=cast.practice, title=title)
        for title in ("Two", "Three")
    ]
    order = [others[1].pk, cast.block.pk]
    sent = ",".join(str(pk) for pk in order)
    cast.client(cast.head).post(path("order-blocks", cast), {"order": sent})
    assert titles(cast) == ["Three", "Install", "Two"]


def test_a_plan_begins_from_a_template_and_fits_the_booking(cast: Cast) -> None:
    cast.block.delete()
    book(cast, time(19, 20))
    sent = {"source": "template-standard", "fit": "on"}
    assert cast.client(cast.head).post(path("begin-plan", cast), sent).status_code == 302
    assert sum(block.minutes for block in cast.practice.blocks.all()) == 80
    assert cast.practice.blocks.first().kind == "warm_up"  # type: ignore[union-attr]  # there is one


def test_a_template_that_does_not_fit_is_not_taken(cast: Cast) -> None:
    book(cast, time(18, 30))
    client = cast.client(cast.head)
    sent = client.post(path("begin-plan", cast), {"source": "template-standard"})
    assert sent.status_code == 422
    assert "minutes too long" in sent.content.decode()
    assert cast.practice.blocks.count() == 1


def test_a_plan_is_copied_with_its_plays_that_are_still_carried(cast: Cast) -> None:
    other = factories.PracticeFactory.create(team=cast.team)
    client = cast.client(cast.head)
    sent = {"source": f"practice-{cast.practice.pk}"}
    client.post(reverse("begin-plan", args=[other.pk]), sent)
    assert other.blocks.get().entry == cast.entry
    cast.entry.dropped_on = other.date
    cast.entry.save()
    other.blocks.all().delete()
    client.post(reverse("begin-plan", args=[other.pk]), sent)
    assert other.blocks.get().entry is None


def test_a_plan_of_another_team_is_no_source(cast: Cast) -> None:
    foreign = factories.PracticeFactory.create(team=cast.other_team)
    factories.BlockFactory.create(practice=foreign)
    sent = {"source": f"practice-{foreign.pk}"}
    assert cast.client(cast.head).post(path("begin-plan", cast), sent).status_code == 422


def test_a_pattern_is_kept_without_plays_and_used_again(cast: Cast) -> None:
    factories.BlockFactory.create(practice=cast.practice, title="Form", equipment="cones")
    client = cast.client(cast.head)
    client.post(path("keep-pattern", cast), {"name": "Tuesday"})
    pattern = PlanPattern.objects.get()
    other = factories.PracticeFactory.create(team=cast.team)
    client.post(reverse("begin-plan", args=[other.pk]), {"source": f"pattern-{pattern.pk}"})
    assert [(b.kind, b.minutes, b.equipment) for b in other.blocks.all()] == [
        ("install", 10, ""),
        ("skill", 10, "cones"),
    ]
    assert not other.blocks.exclude(entry=None).exists()


def test_warnings_name_their_source_and_live_blocks_leave_people_out(cast: Cast) -> None:
    """NBA and USA Basketball 2016 for U16: a practice of up to 120 minutes (from memory)."""
    Block.objects.filter(pk=cast.block.pk).update(minutes=110)
    factories.BlockFactory.create(practice=cast.practice, minutes=20)
    cast.players[0].availability = "limited"
    cast.players[0].save()
    shown = cast.client(cast.assistant).get(path("practice", cast)).content.decode()
    assert "This practice has 130 minutes" in shown
    assert "NBA and USA Basketball youth guidelines 2016" in shown
    assert "FIBA/WABC coaches manual" in shown
    assert re.search(r"Leave out</span>\s+Ida", shown)
    assert "health-care professional" in shown


@pytest.mark.parametrize("blocks", [1, 40])
def test_the_print_is_one_page(cast: Cast, blocks: int) -> None:
    for number in range(blocks - 1):
        factories.BlockFactory.create(
            practice=cast.practice, title=f"Block {number}", notes="Cones in two lines " * 4
        )
    answer = cast.client(cast.assistant).get(path("plan-pdf", cast))
    reader = PdfReader(BytesIO(answer.content))
    assert len(reader.pages) == 1
    text = reader.pages[0].extract_text()
    assert "Gangway Zoë" in text
    assert "18:00" in text
    assert "professional" in text
    if blocks > 1:
        assert f"Block {blocks - 2}" in text
    assert cast.client(cast.head).get(path("plan-pdf", cast) + "?paper=a9").status_code == 404


def test_a_block_that_outruns_the_hall_is_not_saved(cast: Cast) -> None:
    book(cast, time(18, 15))
    sent = {"kind": "skill", "minutes": "30"}
    answer = cast.client(cast.head).post(path("add-block", cast), sent)
    assert answer.status_code == 422
    assert cast.practice.blocks.count() == 1
    assert f'action="{path("add-block", cast)}"' in answer.content.decode()  # to be mended and sent


def test_a_plan_that_ends_later_is_told_to_calendars_and_one_that_does_not_is_not(
    cast: Cast,
) -> None:
    """RFC 5545, 3.8.7.4: SEQUENCE grows with a change of DTEND."""
    practice = cast.practice
    practice.blocks.all().delete()
    Practice.objects.filter(pk=practice.pk).update(hall_from=None, hall_until=None)
    client = cast.client(cast.head)

    def sequence() -> int:
        practice.refresh_from_db()
        return practice.sequence

    def add(minutes: int) -> None:
        address = reverse("add-block", args=[practice.pk])
        assert client.post(address, {"kind": "skill", "minutes": minutes}).status_code == 302

    add(60)
    assert sequence() == 0  # 90 minutes are usual: the end has not moved
    add(60)
    assert sequence() == 1
    block = practice.blocks.last()
    assert block is not None
    client.post(reverse("edit-block", args=[practice.pk, block.pk]), {"remove": ""})
    assert sequence() == 2
    Practice.objects.filter(pk=practice.pk).update(hall_until=time(20, 0))
    add(30)
    assert sequence() == 2  # the booking says when it ends
