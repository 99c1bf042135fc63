"""What a role does, in words: one whole sentence for each kind of action."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from plays.core.play import Action, ActionKind, Cut, JointShape, PassKind, Role, ScreenStyle
from plays.core.sequence.course import BALL_MOVERS
from plays.core.words.facts import (
    AfterLook,
    Catches,
    Detours,
    Does,
    Ends,
    GoesOn,
    Starts,
    Uses,
    plain_jog,
)
from plays.core.words.speaker import Speaker
from shared.core.language import N_, NN_, sentence

START: Final = N_("Start at {place}.")
START_WITH_BALL: Final = N_("Start at {place} with the ball.")
START_THROWER: Final = N_("You throw the ball in from {place}.")
START_THROWER_BEHIND: Final = N_("You throw the ball in from behind {place}.")
START_SIGNAL: Final = N_("When all are in place, give the signal.")
END: Final = N_("You end at {place}.")
END_CLOSE: Final = N_("You end close to your start, at {place}.")
END_HOME: Final = N_("You end where you started.")
GO_ON: Final = N_("When the ball is in, go on into our offence.")
GO_ON_AFTER: Final = N_("Do this only after look {numbers}, when the ball is in.")

JOG: Final = N_("No sprint here: an easy jog is enough.")
DECOY: Final = N_("This is a decoy: make the defence look at you; the ball goes elsewhere.")
ONLY_AFTER: Final = N_("Do so only after look {numbers}.")
WITHOUT_BALL: Final = N_("After another look, run there without the ball.")
DETOUR: Final = N_("First run toward {places}.")
NEXT_PLACE: Final = N_("{first}, then {rest}")

USE_SCREEN: Final = N_("Run close past the screen by {who}.")
USE_DOUBLE: Final = N_("Run close past the double screen by {who}.")
USE_STAGGER: Final = N_("Run close past the screens in a row by {who}.")
USE_GATE: Final = N_("Run through the gate between {who}.")
CLOSED_BEHIND: Final = NN_("{closers} closes it behind you.", "{closers} close it behind you.")

CATCH: Final = N_("Catch the pass from {who} at {place}.")
TAKE: Final = N_("Take the hand-off from {who} at {place}.")

CUTS: Final[Mapping[Cut, str]] = MappingProxyType(
    {
        Cut.STRAIGHT: N_("Cut to {place}."),
        Cut.CURL: N_("Curl to {place}."),
        Cut.FADE: N_("Fade to {place}."),
        Cut.POP: N_("Pop to {place}."),
        Cut.ROLL: N_("Roll to {place}."),
        Cut.SLIP: N_("Slip to {place}."),
        Cut.SEAL: N_("Seal your defender at {place}."),
        Cut.POST_UP: N_("Post up at {place}."),
        Cut.CLEAR_OUT: N_("Clear out to {place}."),
    }
)
JOG_TO: Final = N_("Jog to {place}.")
SCREENS: Final[Mapping[ScreenStyle, str]] = MappingProxyType(
    {
        ScreenStyle.DOWN: N_("Set a down screen for {whom} at {place}."),
        ScreenStyle.BACK: N_("Set a back screen for {whom} at {place}."),
        ScreenStyle.CROSS: N_("Set a cross screen for {whom} at {place}."),
        ScreenStyle.FLARE: N_("Set a flare screen for {whom} at {place}."),
        ScreenStyle.BALL: N_("Set a ball screen for {whom} at {place}."),
        ScreenStyle.OTHER: N_("Screen for {whom} at {place}."),
    }
)
SCREEN_ALONE: Final = N_("Set a screen at {place}.")
GATE_OPEN: Final = N_("Open a gate with {partners} at {place}.")
LET_THROUGH: Final = N_("Let {whom} run through between you.")
GATE_CLOSE: Final = N_("Close the gate behind {whom} at {place}.")
GATE_CLOSE_WITH: Final = N_("Close the gate with {partners} behind {whom} at {place}.")
DOUBLE: Final = N_("Stand beside {partners} at {place}.")
DOUBLE_FOR: Final = N_("Together you are a double screen for {whom}.")
STAGGER: Final = N_("You and {partners} set screens in a row for {whom}.")
STAGGER_RANK: Final = N_("Yours is number {rank} in the row, at {place}.")
PASSES: Final[Mapping[PassKind, str]] = MappingProxyType(
    {
        PassKind.DIRECT: N_("Pass to {whom} at {place}."),
        PassKind.BOUNCE: N_("Throw a bounce pass to {whom} at {place}."),
        PassKind.LOB: N_("Throw a lob to {whom} at {place}."),
        PassKind.OVERHEAD: N_("Throw an overhead pass to {whom} at {place}."),
    }
)
THROW_INS: Final[Mapping[PassKind, str]] = MappingProxyType(
    {
        PassKind.DIRECT: N_("Throw the ball in to {whom} at {place}."),
        PassKind.BOUNCE: N_("Throw the ball in with a bounce pass to {whom} at {place}."),
        PassKind.LOB: N_("Throw the ball in with a lob to {whom} at {place}."),
        PassKind.OVERHEAD: N_("Throw the ball in with an overhead pass to {whom} at {place}."),
    }
)
HAND_OFF: Final = N_("Hand the ball to {whom} at {place}.")
DRIBBLE: Final = N_("Dribble to {place}.")
DRIBBLE_HERE: Final = N_("Keep your dribble at {place}.")
SHOOT: Final = N_("Shoot from {place}.")
HOLD: Final = N_("Stay at {place}.")
HOLD_THERE: Final = N_("Go to {place} and stay there.")


def start(speaker: Speaker, fact: Starts) -> tuple[str, ...]:
    if fact.throws_in:
        own_end = fact.at.y >= speaker.court.length
        template = START_THROWER_BEHIND if own_end else START_THROWER
        said = speaker.say(template, place=speaker.fixed_place(fact.at))
    else:
        template = START_WITH_BALL if fact.ball else START
        said = speaker.say(template, place=speaker.place(fact.at))
    return (said, speaker.say(START_SIGNAL)) if fact.gives_signal else (said,)


def end(speaker: Speaker, fact: Ends) -> str:
    """Roughly, since the last step has told it, but never as the place of the start."""
    if not fact.moved or fact.began is None:
        return speaker.say(END_HOME)
    name = speaker.place if fact.standing else speaker.goal
    rough, whole = name(fact.at, exact=False), name(fact.at)
    if speaker.aim(fact.began, fact.at, rough) == rough:
        return speaker.say(END, place=rough)
    place = speaker.aim(fact.began, fact.at, whole)
    return speaker.say(END if place == whole else END_CLOSE, place=place)


def go_on(speaker: Speaker, fact: GoesOn) -> str:
    if not fact.looks:
        return speaker.say(GO_ON)
    numbers = speaker.language.any_of([str(number) for number in fact.looks])
    return speaker.say(GO_ON_AFTER, numbers=numbers)


def after_look(speaker: Speaker, fact: AfterLook) -> tuple[str, ...]:
    numbers = speaker.language.any_of([str(number) for number in fact.looks])
    said = speaker.say(ONLY_AFTER, numbers=numbers)
    return (said, speaker.say(WITHOUT_BALL)) if fact.runs else (said,)


def detour(speaker: Speaker, fact: Detours) -> str:
    places = [speaker.landmark(point) for point in fact.by]
    joined = places[-1]
    for place in reversed(places[:-1]):
        joined = speaker.say(NEXT_PLACE, first=place, rest=joined)
    return speaker.say(DETOUR, places=joined)


def use(speaker: Speaker, fact: Uses) -> tuple[str, ...]:
    shapes = {JointShape.GATE: USE_GATE, JointShape.DOUBLE: USE_DOUBLE}
    template = shapes.get(fact.shape, USE_STAGGER) if fact.shape else USE_SCREEN
    said = speaker.say(template, who=speaker.people(fact.screeners))
    if fact.shape is not JointShape.GATE or not fact.closers:
        return (said,)
    closers = speaker.people(fact.closers)
    closed = speaker.language.say_n(*CLOSED_BEHIND, len(fact.closers), closers=closers)
    return said, sentence(closed)


def catch(speaker: Speaker, fact: Catches) -> str:
    template = TAKE if fact.action.kind is ActionKind.HANDOFF else CATCH
    place = speaker.there() if fact.there else speaker.goal(fact.at, exact=False)
    return speaker.say(template, who=speaker.person(fact.action.role), place=place)


def do(speaker: Speaker, fact: Does) -> tuple[str, ...]:
    """The action itself, with whom and where; of a joint also what for."""
    action = fact.action
    screen = action.kind is ActionKind.SCREEN
    other = action.cutter if screen else action.to
    slots = {
        "whom": _named(speaker, other),
        "place": _screen_place(speaker, fact) if screen else _other_place(speaker, fact),
        "partners": speaker.people(fact.partners),
        "rank": speaker.language.count(fact.rank),
    }
    templates = _screen(fact) if screen else (_other(fact),)
    return tuple(speaker.say(template, **slots) for template in templates)


def _screen_place(speaker: Speaker, fact: Does) -> str:
    return speaker.aim(fact.began, fact.at, speaker.place(fact.at))


def _other_place(speaker: Speaker, fact: Does) -> str:
    """Where somebody else catches the ball is told more roughly than where one goes oneself."""
    if fact.there:
        return speaker.there()
    name = speaker.goal(fact.at, exact=fact.action.kind not in BALL_MOVERS)
    return speaker.aim(fact.began, fact.at, name)


def _named(speaker: Speaker, role: Role | None) -> str:
    return "" if role is None else speaker.person(role)


_JOINTS: Final[Mapping[JointShape, tuple[str, str]]] = MappingProxyType(
    {
        JointShape.GATE: (GATE_OPEN, LET_THROUGH),
        JointShape.DOUBLE: (DOUBLE, DOUBLE_FOR),
        JointShape.STAGGER: (STAGGER, STAGGER_RANK),
    }
)


def _screen(fact: Does) -> tuple[str, ...]:
    action = fact.action
    if action.cutter is None:
        return (SCREEN_ALONE,)
    if action.joint is not None and action.joint.part == "close":
        return (GATE_CLOSE_WITH if fact.partners else GATE_CLOSE,)
    if action.joint is not None and fact.partners:
        return _JOINTS[action.joint.shape]
    return (SCREENS[action.screen or ScreenStyle.OTHER],)


def _other(fact: Does) -> str:
    action = fact.action
    if action.kind is ActionKind.CUT:
        return _cut(action)
    if action.kind is ActionKind.PASS:
        return (THROW_INS if fact.throw_in else PASSES)[action.pass_kind or PassKind.DIRECT]
    if action.kind is ActionKind.DRIBBLE:
        return DRIBBLE if action.path else DRIBBLE_HERE
    if action.kind is ActionKind.HOLD:
        return HOLD_THERE if action.path else HOLD
    return HAND_OFF if action.kind is ActionKind.HANDOFF else SHOOT


def _cut(action: Action) -> str:
    return JOG_TO if plain_jog(action) else CUTS[action.cut or Cut.STRAIGHT]
