"""The forms of a season's end and of the next one's beginning."""

from __future__ import annotations

from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from practice.core.dates.season import next_season
from practice.season.copies import TakenAlong, a_year_on
from roster.models import Team
from shared.forms import ClearForm, ClearModelForm, RowsField


class NextSeasonForm(ClearModelForm):
    """The new team, who is in it, and what it begins with."""

    players = RowsField(
        queryset=None, required=False, widget=forms.CheckboxSelectMultiple, label=_("Who goes on")
    )
    package = forms.BooleanField(
        required=False, initial=True, label=_("Plays, with their calls and signals")
    )
    cast = forms.BooleanField(
        required=False, initial=True, label=_("The cast, with its locks and wishes")
    )
    units = forms.BooleanField(required=False, initial=True, label=_("Units that stay whole"))
    patterns = forms.BooleanField(
        required=False, initial=True, label=_("Patterns of practices, and drills")
    )
    staff = forms.BooleanField(required=False, initial=True, label=_("The staff"))
    put_away = forms.BooleanField(
        required=False,
        initial=True,
        label=_("Put the old season away"),
        help_text=_("It stays for reading. Its personal links open no more."),
    )

    class Meta:
        model = Team
        fields = ("name", "season", "season_ends", "age_group")

    def __init__(self, *args: Any, old: Team, **kwargs: Any) -> None:
        self.old = old
        initial = {
            "name": old.name,
            "season": next_season(old.season),
            "season_ends": a_year_on(old.season_ends),
            "age_group": old.age_group,
            "players": list(old.players.present()),
        }
        super().__init__(*args, initial=initial, **kwargs)
        players = self.fields["players"]
        assert isinstance(players, forms.ModelMultipleChoiceField)
        players.queryset = old.players.present()

    def clean_season(self) -> str:
        season = str(self.cleaned_data["season"])
        if season.casefold() == self.old.season.casefold():
            raise ValidationError(_("That is the season that ends."))
        return season

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        name, season = cleaned.get("name"), cleaned.get("season")
        if name and season and Team.objects.filter(name=name, season=season).exists():
            self.add_error("season", _("There is a team of that name and season already."))
        return cleaned

    def team(self) -> Team:
        """The new team, not saved yet: what the form does not ask is as it was."""
        new: Team = self.instance
        for field in Team._meta.concrete_fields:
            if field.name not in {"id", "archived_on", *(self._meta.fields or ())}:
                setattr(new, field.attname, getattr(self.old, field.attname))
        return new

    def along(self) -> TakenAlong:
        chosen = self.cleaned_data
        return TakenAlong(
            players=frozenset(player.pk for player in chosen["players"]),
            **{name: chosen[name] for name in ("package", "cast", "units", "patterns", "staff")},
        )

    @property
    def along_fields(self) -> list[forms.BoundField]:
        return [self[name] for name in ("package", "cast", "units", "patterns", "staff")]


class DeleteTeamForm(ClearForm):
    """The name of what is to go, typed by hand: nobody presses this by mistake."""

    typed = forms.CharField(max_length=90, label=_("Team and season, to be sure"))

    def __init__(self, *args: Any, team: Team, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.team = team
        self.fields["typed"].help_text = _("Type: %(name)s") % {"name": team}

    def clean_typed(self) -> str:
        typed = " ".join(str(self.cleaned_data["typed"]).split())
        if typed.casefold() != str(self.team).casefold():
            raise ValidationError(_("That is not what stands above. Nothing is deleted."))
        return typed
