"""Forms for what a coach wants of the cast: locks, bans, minutes, who is kept apart."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, ClassVar

from django import forms
from django.utils.functional import Promise
from django.utils.translation import gettext as _t
from django.utils.translation import gettext_lazy as _

from plays.core.play import ROLES
from roster.cast.forms import DEPTH_NAMES
from roster.models import CastBan, CastLock, KeptApart, PackagePlay, Player, Team
from shared.forms import CellsForm, ClearForm, ClearModelForm

ROLE_CHOICES = [(role, role) for role in ROLES]


class LockForm(ClearModelForm):
    """Keep a player in a role of a play."""

    prefix = "lock"

    class Meta:
        model = CastLock
        fields = ("player", "entry", "role", "depth")
        labels: ClassVar[dict[str, Promise]] = {
            "player": _("Player"),
            "entry": _("Play"),
            "role": _("Role"),
            "depth": _("In which place"),
        }

    def __init__(self, *args: Any, team: Team, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        _limit(self, team)
        depth = self.fields["depth"]
        assert isinstance(depth, forms.ChoiceField)
        depth.choices = [(0, _t("first, second or third")), *DEPTH_NAMES.items()]


class BanForm(ClearModelForm):
    """Never propose a player for a role; without a play, in no play; without a role, in none."""

    prefix = "ban"

    class Meta:
        model = CastBan
        fields = ("player", "entry", "role")
        labels: ClassVar[dict[str, Promise]] = {
            "player": _("Player"),
            "entry": _("Play"),
            "role": _("Role"),
        }

    def __init__(self, *args: Any, team: Team, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        _limit(self, team)
        role = self.fields["role"]
        assert isinstance(role, forms.ChoiceField)
        role.choices = [("", _t("any role")), *ROLE_CHOICES]
        entry = self.fields["entry"]
        assert isinstance(entry, forms.ModelChoiceField)
        entry.empty_label = _t("any play")


class ApartForm(ClearForm):
    """Two players who are never on the floor together."""

    prefix = "apart"
    one = forms.ModelChoiceField(Player.objects.none(), label=_("One player"))
    other = forms.ModelChoiceField(Player.objects.none(), label=_("The other"))

    def __init__(self, *args: Any, team: Team, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.team = team
        for name in ("one", "other"):
            field = self.fields[name]
            assert isinstance(field, forms.ModelChoiceField)
            field.queryset = team.players.present()

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        one, other = cleaned.get("one"), cleaned.get("other")
        if one and one == other:
            self.add_error("other", _t("Choose two different players."))
        elif one and other and self._pair().filter(team=self.team).exists():
            self.add_error("other", _t("These two are kept apart already."))
        return cleaned

    def save(self) -> KeptApart:
        low, high = self._ordered()
        return KeptApart.objects.create(team=self.team, one=low, other=high)

    def _ordered(self) -> tuple[Player, Player]:
        one, other = self.cleaned_data["one"], self.cleaned_data["other"]
        return (one, other) if one.pk < other.pk else (other, one)

    def _pair(self) -> Any:
        low, high = self._ordered()
        return KeptApart.objects.filter(one=low, other=high)


class MinutesForm(CellsForm):
    """Expected minutes of everybody; empty counts as the mean of the others."""

    def __init__(self, *args: Any, squad: Iterable[Player], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.squad = list(squad)
        for player in self.squad:
            field = forms.IntegerField(
                min_value=0,
                max_value=60,
                required=False,
                label=str(player),
                initial=player.expected_minutes,
            )
            field.widget.attrs["inputmode"] = "numeric"
            self.fields[f"minutes-{player.pk}"] = field
        self.carry_what_is_shown()

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        said = [cleaned.get(name) for name in self.fields]
        if not self.errors and any(value is not None for value in said) and not any(said):
            raise forms.ValidationError(_t("Somebody must have minutes."))
        return cleaned

    def save(self) -> list[Player]:
        """Those whose minutes have changed, saved."""
        changed = []
        for player in self.squad:
            minutes = self.cleaned_data.get(f"minutes-{player.pk}")
            if minutes != player.expected_minutes:
                player.expected_minutes = minutes
                player.save(update_fields=["expected_minutes"])
                changed.append(player)
        return changed


def _limit(form: forms.ModelForm[Any], team: Team) -> None:
    """Offer only what belongs to the team."""
    player, entry = form.fields["player"], form.fields["entry"]
    entry.label = _t("Play")
    assert isinstance(player, forms.ModelChoiceField)
    assert isinstance(entry, forms.ModelChoiceField)
    player.queryset = team.players.present()
    entry.queryset = PackagePlay.objects.carried().filter(team=team).select_related("play")
    # The call may hold a role's placeholder: a play's own name reads the same whoever is cast.
    entry.label_from_instance = lambda row: row.play.name  # type: ignore[method-assign,assignment]  # as the framework documents it
