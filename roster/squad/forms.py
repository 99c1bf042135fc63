"""What the forms for rows of a team share."""

from __future__ import annotations

from typing import Any, ClassVar

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from plays.core.words.terms import QUALITIES
from roster.core.people import RATED
from roster.models import Player, Team, Unit
from shared.forms import ClearModelForm, RowsField


class TeamRowForm(ClearModelForm):
    """A form for a row of a team: the page sets the team, whose constraints are then checked."""

    def __init__(self, *args: Any, team: Team, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.instance.team = team

    def validate_unique(self) -> None:
        """Check constraints on fields that the form leaves out, too: the team is one.

        A clash is told at its field where the form has one of those that clash.
        """
        if self.errors:
            return
        for constraint in self.instance._meta.constraints:
            try:
                constraint.validate(type(self.instance), self.instance)
            except ValidationError as error:
                asked = [name for name in getattr(constraint, "fields", ()) if name in self.fields]
                self.add_error(asked[0] if len(asked) == 1 else None, error)


RATING_LABELS = {quality.value: _(QUALITIES[quality]) for quality in RATED}


class TeamForm(ClearModelForm):
    class Meta:
        model = Team
        fields = (
            *("name", "season", "season_ends", "age_group", "rule_set"),
            *("language", "wording"),
        )
        help_texts: ClassVar[dict[str, Any]] = {
            "season_ends": _("Personal links end with it; without it, after 300 days."),
            "wording": _("Plain words say “the middle of the free-throw line” for “the nail”."),
        }


class PlayerForm(TeamRowForm):
    """One player of a team."""

    class Meta:
        model = Player
        fields = (
            *("name", "number", "height_cm", "positions", "availability"),
            *(quality.value for quality in RATED),
        )
        labels: ClassVar[dict[str, Any]] = RATING_LABELS
        help_texts: ClassVar[dict[str, Any]] = {
            "name": _("A name or nickname is enough."),
            "positions": _("Such as 1 or 2,3."),
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for quality in RATED:
            self.fields[quality.value].widget = forms.Select(
                choices=[("", _("not rated"))] + [(n, str(n)) for n in range(1, 6)]
            )

    def ratings(self) -> list[forms.BoundField]:
        """The seven rating fields, for the template."""
        return [self[quality.value] for quality in RATED]

    def says_ratings(self) -> bool:
        """Whether there is a rating, or something wrong with one: nothing of it stays folded."""
        return any(bound.value() or bound.errors for bound in self.ratings())

    def clean_positions(self) -> str:
        return str(self.cleaned_data["positions"]).replace(" ", "")


class UnitForm(TeamRowForm):
    class Meta:
        model = Unit
        fields = ("name", "members")
        labels: ClassVar[dict[str, Any]] = {"name": _("Name"), "members": _("Players")}
        field_classes: ClassVar[dict[str, Any]] = {"members": RowsField}
        widgets: ClassVar[dict[str, Any]] = {"members": forms.CheckboxSelectMultiple}

    def __init__(self, *args: Any, team: Team, **kwargs: Any) -> None:
        super().__init__(*args, team=team, **kwargs)
        members = self.fields["members"]
        assert isinstance(members, forms.ModelMultipleChoiceField)
        members.queryset = team.players.present()
        members.help_text = _("Five players.")

    def clean_name(self) -> str:
        """Each play's own first and second five have these names on the log's buttons already."""
        name = str(self.cleaned_data["name"])
        if "name" in self.changed_data and name.casefold() in {
            _("First five").casefold(),
            _("Second five").casefold(),
        }:
            raise forms.ValidationError(
                _("%(name)s is what each play's own cast is called. Choose another name."),
                params={"name": name},
            )
        return name

    def clean_members(self) -> Any:
        members = self.cleaned_data["members"]
        if len(members) != 5:
            raise forms.ValidationError(
                _("A unit is five players; %(n)d are ticked."), params={"n": len(members)}
            )
        return members
