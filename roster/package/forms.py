"""The form of a play in the package."""

from __future__ import annotations

from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext as _t
from django.utils.translation import gettext_lazy as _

from roster.models import PackagePlay, Unit
from shared.forms import ClearModelForm


class EntryForm(ClearModelForm):
    """How a team calls, shows and ranks a play that it carries."""

    class Meta:
        model = PackagePlay
        fields = ("call", "signal", "priority", "ready_by", "setup_minutes", "unit")
        widgets: ClassVar[dict[str, Any]] = {
            "ready_by": forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
        }
        labels: ClassVar[dict[str, Any]] = {"unit": _("Unit")}
        help_texts = {
            "call": _("What you shout. {5} is filled with the name of the player in role 5."),
            "signal": _("What you show, such as “fist over head”."),
            "ready_by": _("For the install plan. Empty: the next game."),
            "setup_minutes": _("In each practice, before its first rep. Empty: one and a half."),
            "unit": _("The five that should run it first, for a proposed cast."),
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        unit = self.fields["unit"]
        assert isinstance(unit, forms.ModelChoiceField)
        unit.queryset = Unit.objects.filter(team=self.instance.team_id)
        unit.empty_label = _t("no unit in particular")
        if not unit.queryset.exists():
            del self.fields["unit"]  # who has none is not asked for one

    def clean_call(self) -> str:
        call = " ".join(str(self.cleaned_data["call"]).split())
        others = PackagePlay.objects.carried().filter(team=self.instance.team_id)
        same = others.exclude(pk=self.instance.pk).filter(call__iexact=call).first()
        if same is not None:
            raise forms.ValidationError(
                _t("%(play)s is called that already: two plays need two calls."),
                params={"play": same.play.name},
            )
        return call
