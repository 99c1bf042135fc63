"""Finding plays: the filters of the library page."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django import forms
from django.db.models import QuerySet
from django.utils.translation import gettext_lazy as _

from plays.models import AgeGroup, Formation, Play, PlayQuerySet, Situation
from plays.search import folded
from shared.forms import ClearForm
from shared.models import User

ANY = [("", _("any"))]
SHELVES = [("", _("in use")), ("drafts", _("with a draft")), ("away", _("put away"))]


class BrowseForm(ClearForm):
    """Every field is optional; what cannot be read is left out rather than refused."""

    text = forms.CharField(label=_("Words"), required=False)
    situation = forms.ChoiceField(
        label=_("Situation"), required=False, choices=[*ANY, *Situation.choices]
    )
    formation = forms.ChoiceField(
        label=_("Formation"), required=False, choices=[*ANY, *Formation.choices]
    )
    series = forms.ChoiceField(label=_("Series"), required=False)
    level = forms.ChoiceField(label=_("Suits"), required=False, choices=[*ANY, *AgeGroup.choices])
    shelf = forms.ChoiceField(label=_("Shelf"), required=False, choices=SHELVES)

    def __init__(self, *args: Any, user: User, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.user = user
        names = Play.objects.exclude(series="").order_by("series").values_list("series", flat=True)
        series = self.fields["series"]
        assert isinstance(series, forms.ChoiceField)
        series.choices = [*ANY, *((name, name) for name in names.distinct())]
        self.fields["text"].widget.attrs["type"] = "search"
        if not user.may_edit_library:
            del self.fields["shelf"]

    def wanted(self) -> dict[str, str]:
        """What is asked for, by field, without what cannot be read."""
        self.is_valid()
        return {name: value for name, value in self.cleaned_data.items() if value}


def found_plays(form: BrowseForm) -> QuerySet[Play]:
    """The plays that pass every filter given, by name, without their documents."""
    wanted = form.wanted()
    plays = _on_shelf(wanted.get("shelf", ""), form.user).with_current().order_by("name", "pk")
    for name in ("situation", "formation", "series"):
        if name in wanted:
            plays = plays.filter(**{name: wanted[name]})
    if "level" in wanted:
        plays = plays.filter(level__in=levels_up_to(wanted["level"]))
    for word in folded(wanted.get("text", "")[:100]).split():
        plays = plays.filter(search__contains=word)
    return plays


def _on_shelf(shelf: str, user: User) -> PlayQuerySet:
    """Plays in use, for keepers with those that are only drafts; or what they ask to see."""
    plays = Play.objects.filter(put_away=shelf == "away")
    if not user.may_edit_library:
        return plays.filter(current__isnull=False)
    if shelf == "drafts":
        return plays.filter(revisions__published_at=None)
    return plays


def levels_up_to(level: str) -> list[str]:
    """A group can run what is meant for itself and for younger groups."""
    order = list(AgeGroup.values)
    return order[: order.index(level) + 1]


def by_situation(plays: Iterable[Play]) -> list[Play]:
    """The plays in the order of the situations, within each in the order given."""
    order = list(Situation.values)
    return sorted(plays, key=lambda play: order.index(play.situation))
