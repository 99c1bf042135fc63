"""Forms for the blocks of a plan, and where a plan begins from."""

from __future__ import annotations

from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext_lazy as _

from practice.models import PRACTICE_MODES, Block, Practice
from practice.plan.changes import sources
from roster.models import PackagePlay, Team
from shared.forms import ClearForm, ClearModelForm


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
