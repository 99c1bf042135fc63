"""The sentences of one role's part, counters aside: start, numbered steps, end, looks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Final

from plays.core.play import Play
from plays.core.words.facts import (
    AfterLook,
    Awaits,
    Catches,
    Decoys,
    Detours,
    Does,
    Ends,
    Fact,
    GoesOn,
    InLine,
    Jogs,
    Keeps,
    Looks,
    Pauses,
    StandsBeside,
    StandsBetween,
    Starts,
    StepFacts,
    Uses,
)
from plays.core.words.looks import NO_LOOK, look_line, read_here
from plays.core.words.moves import DECOY, JOG, after_look, catch, detour, do, end, go_on, start, use
from plays.core.words.neighbours import beside, between, in_line, keep
from plays.core.words.part_facts import part_facts
from plays.core.words.role_part import LookLine, Reading, RolePart, Step
from plays.core.words.speaker import Speaker
from plays.core.words.waits import pause, wait
from shared.core.language import N_

NEAR_AND_FAR: Final = N_(
    "Near is the side where the ball is thrown in, far is the other side. "
    "Left and right are as you face the basket."
)
LEFT_AND_RIGHT: Final = N_("Left and right are as you face the basket.")

_ALONE: Final[Mapping[type, str]] = MappingProxyType({Jogs: JOG, Decoys: DECOY})


def plain_part(play: Play, voice: Speaker) -> RolePart:
    """The part of the speaker's reader. Raises KeyError for a role without a start."""
    found = part_facts(play, voice.reader)
    begin = tuple(said for fact in found.starts for said in _said(voice, fact))
    idle = bool(play.looks) and not found.looks
    return RolePart(
        voice.reader,
        begin,
        tuple(_step(voice, step) for step in found.steps),
        end(voice, found.ends) if found.ends is not None else "",
        tuple(_line(voice, fact) for fact in found.looks),
        voice.say(NO_LOOK) if idle else "",
        voice.say(NEAR_AND_FAR if voice.near else LEFT_AND_RIGHT),
        tuple(_readings(play, found.looks, voice)),
    )


def _readings(play: Play, looks: tuple[Looks, ...], voice: Speaker) -> Iterator[Reading]:
    for phase in play.phases:
        numbers = tuple(fact.number for fact in looks if fact.reads and fact.phase == phase.id)
        if numbers:
            yield Reading(phase.id, numbers, read_here(voice, numbers))


def _step(voice: Speaker, step: StepFacts) -> Step:
    said: dict[str, list[str]] = {"wait": [], "act": [], "then": []}
    for fact in step.facts:
        said[_beat(fact)] += _said(voice, fact)
    wait_for, act, then = map(tuple, said.values())
    return Step(step.number, step.phase, step.action.id, wait_for, act, then, step.action.teach)


def _beat(fact: Fact) -> str:
    """Which of the three lines of a step tells a fact."""
    match fact:
        case GoesOn() | Awaits() | Pauses():
            return "wait"
        case Catches() | Ends() | AfterLook(catch=True):
            return "then"
        case _:
            return "act"


def _line(voice: Speaker, fact: Looks) -> LookLine:
    sentences, comes = look_line(voice, fact)
    return LookLine(fact.number, fact.look.id, fact.reads, sentences, comes, fact.phase)


def _said(voice: Speaker, fact: Fact) -> tuple[str, ...]:
    match fact:
        case Starts() | InLine() | StandsBeside() | StandsBetween() | Keeps():
            return _begin(voice, fact)
        case Awaits():
            return wait(voice, fact)
        case Pauses():
            return (pause(voice, fact),)
        case Does():
            return do(voice, fact)
        case Uses():
            return use(voice, fact)
        case _:
            return _beside(voice, fact)


def _begin(
    voice: Speaker, fact: Starts | InLine | StandsBeside | StandsBetween | Keeps
) -> tuple[str, ...]:
    match fact:
        case Starts():
            return start(voice, fact)
        case InLine():
            return (in_line(voice, fact),)
        case StandsBeside():
            return (beside(voice, fact),)
        case StandsBetween():
            return (between(voice, fact),)
        case Keeps():
            return keep(voice, fact)


def _beside(
    voice: Speaker, fact: AfterLook | GoesOn | Detours | Jogs | Decoys | Catches | Ends
) -> tuple[str, ...]:
    """What stands beside the action itself."""
    match fact:
        case AfterLook():
            return after_look(voice, fact)
        case Detours():
            return (detour(voice, fact),)
        case Catches():
            return (catch(voice, fact),)
        case Ends():
            return (end(voice, fact),)
        case GoesOn():
            return (go_on(voice, fact),)
        case Jogs() | Decoys():
            return (voice.say(_ALONE[type(fact)]),)
