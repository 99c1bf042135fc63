"""What the margin of a look is made of, in sentences that a coach can add up."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from plays.core.defence.verdict import Verdict
from plays.core.play import Role
from shared.core.language import N_, Language

NOBODY: Final = 5.0  # seconds of margin from which on nobody is said to come too late

NONE_NEAR: Final = N_("No defender can be there.")
AS_THE_TABLE: Final = N_("With every number as the table has it:")
FLIES: Final = N_("Thrown at {turn} s, the ball is {where} after {flight} s.")
AT_CATCH: Final = N_("at the catch")
ON_ITS_WAY: Final = N_("{metres} m on its way")
IN_THE_WAY: Final = N_("The body of the defender of {who} is in its way.")
AWAY: Final = N_(
    "The defender of {who} is {metres} m from there; an arm and a step reach {reach} m."
)
RUNS: Final = N_("Reacting takes {reaction} s, the run {run} s.")
HELD_UP: Final = N_("Until then {who} has held that defender up for {seconds} s.")
MARGIN: Final = N_("{margin} s of margin")


def parts_of(verdict: Verdict, names: Mapping[Role, str], language: Language) -> Iterator[str]:
    """What the margin is made of; the last sentence is the sum itself."""
    parts, say = verdict.parts, language.say
    if verdict.margin > NOBODY:
        yield say(NONE_NEAR)
        return

    def figure(value: float, digits: int = 2) -> str:
        return language.number(value, digits, fixed=True).replace("-", "−")

    yield say(AS_THE_TABLE)
    where = say(AT_CATCH) if parts.at_catch else say(ON_ITS_WAY, metres=figure(parts.along, 1))
    yield say(FLIES, turn=figure(verdict.turn, 1), where=where, flight=figure(parts.flight))
    stopper = names.get(parts.stopper) or parts.stopper
    if parts.reaction + parts.run <= 0.0:
        yield say(IN_THE_WAY, who=stopper)
        return
    yield say(AWAY, who=stopper, metres=figure(parts.metres, 1), reach=figure(parts.reach, 1))
    yield say(RUNS, reaction=figure(parts.reaction), run=figure(parts.run))
    for held in verdict.held:
        who = names.get(held.screener) or held.screener
        yield say(HELD_UP, who=who, seconds=figure(held.seconds))
    total = say(MARGIN, margin=figure(verdict.margin))
    yield f"{figure(parts.reaction)} + {figure(parts.run)} − {figure(parts.flight)} = {total}"
