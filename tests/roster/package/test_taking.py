"""Several plays of the library are taken up at once, each under a call that no other has."""

from __future__ import annotations

import uuid

from django.urls import reverse
from django.utils import timezone

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from roster.models import PackagePlay
from shared.models import Change
from tests.cast import Cast

KEYS = ("slipway", "foghorn", "breakwater")


def ticked(cast: Cast, *keys: str, once: str | None = None) -> str:
    address = reverse("take-up-ticked", args=[cast.team.pk])
    sent = {"play": keys} | ({"once": once} if once else {})
    return cast.client(cast.head).post(address, sent, follow=True).content.decode()


def carried(cast: Cast) -> list[PackagePlay]:
    return list(cast.team.package.all().carried().select_related("play").order_by("pk"))


def shelve(cast: Cast) -> None:
    for key in KEYS:
        factories.published(demo_play(key), cast.keeper)


def test_each_play_of_the_library_can_be_ticked_and_comes_in_once(cast: Cast) -> None:
    shelve(cast)
    page = cast.client(cast.head).get(reverse("package", args=[cast.team.pk])).content.decode()
    assert all(f'<input type="checkbox" name="play" value="{key}">' in page for key in KEYS)
    assert 'value="gangway"' not in page  # carried already
    once = str(uuid.uuid4())
    said = ticked(cast, *KEYS[:2], once=once)
    assert "2 plays are in the package. Cast them next." in said
    ticked(cast, *KEYS[:2], once=once)
    said = ticked(cast, *KEYS[:2])  # another tab
    assert "The team carries all of them already." in said
    assert sorted(e.play.key for e in carried(cast)) == ["foghorn", "gangway", "slipway"]
    assert Change.objects.filter(verb="took up").count() == 2


def test_two_plays_never_get_one_call(cast: Cast) -> None:
    shelve(cast)
    cast.entry.call = demo_play("slipway").call or "Slipway"
    cast.entry.save()
    ticked(cast, *KEYS)
    calls = [entry.call.casefold() for entry in carried(cast)]
    assert len(calls) == len(set(calls)) == 4


def test_a_dropped_play_comes_back_with_its_call_and_its_cast(cast: Cast) -> None:
    cast.entry.dropped_on = timezone.localdate()
    cast.entry.save()
    ticked(cast, cast.play.key)
    back = carried(cast)[0]
    assert (back.pk, back.call) == (cast.entry.pk, cast.entry.call)
    assert back.castings.count() == 6


def test_nothing_ticked_and_plays_that_are_not_there_change_nothing(cast: Cast) -> None:
    shelve(cast)
    assert "Nothing was ticked." in ticked(cast)
    ticked(cast, "no-such-play", "9" * 300, "")
    assert [entry.pk for entry in carried(cast)] == [cast.entry.pk]
