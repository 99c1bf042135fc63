"""What a role waits for, in words.

An event is a clause that stands after "until" and nowhere else, so that a language may put
it in the mood it needs there (Spanish: subjunctive).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
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
WAIT_TOO: Final = N_("Wait also until {event}.")
WAIT_OR: Final = N_("Or until {event}, if that comes first.")
THEN: Final = N_("Then wait {time} more.")
HOLD: Final = N_("Hold the screen until {event}.")
HOLD_TOO: Final = N_("Hold it also until {event}.")
HOLD_THEN: Final = N_("Then hold it {time} more.")
KEEP_OPEN: Final = N_("Keep the gate open until {event}.")
KEEP_SHUT: Final = N_("Keep the gate shut until {event}.")
PAUSE: Final = N_("Wait {time}.")
HOLD_PAUSE: Final = N_("Hold the screen for {time}.")
OPEN_PAUSE: Final = N_("Keep the gate open for {time}.")
SHUT_PAUSE: Final = N_("Keep the gate shut for {time}.")

LATER: Final = N_("{event}, then {time} more")
AFTER_SIGNAL: Final = N_("{time} after the signal")

SIGNAL: Final = N_("the signal comes")
BALL_IN: Final = N_("the throw-in is caught")
SHOULDER: Final = N_("{who} is past your shoulder")
PASSES: Final = N_("{who} runs past {place}")
REACHES: Final = N_("{who} gets as far as {place}")
LEFT: Final = N_("{who} has left their place at {place}")
IN_POSITION: Final = N_("{who} is in place at {place}")
SET_FOR_YOU: Final = N_("{who} is set to screen for you")
SET_FOR: Final = N_("{who} is set to screen for {whom}")
SET_ALONE: Final = N_("{who} is set to screen")
OPENED_FOR_YOU: Final = N_("{who} has opened the gate for you")
OPENED_FOR: Final = N_("{who} has opened the gate for {whom}")
ALL_SET_FOR_YOU: Final = N_("{who} are set to screen for you")
ALL_SET_FOR: Final = N_("{who} are set to screen for {whom}")
ALL_OPENED_FOR_YOU: Final = N_("{who} have opened the gate for you")
ALL_OPENED_FOR: Final = N_("{who} have opened the gate for {whom}")
SHUT_BEHIND_YOU: Final = N_("{who} has closed the gate behind you")
SHUT_BEHIND: Final = N_("{who} has closed the gate behind {whom}")
OPENS: Final = N_("{who} goes to {place} to open the gate")
CLOSES: Final = N_("{who} starts to close the gate")
LEAVES_GATE: Final = N_("{who} leaves the gate at {place}")
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
# At its start, where the way leads toward a named place: nobody counts the steps to its end.
_HEADS: Final[Mapping[ActionKind, str]] = MappingProxyType(
    {
        ActionKind.CUT: N_("{who} starts to run toward {place}"),
        ActionKind.DRIBBLE: N_("{who} starts to dribble toward {place}"),
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


# By what is held meanwhile: nothing, a screen, an open gate, a gate that is shut.
_FIRST: Final = {"": WAIT, "screen": HOLD, "open": KEEP_OPEN, "close": KEEP_SHUT}
_PAUSES: Final = {"": PAUSE, "screen": HOLD_PAUSE, "open": OPEN_PAUSE, "close": SHUT_PAUSE}


def pause(speaker: Speaker, fact: Pauses) -> str:
    time = seconds_in_words(fact.seconds, speaker.language)
    return speaker.say(_PAUSES[_held(fact)], time=time)


def wait(speaker: Speaker, fact: Awaits) -> tuple[str, ...]:
    """One short sentence for each thing that a step waits for, one more for seconds after it."""
    if len(fact.events) == 1 and fact.events[0].moment is Moment.SIGNAL and not fact.holding:
        return (_signal(speaker, fact.events[0], gives=fact.gives_signal),)
    if fact.rule is CueRule.FIRST and len(fact.events) > 1:
        return tuple(_either(speaker, fact))
    return tuple(_each(speaker, fact))


def _held(fact: Awaits | Pauses) -> str:
    return (fact.gate or "screen") if fact.holding else ""


def _each(speaker: Speaker, fact: Awaits) -> Iterator[str]:
    too, then = (HOLD_TOO, HOLD_THEN) if fact.holding else (WAIT_TOO, THEN)
    for index, alike in enumerate(_alike(fact.events)):
        template, event = too if index else _FIRST[_held(fact)], alike[0]
        said = _happening(speaker, event) if len(alike) == 1 else _all_set(speaker, alike)
        yield speaker.say(template, event=said)
        if event.wait:
            yield speaker.say(then, time=seconds_in_words(event.wait, speaker.language))


def _alike(events: Sequence[Event]) -> list[list[Event]]:
    """The events in their order; several who are set for one person are one thing to wait for."""
    found: list[list[Event]] = []
    for event in events:
        key = _set_for(event)
        same = (group for group in found if key is not None and _set_for(group[0]) == key)
        group = next(same, None)
        if group is None:
            found.append([event])
        else:
            group.append(event)
    return found


def _set_for(event: Event) -> tuple[str, Role, float] | None:
    """What those who set up for somebody have in common, None of what is no such event."""
    if event.moment is not Moment.SET or event.action is None or event.action.cutter is None:
        return None
    if event.gate == "close":
        return None
    return event.gate, event.action.cutter, event.wait


def _all_set(speaker: Speaker, events: Sequence[Event]) -> str:
    actions = [event.action for event in events if event.action is not None]
    yours = actions[0].cutter == speaker.reader
    if events[0].gate:
        template = ALL_OPENED_FOR_YOU if yours else ALL_OPENED_FOR
    else:
        template = ALL_SET_FOR_YOU if yours else ALL_SET_FOR
    who = speaker.people(tuple(dict.fromkeys(action.role for action in actions)))
    return speaker.say(template, who=who, whom=_whom(speaker, actions[0]))


def _either(speaker: Speaker, fact: Awaits) -> Iterator[str]:
    for index, event in enumerate(fact.events):
        template = WAIT_OR if index else _FIRST[_held(fact)]
        yield speaker.say(template, event=_clause(speaker, event))


def _signal(speaker: Speaker, event: Event, *, gives: bool) -> str:
    if event.wait == 0:
        return speaker.say(GIVE_SIGNAL if gives else WAIT_SIGNAL)
    time = seconds_in_words(event.wait, speaker.language)
    return speaker.say(GIVE_SIGNAL_THEN if gives else WAIT_SIGNAL_THEN, time=time)


def _clause(speaker: Speaker, event: Event) -> str:
    clause = _happening(speaker, event)
    if event.wait == 0:
        return clause
    time = seconds_in_words(event.wait, speaker.language)
    if event.moment is Moment.SIGNAL:
        return speaker.say(AFTER_SIGNAL, time=time)
    return speaker.say(LATER, event=clause, time=time)


def _happening(speaker: Speaker, event: Event) -> str:
    action, at = event.action, event.at
    if action is None or at is None:
        return speaker.say(SIGNAL if event.moment is Moment.SIGNAL else BALL_IN)
    place = _place(speaker, event, action, at)
    whom = _whom(speaker, action)
    who = speaker.person(action.role)
    template = _template(speaker.reader, event, action)
    landmark = speaker.nearest_place(at) if event.heads else place
    if landmark != place and action.role != speaker.reader:
        template, place = _HEADS[action.kind], landmark
    return speaker.say(template, who=who, whom=whom, place=place)


def _place(speaker: Speaker, event: Event, action: Action, at: Point) -> str:
    """Nobody counts the steps to a place that is run past, or to where another stands."""
    if event.moment is Moment.PASSES and event.named:
        return speaker.nearest_place(at)
    if event.moment is Moment.PASSES:
        return speaker.place(at)
    standing = event.moment is Moment.HAS_LEFT or action.kind is ActionKind.SCREEN
    return (speaker.place if standing else speaker.goal)(at, exact=False)


def _whom(speaker: Speaker, action: Action) -> str:
    other = action.cutter if action.kind is ActionKind.SCREEN else action.to
    return "" if other is None else speaker.person(other)


def _template(reader: Role, event: Event, action: Action) -> str:
    if action.role == reader:
        return _own(event.moment, action)
    if event.moment in (Moment.PASSES, Moment.HAS_LEFT):
        return _on_the_way(event)
    if event.gate or event.moment is Moment.SET:
        return _at_gate(reader, event, action) if event.gate else _set(reader, action)
    if action.to == reader and (action.kind, event.moment) in _TO_YOU:
        return _TO_YOU[action.kind, event.moment]
    if action.kind is ActionKind.CUT and not action.path:
        return IN_POSITION
    return _STARTS[action.kind] if event.moment is Moment.START else _ENDS[action.kind]


def _on_the_way(event: Event) -> str:
    if event.moment is Moment.HAS_LEFT:
        return LEFT
    if event.shoulder:
        return SHOULDER
    return PASSES if event.named else REACHES


def _at_gate(reader: Role, event: Event, action: Action) -> str:
    if event.moment is Moment.END:
        return LEAVES_GATE
    opens, yours = event.gate == "open", action.cutter == reader
    if event.moment is Moment.START:
        return OPENS if opens else CLOSES
    if opens:
        return OPENED_FOR_YOU if yours else OPENED_FOR
    return SHUT_BEHIND_YOU if yours else SHUT_BEHIND


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
