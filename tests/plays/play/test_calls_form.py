"""The further calls of a play in the form of its words: added, changed, deleted, nothing lost."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from django.urls import reverse

from coachbook.demo.files import demo_play
from plays.core.play import Swap, Variant
from plays.library.changes import publish, save_draft
from plays.models import Revision
from tests.cast import Cast

TWO = replace(
    demo_play("tidegate"),
    key="gangway",
    variants=(
        Variant("Tide {3}", "a fist", (Swap("2", "3", stay=True), Swap("4", "5"))),
        Variant("Far", mirror=True),
    ),
)


@pytest.fixture
def two(cast: Cast) -> Cast:
    """The play has two further calls."""
    publish(save_draft(cast.play, TWO, cast.keeper), cast.keeper)
    return cast


def send(cast: Cast, **changed: Any) -> Any:
    """What a browser sends: every field as it stands, but for these; a tick that is off is not."""
    client, path = cast.client(cast.keeper), reverse("edit-texts", args=["gangway"])
    form = client.get(path).context["form"]
    values = {field.name: field.value() for field in form}
    sent = {**values, **{name.replace("__", "-"): value for name, value in changed.items()}}
    return client.post(
        path,
        {name: value for name, value in sent.items() if value is not None and value is not False},
    )


def drafts(cast: Cast) -> list[Revision]:
    return list(Revision.objects.filter(play=cast.play, published_at=None))


def test_an_untouched_form_keeps_every_call(two: Cast) -> None:
    assert send(two).status_code == 302
    assert not drafts(two)
    send(two, name="Gangplank")
    assert [draft.value() for draft in drafts(two)] == [replace(TWO, name="Gangplank")]


def test_a_call_is_added_changed_and_deleted(two: Cast) -> None:
    added = {"further__2__call": "Back {4}", "further__2__sign": "two fists"}
    pair = {"further__2__one__0": "2", "further__2__other__0": "4", "further__2__stay__0": "on"}
    changed = {"further__0__call": "Tide {3} now", "further__0__stay__0": None}
    gone = {"further__1__gone": "on"}
    assert send(two, **added, **pair, **changed, **gone).status_code == 302
    (draft,) = drafts(two)
    assert draft.value() == replace(
        TWO,
        variants=(
            Variant("Tide {3} now", "a fist", (Swap("2", "3"), Swap("4", "5"))),
            Variant("Back {4}", "two fists", (Swap("2", "4", stay=True),)),
        ),
    )


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"call": "", "one-0": "2", "other-0": "3"}, "call"),
        ({"call": "Tide {2}", "mirror": "on"}, "call"),  # the play's own
        ({"call": "Low"}, "call"),  # differs in nothing
        ({"call": "Low {7}", "mirror": "on"}, "call"),
        ({"call": "Low", "one-0": "2"}, "other-0"),
        ({"call": "Low", "other-1": "2"}, "one-1"),
        ({"call": "Low", "one-0": "2", "other-0": "2"}, "one-0"),
        ({"call": "Low", "one-0": "2", "other-0": "3", "one-1": "3", "other-1": "4"}, "one-1"),
        ({"call": "Low", "one-0": "1", "other-0": "3", "stay-0": "on"}, "stay-0"),
        ({"call": "Low", "stay-1": "on"}, "one-1"),
    ],
)
def test_what_is_wrong_with_a_call_is_told_at_its_field_and_nothing_is_lost(
    two: Cast, typed: dict[str, str], field: str
) -> None:
    sent = {f"further-2-{name}": value for name, value in typed.items()}
    answer = send(two, name="Gangplank", **sent)
    assert answer.status_code == 422
    form = answer.context["form"]
    assert f"further-2-{field}" in form.errors
    assert form["name"].value() == "Gangplank"
    for name, value in sent.items():
        assert form[name].value() == (True if value == "on" else value)
    assert not drafts(two)


def test_a_fault_below_a_deleted_call_is_told_at_its_own_row(two: Cast) -> None:
    answer = send(two, **{"further-0-gone": "on", "further-1-call": "Far {7}"})
    assert list(answer.context["form"].errors) == ["further-1-call"]
