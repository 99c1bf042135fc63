"""A unit is not called what each play's own cast is called: the log has a button for each."""

from __future__ import annotations

import pytest
from django.urls import reverse

from roster.models import Unit
from tests.cast import Cast


@pytest.mark.parametrize(
    ("name", "taken"), [("First five", True), ("second FIVE", True), ("First wave", False)]
)
def test_a_unit_of_a_name_that_the_log_uses_is_told_at_its_field(
    cast: Cast, name: str, taken: bool
) -> None:
    members = [who.pk for who in cast.players[:5]]
    path = reverse("new-unit", args=[cast.team.pk])
    answer = cast.client(cast.head).post(path, {"name": name, "members": members})
    assert answer.status_code == (422 if taken else 302)
    assert Unit.objects.filter(name=name).exists() is not taken
    if taken:
        assert "Choose another name." in answer.content.decode()


def test_a_unit_that_has_such_a_name_already_can_be_changed(cast: Cast) -> None:
    unit = Unit.objects.create(team=cast.team, name="First five")
    unit.members.set(cast.players[:5])
    members = [who.pk for who in cast.players[1:6]]
    path = reverse("edit-unit", args=[cast.team.pk, unit.pk])
    answer = cast.client(cast.head).post(path, {"name": "First five", "members": members})
    assert answer.status_code == 302
    assert set(unit.members.values_list("pk", flat=True)) == set(members)
