"""What "4's second screen" means: the actions of a play by the way in which lines name them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from plays.core.play import ROLES, ActionKind, Cue, Moment, Role
from plays.core.shorthand.clauses import CueDraft
from plays.core.shorthand.naming import LEAVERS, Reference
from plays.core.shorthand.texts import LineError
from plays.core.shorthand.vocabulary import KINDS, NOUNS, RUNS_SAID, ordinal_number
from shared.core.language import N_

NO_REFERENCE: Final = N_("“{text}” is no action. Name it as in “4's screen” or “4's second cut”.")
NOT_DONE: Final = N_("The {role} has no such {noun}.")
WHICH: Final = N_("The {role} does that {count} times. Say which, as in “{role}'s second {noun}”.")
NO_PASS_TO: Final = N_("No written pass or hand-off goes to the {role}.")
PASSES_TO: Final = N_(
    "The {role} gets the ball {count} times. Name the pass, as in “1's second pass is caught”."
)
ANY_ACTION: Final = "action"  # of whatever kind, as they stand in the text
_REFERENCE: Final = re.compile(r"([1-5])(?:'s|’s) (?:([a-z0-9]+) )??(new )?([a-z-]+)")


@dataclass(frozen=True, slots=True)
class Named:
    """How a line names an action: whose, of which kind, which of several, if a counter's own."""

    role: str
    kind: ActionKind | None
    number: int | None
    new: bool

    @property
    def noun(self) -> str:
        return ANY_ACTION if self.kind is None else NOUNS[self.kind]

    def fits(self, action: Reference) -> bool:
        kind = self.kind is None or (action.kind is self.kind and action.of_counter is self.new)
        return action.role == self.role and kind


def naming_of(text: str, only: ActionKind | None = None) -> Named:
    """What "4's second screen" names, or a bare "4". Raises LineError."""
    if text in ROLES:
        return Named(text, only, None, new=False)
    found = _REFERENCE.fullmatch(text)
    number = ordinal_number(found[2]) if found and found[2] else None
    kinds = {**dict.fromkeys(RUNS_SAID, ActionKind.CUT), **KINDS}
    known = found is not None and found[4] in (*kinds, ANY_ACTION)
    if found is None or not known or (found[2] and number is None):
        raise LineError(NO_REFERENCE, text=text)
    return Named(found[1], kinds.get(found[4]), number, bool(found[3]))


def cue_of(draft: CueDraft, known: Mapping[Reference, str], passes: Mapping[str, Role]) -> Cue:
    """The cue that a line says, among the actions that are known; ``passes`` are those with the
    ball, by their ids to whom. Raises LineError."""
    only = ActionKind.SCREEN if draft.on is Moment.SET else None
    if draft.catches is not None:
        return Cue(draft.on, pass_to(draft.catches, passes), wait=draft.wait)
    if draft.of is None:
        return Cue(draft.on, None, draft.point, draft.wait)
    if draft.on is Moment.HAS_LEFT:
        return Cue(draft.on, referred_mover(draft.of, known), wait=draft.wait)
    if draft.on is Moment.START:
        return Cue(draft.on, referred_start(draft.of, known), wait=draft.wait)
    return Cue(draft.on, referred(draft.of, known, only), draft.point, draft.wait)


def referred_mover(text: str, known: Mapping[Reference, str]) -> str:
    """Like ``referred``, but a bare "4" is the first thing for which the 4 leaves its place."""
    for reference, id_ in known.items():
        if text == reference.role and reference.kind in LEAVERS:
            return id_
    return referred(text, known)


def referred_start(text: str, known: Mapping[Reference, str]) -> str:
    """Like ``referred``, but a bare "4" is the one thing for which the 4 moves, if it is one."""
    moves = [id_ for each, id_ in known.items() if text == each.role and each.kind in LEAVERS]
    return moves[0] if len(moves) == 1 else referred(text, known)


def pass_to(role: Role, passes: Mapping[str, Role]) -> str:
    """The id of the one pass or hand-off that goes to a role. Raises LineError."""
    found = [id_ for id_, to in passes.items() if to == role]
    if len(found) > 1:
        raise LineError(PASSES_TO, role=role, count=len(found))
    if not found:
        raise LineError(NO_PASS_TO, role=role)
    return found[0]


def referred(text: str, known: Mapping[Reference, str], only: ActionKind | None = None) -> str:
    """The id of the action that a text names; ``only`` of one kind. Raises LineError."""
    named = naming_of(text, only)
    alike = [each for each in known if named.fits(each)]
    if named.number is None and len(alike) > 1:
        raise LineError(WHICH, role=named.role, count=len(alike), noun=named.noun)
    if not 1 <= (named.number or 1) <= len(alike):
        raise LineError(NOT_DONE, role=named.role, noun=named.noun)
    return known[alike[(named.number or 1) - 1]]
