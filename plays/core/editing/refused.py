"""Why a gesture cannot be taken into a play."""

from __future__ import annotations

from typing import Final

from shared.core.language import N_, Language

OFF_COURT: Final = N_("That place is off the court. Nothing was changed.")
GONE: Final = N_("What this step changes is not in the play any more. Nothing was changed.")
NO_BALL: Final = N_(
    "The {role} does not have the ball then. Let somebody pass to the {role} first."
)
GATE_BALL: Final = N_("The {role} has the ball. Take two others for the gate.")
NOBODY: Final = N_("Say for whom or to whom: somebody other than the {role}.")
EARLIER: Final = N_(
    "That is over before the counter begins. Begin the counter at an earlier phase."
)
DRAWN: Final = N_("Somebody does something already: move the five one by one instead.")
LAST_PHASE: Final = N_("A play needs one phase. Remove what is in it instead.")
TITLE: Final = N_("A phase needs a short name.")
NO_PLACE: Final = N_("Say where: choose a place on the court.")
COUNTER_PLACE: Final = N_(
    "A counter starts from the same places. Leave the counter to move a start."
)


class RefusedError(ValueError):
    """The command does not fit the play, which stays as it was; ``said`` puts it in words."""

    def __init__(self, template: str, role: str = "") -> None:
        super().__init__(template.format(role=role))
        self.template = template
        self.role = role

    def said(self, language: Language) -> str:
        return language.say(self.template, role=self.role)
