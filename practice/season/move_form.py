"""The form that moves one player: to which team, with which number, and whether they stay too."""

from __future__ import annotations

from typing import Any

from django import forms
from django.db.models import QuerySet
from django.utils.translation import gettext_lazy as _

from roster.access import may_coach, teams_for
from roster.models import Player, Team
from roster.squad.forms import TeamRowForm
from shared.models import User


def teams_to_move_to(user: User, player: Player) -> QuerySet[Team]:
    """The other teams that the user may change."""
    others = teams_for(user).filter(archived_on=None).exclude(pk=player.team_id)
    return Team.objects.filter(pk__in=[team.pk for team in others if may_coach(user, team)])


class MovePlayerForm(TeamRowForm):
    team: forms.ModelChoiceField[Team] = forms.ModelChoiceField(
        queryset=None, label=_("To which team")
    )
    stays = forms.BooleanField(
        required=False,
        label=_("Stays in the old team as well"),
        help_text=_("Somebody who plays for two teams, or goes on from a season that is put away."),
    )

    class Meta:
        model = Player
        fields = ("number",)

    def __init__(
        self, *args: Any, player: Player, teams: QuerySet[Team], may_leave: bool, **kwargs: Any
    ) -> None:
        initial = {"number": player.number, "stays": not may_leave}
        super().__init__(*args, team=player.team, initial=initial, **kwargs)
        team, stays = self.fields["team"], self.fields["stays"]
        assert isinstance(team, forms.ModelChoiceField)
        team.queryset = teams
        self.order_fields(("team", "number", "stays"))
        stays.disabled = not may_leave

    def validate_unique(self) -> None:
        """The number has to be free in the team that is chosen."""
        team, number = self.cleaned_data.get("team"), self.cleaned_data.get("number")
        if team and team.players.present().filter(number=number).exists():
            self.add_error("number", _("Another player of this team wears that number."))
