"""Forms for practices, games, blocks and reps."""

from __future__ import annotations

import uuid
from typing import Any, ClassVar

from django import forms
from django.conf import settings
from django.utils.dates import WEEKDAYS
from django.utils.translation import get_language
from django.utils.translation import gettext_lazy as _

from plays.core.play import ROLES, Role
from practice.core.finding import Finding, errors
from practice.core.readiness.assumptions import ORIGINS, Assumptions, check_assumptions
from practice.core.readiness.assumptions import from_json as assumptions_from
from practice.core.reps.rep import Mode, Rep, Slip
from practice.models import Absence, Block, Game, ModeChoice, Practice, SlipChoice
from practice.plan.changes import sources
from roster.models import PackagePlay, Player, Team
from roster.squad.forms import TeamRowForm
from shared.core.language import Language, language
from shared.forms import ClearForm, ClearModelForm

PRACTICE_MODES = [choice for choice in ModeChoice.choices if choice[0] != Mode.GAME.value]


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
            "hall_until": _("With this the plan is held against the booking."),
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
        widgets: ClassVar[dict[str, Any]] = {"date": day_field(), "start": time_field()}


class EntryField(forms.ModelChoiceField):  # type: ignore[type-arg]
    """A play of the package, by its call with names."""

    def label_from_instance(self, obj: PackagePlay) -> str:
        return obj.spoken()


class BlockForm(ClearModelForm):
    class Meta:
        model = Block
        field_classes = {"entry": EntryField}
        fields = (
            *("kind", "minutes", "title", "entry", "mode", "unit"),
            *("contact", "equipment", "notes"),
        )
        labels: ClassVar[dict[str, Any]] = {"entry": _("Play"), "unit": _("Unit")}

    def __init__(self, *args: Any, team: Team, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        entry, unit, mode = (self.fields[name] for name in ("entry", "unit", "mode"))
        assert isinstance(entry, forms.ModelChoiceField)
        assert isinstance(unit, forms.ModelChoiceField)
        assert isinstance(mode, forms.ChoiceField)
        entry.queryset = team.package.all().carried().with_cast()
        unit.queryset = team.units.all()
        entry.empty_label = unit.empty_label = "–"
        mode.choices = [("", "–"), *PRACTICE_MODES]


class RepForm(ClearForm):
    """One run of a play: which, how, who in which role, and how it went.

    ``id`` is made with the form, so that sending it twice is one rep.
    """

    id = forms.UUIDField(widget=forms.HiddenInput)
    mode = forms.ChoiceField(label=_("Mode"), choices=PRACTICE_MODES)
    erred = forms.ChoiceField(
        label=_("Who erred"), choices=[("", "–"), *((r, r) for r in ROLES)], required=False
    )
    slip = forms.ChoiceField(
        label=_("What"), choices=[("", "–"), *SlipChoice.choices], required=False
    )

    def __init__(self, *args: Any, squad: list[Player], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["id"].initial = uuid.uuid4
        choices = [("", "–"), *((str(player.pk), str(player)) for player in squad)]
        for role in ROLES:
            self.fields[f"role-{role}"] = forms.ChoiceField(
                choices=choices, required=False, label=_("Role %(role)s") % {"role": role}
            )

    def roles(self) -> list[forms.BoundField]:
        return [self[f"role-{role}"] for role in ROLES]

    def cast(self) -> tuple[tuple[Role, int], ...]:
        chosen = [(role, self.cleaned_data.get(f"role-{role}")) for role in ROLES]
        return tuple((role, int(player)) for role, player in chosen if player)

    def rep(self, practice: Practice, entry: PackagePlay, at: Any, *, clean: bool) -> Rep:
        """The rep as a value, for its check."""
        data = self.cleaned_data
        return Rep(
            id=str(data["id"]),
            practice=practice.pk,
            play=entry.pk,
            mode=Mode(data["mode"]),
            at=at,
            cast=self.cast(),
            clean=clean,
            erred=None if clean else data["erred"] or None,
            slip=Slip(data["slip"]) if data["slip"] and not clean else None,
            revision=entry.revision_id,
        )

    def show(self, place: str, sentence: str) -> None:
        """Put a finding at the field that it speaks of."""
        parts = place.strip("/").split("/")
        name = f"role-{parts[1]}" if parts[0] == "cast" and len(parts) > 1 else parts[0]
        self.add_error(name if name in self.fields else None, sentence)


class TapFileForm(ClearForm):
    """The reps that a phone handed over."""

    file = forms.FileField(
        label=_("File of waiting reps"),
        widget=forms.ClearableFileInput(attrs={"accept": ".json,application/json"}),
    )

    def clean_file(self) -> Any:
        file = self.cleaned_data["file"]
        if file.size > settings.MAX_UPLOAD:
            raise forms.ValidationError(_("This file is too large to be waiting reps."))
        return file


class BeginFromForm(ClearForm):
    """Where a plan begins from: a template, a pattern, the plan of another practice."""

    source = forms.ChoiceField(label=_("Take the blocks of"))
    fit = forms.BooleanField(
        label=_("Fit them into what the hall booking leaves"), required=False, initial=True
    )

    def __init__(self, *args: Any, practice: Practice, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        field = self.fields["source"]
        assert isinstance(field, forms.ChoiceField)
        field.choices = [("", "–"), *sources(practice)]


class PatternForm(ClearForm):
    name = forms.CharField(label=_("Keep this plan as a pattern named"), max_length=60)


class SeriesForm(ClearForm):
    """A rule by which practices repeat."""

    first = forms.DateField(label=_("First day"), widget=day_field())
    last = forms.DateField(label=_("Last day"), widget=day_field())
    start = forms.TimeField(label=_("Start"), widget=time_field())
    minutes = forms.IntegerField(
        label=_("Minutes in the hall"), initial=90, min_value=1, max_value=600
    )
    every = forms.IntegerField(label=_("Every so many weeks"), initial=1, min_value=1, max_value=8)
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


class AssumptionsForm(ClearForm):
    """The parameters of readiness, a number each."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        speech = language(get_language() or "en")
        for name, origin in ORIGINS.items():
            self.fields[name] = forms.FloatField(
                label=speech.say(origin.says),
                widget=forms.NumberInput(
                    attrs={"step": "any", "min": origin.low, "max": origin.high}
                ),
            )

    def assumptions(self, speech: Language) -> tuple[Assumptions | None, tuple[Finding, ...]]:
        """The parameters, None where one is out of its range; and what is wrong."""
        made = assumptions_from(self.cleaned_data)
        stopping = errors(check_assumptions(made, speech))
        return (None if stopping else made), stopping
