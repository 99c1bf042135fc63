"""A play moment by moment, in sentences: what the animation shows, for reading.

Seconds from the ball at disposal, by the timeline; the sentences say who begins, stands set, throws
and catches.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any, Final

from plays.core.motion.timeline import Flight, Span, Timeline
from plays.core.motion.windows import COUNT
from plays.core.play import Action, ActionKind, Cut, PassKind
from plays.core.words.speaker import Voice
from shared.core.language import N_

READY: Final = N_("The ball is at the thrower's disposal: the count begins.")
BEGIN: Final = N_("The ball is in the hands of {who}.")
SIGNAL: Final = N_("The signal.")
FIVE: Final = N_("The count of {count} is over.")
CUTS: Final = N_("{who} cuts.")
JOGS: Final = N_("{who} jogs to another place.")
SCREENS: Final = N_("{who} goes to screen.")
SCREENS_FOR: Final = N_("{who} goes to screen for {whom}.")
IS_SET: Final = N_("{who} is set.")
DRIBBLES: Final = N_("{who} dribbles.")
SHOOTS: Final = N_("{who} goes up to shoot.")
THROWS: Final = N_("{who} throws to {whom}.")
THROWS_LOB: Final = N_("{who} throws a lob to {whom}.")
CATCHES: Final = N_("{who} has the ball.")
SPECIAL: Final = {
    Cut.POP: N_("{who} pops out."),
    Cut.ROLL: N_("{who} rolls."),
    Cut.SLIP: N_("{who} slips."),
    Cut.CURL: N_("{who} curls."),
    Cut.FADE: N_("{who} fades."),
    Cut.SEAL: N_("{who} seals."),
    Cut.POST_UP: N_("{who} posts up."),
    Cut.CLEAR_OUT: N_("{who} clears out."),
}


@dataclass(frozen=True, slots=True)
class Happening:
    """Something at a moment; ``action`` is the id of the action or look it belongs to."""

    at: float
    says: str
    action: str = ""

    def to_json(self) -> dict[str, Any]:
        return {"at": round(self.at, 2), "says": self.says, "action": self.action}


def moments(line: Timeline, voice: Voice) -> tuple[Happening, ...]:
    """Everything that begins, is set, is thrown or caught, by time."""
    found = [*_frame(line, voice), *_actions(line, voice), *_balls(line, voice)]
    return tuple(sorted(found, key=lambda happening: happening.at))


def numbers(happenings: Iterable[Happening]) -> dict[str, int]:
    """The number of each action or look, from 1, in the order in which they begin."""
    begun = dict.fromkeys(each.action for each in happenings if each.action)
    return {action: number for number, action in enumerate(begun, start=1)}


def _frame(line: Timeline, voice: Voice) -> Iterator[Happening]:
    if line.play.thrower is None:
        yield Happening(0.0, voice.say(BEGIN, who=voice.who(line.play.ball)))
    else:
        yield Happening(0.0, voice.say(READY))
        yield Happening(COUNT, voice.say(FIVE, count=voice.number(COUNT, 0)))
    yield Happening(line.signal, voice.say(SIGNAL))


def _actions(line: Timeline, voice: Voice) -> Iterator[Happening]:
    known = {action.id: action for action in line.play.actions()}
    for span in line.spans.values():
        action = known[span.action]
        template = _template(action, span)
        if template:
            whom = "" if action.cutter is None else voice.who(action.cutter)
            said = voice.say(template, who=voice.who(span.role), whom=whom)
            yield Happening(span.start, said, span.action)
        if span.set is not None:
            said = voice.say(IS_SET, who=voice.who(span.role))
            yield Happening(span.set, said, span.action)


def _template(action: Action, span: Span) -> str:
    match action.kind:
        case ActionKind.CUT if span.arrive > span.start:
            if action.easy:
                return JOGS
            return SPECIAL.get(action.cut, CUTS) if action.cut else CUTS
        case ActionKind.SCREEN:
            return SCREENS if action.cutter is None else SCREENS_FOR
        case ActionKind.DRIBBLE:
            return DRIBBLES
        case ActionKind.SHOT:
            return SHOOTS
    return ""


def _balls(line: Timeline, voice: Voice) -> Iterator[Happening]:
    for flight in line.flights:
        who, whom = voice.who(flight.passer), voice.who(flight.receiver)
        thrown = voice.say(_throws(flight), who=who, whom=whom)
        yield Happening(flight.release, thrown, flight.source)
        yield Happening(flight.catch, voice.say(CATCHES, who=whom), flight.source)


def _throws(flight: Flight) -> str:
    return THROWS_LOB if flight.throw.kind is PassKind.LOB else THROWS
