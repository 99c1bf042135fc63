"""Forms of the squad: a clash is told at the field that clashes."""

from __future__ import annotations

from practice.dates.forms import PracticeForm
from roster.models import Availability
from roster.squad.forms import PlayerForm, UnitForm
from tests.cast import Cast


def test_a_taken_shirt_number_is_told_at_the_number(cast: Cast) -> None:
    taken = cast.players[0].number
    form = PlayerForm(
        {"name": "Wilma", "number": taken, "availability": Availability.AVAILABLE}, team=cast.team
    )
    assert form.errors["number"] == ["Another player of this team wears that number."]
    assert "__all__" not in form.errors


def test_a_taken_unit_name_is_told_at_the_name(cast: Cast) -> None:
    members = [player.pk for player in cast.players[:5]]
    form = UnitForm({"name": cast.unit.name, "members": members}, team=cast.team)
    assert "name" in form.errors


def test_a_clash_of_two_fields_is_told_above_the_form(cast: Cast) -> None:
    """Neither the day nor the hour of a practice is wrong alone."""
    there = cast.practice
    asked = {"date": there.date, "start": there.start, "install_minutes": 20}
    form = PracticeForm(asked, team=cast.team)
    assert form.errors["__all__"] == ["There is a practice at that time already."]
