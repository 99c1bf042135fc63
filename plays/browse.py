"""Finding plays: the filters of the library page."""

from __future__ import annotations

from django import forms
from django.db.models import QuerySet
from django.utils.translation import gettext_lazy as _

from plays.models import AgeGroup, Formation, Play, Situation
from shared.forms import ClearForm
from shared.models import User

ANY = [("", _("any"))]


class BrowseForm(ClearForm):
    """Every field is optional; what cannot be read is left out rather than refused."""

    text = forms.CharField(label=_("Words"), required=False, max_length=60)
    situation = forms.ChoiceField(
        label=_("Situation"), required=False, choices=[*ANY, *Situation.choices]
    )
    formation = forms.ChoiceField(
        label=_("Formation"), required=False, choices=[*ANY, *Formation.choices]
    )
    series = forms.ChoiceField(label=_("Series"), required=False)
    level = forms.ChoiceField(label=_("Suits"), required=False, choices=[*ANY, *AgeGroup.choices])

    def __init__(self, *args: object, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)
        names = Play.objects.exclude(series="").order_by("series").values_list("series", flat=True)
        series = self.fields["series"]
        assert isinstance(series, forms.ChoiceField)
        series.choices = [*ANY, *((name, name) for name in names.distinct())]
        self.fields["text"].widget.attrs["type"] = "search"


def found_plays(form: BrowseForm, user: User) -> QuerySet[Play]:
    """The plays that pass every filter given."""
    plays = Play.objects.filter(put_away=False).select_related("current")
    if not user.may_edit_library:
        plays = plays.filter(current__isnull=False)
    wanted = form.cleaned_data if form.is_valid() else form.cleaned_data or {}
    for name in ("situation", "formation", "series"):
        if wanted.get(name):
            plays = plays.filter(**{name: wanted[name]})
    if wanted.get("level"):
        plays = plays.filter(level__in=levels_up_to(wanted["level"]))
    for word in str(wanted.get("text") or "").casefold().split():
        plays = plays.filter(search__contains=word)
    return plays


def levels_up_to(level: str) -> list[str]:
    """A group can run what is meant for itself and for younger groups."""
    order = list(AgeGroup.values)
    return order[: order.index(level) + 1]
