"""Forms for practices, games, series and absences."""

from __future__ import annotations

from typing import Any, ClassVar

from django import forms
from django.utils.dates import WEEKDAYS
from django.utils.translation import gettext_lazy as _

from practice.models import Absence, DaysOff, Game, Practice
from roster.models import Team
from roster.squad.forms import TeamRowForm
from shared.fields import SeasonDateField
from shared.forms import ClearForm, ClearModelForm


def day_field() -> forms.DateInput:
    return forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")


def time_field() -> forms.TimeInput:
    return forms.TimeInput(attrs={"type": "time"}, format="%H:%M")


class PracticeForm(TeamRowForm):
    class Meta:
        model = Practice
        fields = ("date", "start", "place", "hall_from", "hall_until", "install_minutes", "notes")
        widgets: ClassVar[dict[str, Any]] = {
            "date": day_field(),
            "start": time_field(),
            "hall_from": time_field(),
            "hall_until": time_field(),
            "notes": forms.Textarea(attrs={"rows": 3}),
        }
        help_texts: ClassVar[dict[str, Any]] = {
            "hall_until": _("The plan is compared with the booking."),
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if self.instance.series_id:
            self.fields["following"] = forms.BooleanField(
                required=False, label=_("Change all the following ones as well")
            )

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        start, until = cleaned.get("start"), cleaned.get("hall_until")
        opens = cleaned.get("hall_from")
        if until and start and until <= start:
            self.add_error("hall_until", _("The booking ends before the practice starts."))
        if opens and start and start < opens:
            self.add_error("start", _("The practice starts before the hall is booked."))
        return cleaned


class GameForm(TeamRowForm):
    class Meta:
        model = Game
        fields = ("date", "start", "opponent", "place", "cancelled")
        labels: ClassVar[dict[str, Any]] = {"cancelled": _("Cancelled")}
        widgets: ClassVar[dict[str, Any]] = {"date": day_field(), "start": time_field()}


class SeriesForm(ClearForm):
    """A rule by which practices repeat."""

    first = SeasonDateField(label=_("First day"), widget=day_field())
    last = SeasonDateField(label=_("Last day"), widget=day_field())
    start = forms.TimeField(label=_("Start"), widget=time_field())
    minutes = forms.IntegerField(
        label=_("Minutes in the hall"), initial=90, min_value=1, max_value=600
    )
    every = forms.IntegerField(
        label=_("Repeat after how many weeks"), initial=1, min_value=1, max_value=8
    )
    place = forms.CharField(label=_("Place"), required=False, max_length=80)
    weekdays = forms.MultipleChoiceField(
        label=_("Weekdays"),
        widget=forms.CheckboxSelectMultiple,
        choices=list(WEEKDAYS.items()),
    )


class AbsenceForm(ClearModelForm):
    """Who is away, from when until when; the reason is nobody's business here."""

    class Meta:
        model = Absence
        fields = ("player", "first", "last")
        labels: ClassVar[dict[str, Any]] = {"player": _("Who")}
        widgets: ClassVar[dict[str, Any]] = {"first": day_field(), "last": day_field()}

    def __init__(self, *args: Any, team: Team, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        field = self.fields["player"]
        assert isinstance(field, forms.ModelChoiceField)
        field.queryset = team.players.present()
        field.empty_label = "–"


class DaysOffForm(TeamRowForm):
    """When the team does not practise, and what becomes of practices that stand there already."""

    cancel = forms.BooleanField(
        required=False,
        initial=True,
        label=_("Cancel the practices that are planned for these days"),
    )

    class Meta:
        model = DaysOff
        fields = ("name", "first", "last")
        widgets: ClassVar[dict[str, Any]] = {"first": day_field(), "last": day_field()}
        help_texts: ClassVar[dict[str, Any]] = {"name": _("Such as: winter holidays.")}
