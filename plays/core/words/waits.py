"""What a role waits for, in words.

An event is a clause that stands after "until" and nowhere else, so that a language may put
it in the mood it needs there (Spanish: subjunctive).
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from plays.core.play import Action, ActionKind, CueRule, Moment, Point, Role
from plays.core.words.facts import Awaits, Event, Pauses
from plays.core.words.speaker import Speaker, seconds_in_words
from shared.core.language import N_

WAIT_SIGNAL: Final = N_("Wait for the signal.")
WAIT_SIGNAL_THEN: Final = N_("Wait for the signal, then {time} more.")
GIVE_SIGNAL: Final = N_("Give the signal.")
GIVE_SIGNAL_THEN: Final = N_("Give the signal, then wait {time}.")
WAIT: Final = N_("Wait until {event}.")
WAIT_FIRST: Final = N_("Wait until {events}, whichever comes first.")
HOLD: Final = N_("Hold the screen until {event}.")
HOLD_FIRST: Final = N_("Hold the screen until {events}, whichever comes first.")
PAUSE: Final = N_("Wait {time}.")
HOLD_PAUSE: Final = N_("Hold the screen for {time}.")

LATER: Final = N_("{event}, then {time} more")
BOTH_UNTIL: Final = N_("{first}, and until {last}")
EITHER_UNTIL: Final = N_("{first}, or until {last}")

SIGNAL: Final = N_("the signal comes")
BALL_IN: Final = N_("the throw-in is caught")
SHOULDER: Final = N_("{who} is past your shoulder")
PASSES: Final = N_("{who} runs past {place}")
LEFT: Final = N_("{who} has left their place at {place}")
IN_POSITION: Final = N_("{who} is in position at {place}")
SET_FOR_YOU: Final = N_("{who} is set to screen for you")
SET_FOR: Final = N_("{who} is set to screen for {whom}")
SET_ALONE: Final = N_("{who} is set to screen")
SCREEN_ENDS: Final = N_("{who} leaves the screen at {place}")
OWN_SET: Final = N_("you are set")
OWN_START: Final = N_("you are on your way to {place}")
OWN_LEFT: Final = N_("you have left your place at {place}")
OWN_END: Final = N_("you are at {place}")
OWN_PASS_END: Final = N_("{whom} catches your pass")

# By the kind of the other's action: at its start and at its end.
_STARTS: Final[Mapping[ActionKind, str]] = MappingProxyType(
    {
        ActionKind.CUT: N_("{who} starts to run to {place}"),
        ActionKind.DRIBBLE: N_("{who} starts to dribble to {place}"),
        ActionKind.SCREEN: N_("{who} goes to {place} to screen"),
        ActionKind.PASS: N_("{who} passes to {whom}"),
        ActionKind.HANDOFF: N_("{who} hands the ball to {whom}"),
        ActionKind.SHOT: N_("{who} goes to shoot"),
        ActionKind.HOLD: IN_POSITION,
    }
)
_ENDS: Final[Mapping[ActionKind, str]] = MappingProxyType(
    {
        ActionKind.CUT: N_("{who} gets to {place}"),
        ActionKind.DRIBBLE: N_("{who} gets to {place} with the ball"),
        ActionKind.SCREEN: SCREEN_ENDS,
        ActionKind.PASS: N_("{whom} catches the pass from {who}"),
        ActionKind.HANDOFF: N_("{whom} has the ball from {who}"),
        ActionKind.SHOT: N_("{who} has taken the shot"),
        ActionKind.HOLD: N_("{who} leaves {place}"),
    }
)
_TO_YOU: Final[Mapping[tuple[ActionKind, Moment], str]] = MappingProxyType(
    {
        (ActionKind.PASS, Moment.START): N_("{who} passes to you"),
        (ActionKind.PASS, Moment.END): N_("you catch the pass from {who}"),
        (ActionKind.HANDOFF, Moment.START): N_("{who} hands you the ball"),
        (ActionKind.HANDOFF, Moment.END): N_("you have the ball from {who}"),
    }
)


def pause(speaker: Speaker, fact: Pauses) -> str:
    time = seconds_in_words(fact.seconds, speaker.language)
    return speaker.say(HOLD_PAUSE if fact.holding else PAUSE, time=time)


def wait(speaker: Speaker, fact: Awaits) -> str:
    """One sentence for all that a step waits for."""
    if len(fact.events) == 1 and fact.events[0].moment is Moment.SIGNAL and not fact.holding:
        return _signal(speaker, fact.events[0], gives=fact.gives_signal)
    clauses = [_clause(speaker, event) for event in fact.events]
    if fact.rule is CueRule.FIRST and len(clauses) > 1:
        template = HOLD_FIRST if fact.holding else WAIT_FIRST
        return speaker.say(template, events=_chain(speaker, clauses, EITHER_UNTIL))
    template = HOLD if fact.holding else WAIT
    return speaker.say(template, event=_chain(speaker, clauses, BOTH_UNTIL))


def _signal(speaker: Speaker, event: Event, *, gives: bool) -> str:
    if event.wait == 0:
        return speaker.say(GIVE_SIGNAL if gives else WAIT_SIGNAL)
    time = seconds_in_words(event.wait, speaker.language)
    return speaker.say(GIVE_SIGNAL_THEN if gives else WAIT_SIGNAL_THEN, time=time)


def _chain(speaker: Speaker, clauses: list[str], template: str) -> str:
    chained = clauses[-1]
    for clause in reversed(clauses[:-1]):
        chained = speaker.say(template, first=clause, last=chained)
    return chained


def _clause(speaker: Speaker, event: Event) -> str:
    clause = _happening(speaker, event)
    if event.wait == 0:
        return clause
    return speaker.say(LATER, event=clause, time=seconds_in_words(event.wait, speaker.language))


def _happening(speaker: Speaker, event: Event) -> str:
    action, at = event.action, event.at
    if action is None or at is None:
        return speaker.say(SIGNAL if event.moment is Moment.SIGNAL else BALL_IN)
    place = _place(speaker, event.moment, action, at)
    whom = _whom(speaker, action)
    who = speaker.person(action.role)
    return speaker.say(_template(speaker.reader, event, action), who=who, whom=whom, place=place)


def _place(speaker: Speaker, moment: Moment, action: Action, at: Point) -> str:
    """Nobody counts the steps to a place that is run past."""
    if moment is Moment.PASSES:
        return speaker.rough_place(at)
    if moment is Moment.HAS_LEFT:
        return speaker.place(at)
    return speaker.place(at) if action.kind is ActionKind.SCREEN else speaker.goal(at)


def _whom(speaker: Speaker, action: Action) -> str:
    other = action.cutter if action.kind is ActionKind.SCREEN else action.to
    return "" if other is None else speaker.person(other)


def _template(reader: Role, event: Event, action: Action) -> str:
    if action.role == reader:
        return _own(event.moment, action)
    if event.moment in (Moment.PASSES, Moment.HAS_LEFT):
        return _on_the_way(event)
    if event.moment is Moment.SET:
        return _set(reader, action)
    if action.to == reader and (action.kind, event.moment) in _TO_YOU:
        return _TO_YOU[action.kind, event.moment]
    if action.kind is ActionKind.CUT and not action.path:
        return IN_POSITION
    return _STARTS[action.kind] if event.moment is Moment.START else _ENDS[action.kind]


def _on_the_way(event: Event) -> str:
    if event.moment is Moment.HAS_LEFT:
        return LEFT
    return SHOULDER if event.shoulder else PASSES


def _set(reader: Role, action: Action) -> str:
    if action.cutter is None:
        return SET_ALONE
    return SET_FOR_YOU if action.cutter == reader else SET_FOR


def _own(moment: Moment, action: Action) -> str:
    if moment is Moment.SET:
        return OWN_SET
    if moment is Moment.HAS_LEFT:
        return OWN_LEFT
    if moment is Moment.START:
        return OWN_START
    return OWN_PASS_END if action.kind is ActionKind.PASS else OWN_END
