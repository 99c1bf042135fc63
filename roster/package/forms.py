"""Forms for the package and the cast."""

from __future__ import annotations

from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext as _t
from django.utils.translation import gettext_lazy as _

from plays.core.play import ROLES, Role
from roster.core.cast import DEPTHS
from roster.models import PackagePlay, Player, Unit
from shared.forms import ClearForm, ClearModelForm

DEPTH_NAMES = {1: _("First"), 2: _("Second"), 3: _("Third")}


class EntryForm(ClearModelForm):
    """How a team calls, shows and ranks a play that it carries."""

    class Meta:
        model = PackagePlay
        fields = ("call", "signal", "priority", "ready_by", "setup_minutes", "unit")
        widgets: ClassVar[dict[str, Any]] = {
            "ready_by": forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
        }
        help_texts = {
            "call": _("What you shout. {5} is filled with the name of the player in role 5."),
            "signal": _("What you show, such as “fist over head”."),
            "ready_by": _("For the install plan; left out, the next game."),
            "setup_minutes": _("In each practice, before its first rep; left out, one and a half."),
            "unit": _("The five that should run it first, for a proposed cast."),
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        unit = self.fields["unit"]
        assert isinstance(unit, forms.ModelChoiceField)
        unit.queryset = Unit.objects.filter(team=self.instance.team_id)
        unit.empty_label = _t("no unit in particular")

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


class CastForm(ClearForm):
    """Five roles by three depths of one play."""

    version = forms.IntegerField(widget=forms.HiddenInput)

    def __init__(self, *args: Any, entry: PackagePlay, squad: list[Player], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.entry = entry
        self.people = {player.pk: player for player in squad}
        choices = [("", "–"), *((str(player.pk), str(player)) for player in squad)]
        for role in ROLES:
            for depth in DEPTHS:
                label = _t("Role %(role)s, %(depth)s") % {"role": role, "depth": DEPTH_NAMES[depth]}
                self.fields[field_name(role, depth)] = forms.ChoiceField(
                    choices=choices, required=False, label=label
                )

    def rows(self) -> list[tuple[Role, list[forms.BoundField]]]:
        """The fields as the grid shows them: by role, then by depth."""
        return [(role, [self[field_name(role, depth)] for depth in DEPTHS]) for role in ROLES]

    def filled(self) -> dict[tuple[Role, int], Player]:
        """Who stands in which role at which depth."""
        chosen = {
            (role, depth): self.cleaned_data.get(field_name(role, depth))
            for role in ROLES
            for depth in DEPTHS
        }
        return {slot: self.people[int(pk)] for slot, pk in chosen.items() if pk}

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        seen: dict[tuple[int, int], Role] = {}
        for (role, depth), player in self.filled().items():
            earlier = seen.setdefault((player.pk, depth), role)
            if earlier != role:
                self.add_error(
                    field_name(role, depth),
                    _t("%(name)s is %(depth)s in role %(role)s already.")
                    % {"name": player, "depth": str(DEPTH_NAMES[depth]).lower(), "role": earlier},
                )
        return cleaned


def field_name(role: Role, depth: int) -> str:
    return f"role-{role}-{depth}"
