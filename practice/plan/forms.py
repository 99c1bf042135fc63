"""Forms for the blocks of a plan, and where a plan begins from."""

from __future__ import annotations

from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext_lazy as _

from practice.models import PRACTICE_MODES, Block, Practice, Presence
from practice.plan.changes import sources
from roster.models import PackagePlay, Player, Team
from shared.forms import CellsForm, ClearForm, ClearModelForm


class EntryField(forms.ModelChoiceField):  # type: ignore[type-arg]
    """A play of the package, by its call with names."""

    def label_from_instance(self, obj: PackagePlay) -> str:
        return obj.spoken()


class BlockForm(ClearModelForm):
    class Meta:
        model = Block
        field_classes = {"entry": EntryField}
        fields = (
            *("kind", "drill", "minutes", "title", "entry", "mode", "unit"),
            *("contact", "equipment", "notes"),
        )
        labels: ClassVar[dict[str, Any]] = {
            "entry": _("Play"),
            "unit": _("Unit"),
            "drill": _("Drill"),
        }

    def __init__(self, *args: Any, team: Team, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        entry, unit, mode = (self.fields[name] for name in ("entry", "unit", "mode"))
        drill, minutes = self.fields["drill"], self.fields["minutes"]
        assert isinstance(drill, forms.ModelChoiceField)
        drill.queryset = team.drills.without_picture()
        minutes.required = False
        assert isinstance(entry, forms.ModelChoiceField)
        assert isinstance(unit, forms.ModelChoiceField)
        assert isinstance(mode, forms.ChoiceField)
        entry.queryset = team.package.all().carried().with_cast()
        unit.queryset = team.units.all()
        entry.empty_label = unit.empty_label = "–"
        mode.choices = [("", "–"), *PRACTICE_MODES]
        if not unit.queryset.exists():
            del self.fields["unit"]  # who has none is not asked for one

    def clean(self) -> dict[str, Any]:
        """What a drill says of itself stands in for what is left blank here."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        drill = cleaned.get("drill")
        if drill is not None:
            cleaned["title"] = cleaned.get("title") or drill.name
            cleaned["equipment"] = cleaned.get("equipment") or drill.equipment
        if cleaned.get("minutes") is None and "minutes" not in self.errors:
            if drill is None:
                field = self.fields["minutes"]
                self.add_error("minutes", field.error_messages["required"])
            else:
                cleaned["minutes"] = drill.minutes
        return cleaned


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


class AttendanceForm(CellsForm):
    """Who is here: one choice for each player, present until marked otherwise."""

    def __init__(
        self, *args: Any, players: list[Player], marked: dict[int, str], **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.players = players
        for player in players:
            self.fields[f"presence-{player.pk}"] = forms.ChoiceField(
                label=str(player),
                choices=Presence.choices,
                initial=marked.get(player.pk, Presence.PRESENT.value),
                required=False,  # nothing sent for somebody: as it stands
                widget=forms.RadioSelect,
            )
        self.carry_what_is_shown()

    def lines(self) -> list[tuple[Player, forms.BoundField]]:
        return [(player, self[f"presence-{player.pk}"]) for player in self.players]

    def presences(self) -> dict[Player, str]:
        """How each was marked."""
        return {
            player: self.cleaned_data[bound.name] or bound.initial for player, bound in self.lines()
        }
