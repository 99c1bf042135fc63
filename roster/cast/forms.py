"""The form of a cast: five roles by three depths."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext as _t
from django.utils.translation import gettext_lazy as _

from plays.core.play import ROLES, Role
from roster.core.cast import DEPTHS
from roster.models import PackagePlay, Player
from shared.core.numbers import whole_number
from shared.forms import ClearForm

DEPTH_NAMES = {1: _("First"), 2: _("Second"), 3: _("Third")}


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

    def rows(self) -> list[tuple[Role, list[forms.BoundField], list[str]]]:
        """By role its fields, by depth, and who stands behind the first: what a phone folds."""
        fields = [(role, [self[field_name(role, depth)] for depth in DEPTHS]) for role in ROLES]
        return [(role, bound, self._named(bound[1:])) for role, bound in fields]

    def _named(self, fields: list[forms.BoundField]) -> list[str]:
        chosen = (whole_number(str(bound.value() or "")) for bound in fields)
        return [str(self.people[pk]) for pk in chosen if pk in self.people]

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
