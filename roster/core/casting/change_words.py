"""A suggested change of a cast in a sentence, with how well each fits."""

from __future__ import annotations

from typing import Final

from plays.core.play import ROLES
from roster.core.cast import PlayerId
from roster.core.casting.changes import CastChange
from roster.core.casting.question import CastingQuestion
from roster.core.names import Names
from shared.core.language import N_

INSTEAD: Final = N_(
    "{after} instead of {before} at depth {depth} of role {role} in {play}: "
    "fit {fit_after} against {fit_before}."
)
FILLED: Final = N_(
    "{after} at depth {depth} of role {role} in {play}, where nobody is: fit {fit_after}."
)
EMPTIED: Final = N_("Nobody instead of {before} at depth {depth} of role {role} in {play}.")
UNKNOWN_FIT: Final = "–"


def change_in_words(change: CastChange, question: CastingQuestion, names: Names) -> str:
    """One sentence; fit is said as a whole number of 100."""
    template = FILLED if change.before is None else EMPTIED if change.after is None else INSTEAD
    return names.language.say(
        template,
        before="" if change.before is None else names.player(change.before),
        after="" if change.after is None else names.player(change.after),
        depth=change.slot.depth,
        role=change.slot.role,
        play=names.play(change.slot.play),
        fit_before=_fit(change, change.before, question),
        fit_after=_fit(change, change.after, question),
    )


def _fit(change: CastChange, player: PlayerId | None, question: CastingQuestion) -> str:
    row = None if player is None else question.player_index.get(player)
    column = question.play_index.get(change.slot.play)
    if row is None or column is None:
        return UNKNOWN_FIT
    return str(round(100 * question.fits[row, column, ROLES.index(change.slot.role)]))
