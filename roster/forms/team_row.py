"""What the forms for rows of a team share."""

from __future__ import annotations

from typing import Any

from django.core.exceptions import ValidationError

from roster.models import Team
from shared.forms import ClearModelForm


class TeamRowForm(ClearModelForm):
    """A form for a row of a team: the page sets the team, whose constraints are then checked."""

    def __init__(self, *args: Any, team: Team, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.instance.team = team

    def validate_constraints(self) -> None:
        """Check constraints on fields that the form leaves out, too: the team is one."""
        try:
            self.instance.validate_constraints()
        except ValidationError as error:
            self.add_error(None, error)
