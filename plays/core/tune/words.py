"""A change in the trade's words: what is done now, what was before, and why."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import copysign
from types import MappingProxyType
from typing import Final

from plays.core.check.remedy import implied_cue
from plays.core.court.courts import court
from plays.core.court.spoken import describe
from plays.core.defence.words import DEFENCES
from plays.core.motion.timeline import Timeline
from plays.core.play import Action, ActionKind, Cue, Moment, Play, Point
from plays.core.sequence.course import legs
from plays.core.tune.changes import Change, Plan, Shift, Waiting
from plays.core.tune.gain import Effect, Reason
from plays.core.tune.limits import QUARTER
from plays.core.words.speaker import Voice, near_side, seconds_in_words
from shared.core.language import N_, Language

STARTS: Final = N_("{who} starts {shift}.")
SCREENS: Final = N_("{who} sets the screen {shift}.")
SCREENS_FOR: Final = N_("{who} sets the screen for {cutter} {shift}.")
STOOD: Final = N_("So far: {place}.")

SIDE: Final = N_("{by} nearer the sideline")
MIDDLE: Final = N_("{by} nearer the middle")
HIGHER: Final = N_("{by} higher up the floor")
LOWER: Final = N_("{by} nearer the baseline")
BY: Final[Mapping[int, str]] = MappingProxyType(
    {
        1: N_("a quarter of a metre"),
        2: N_("half a metre"),
        3: N_("three quarters of a metre"),
        4: N_("one metre"),
    }
)
METRES: Final = N_("{n} m")

GOES: Final = N_("{who} goes to {place} {moments}.")
SCREEN_AT: Final = N_("{who} screens at {place} {moments}.")
GOES_ON: Final = N_("{who} goes on {moments}.")
BEFORE: Final = N_("So far: {moments}.")
LATER: Final = N_("{moment}, and {time} later")
ON_SIGNAL: Final = N_("on the signal")
BALL_IN: Final = N_("once the throw-in is caught")
OWN_END: Final = N_("straight after the step before")
WHEN: Final[Mapping[Moment, str]] = MappingProxyType(
    {
        Moment.START: N_("as {other} starts"),
        Moment.SET: N_("as soon as {other} is set"),
        Moment.END: N_("once {other} is done"),
        Moment.PASSES: N_("as {other} runs past"),
    }
)
CAUGHT: Final = N_("once the pass of {other} is caught")

WHY: Final[Mapping[Reason, str]] = MappingProxyType(
    {
        Reason.SOONER: N_("Against {tactic}, {look} gains {seconds} s: it is there {by} s sooner."),
        Reason.HELD: N_(
            "Against {tactic}, {look} gains {seconds} s: {screener} holds the defender of"
            " {defender} up {by} s longer."
        ),
        Reason.SHORTER: N_(
            "Against {tactic}, {look} gains {seconds} s: the ball is in the air {by} s less."
        ),
        Reason.FARTHER: N_(
            "Against {tactic}, {look} gains {seconds} s: the defender of {defender} has further"
            " to come."
        ),
        Reason.TOGETHER: N_("It helps only together with the other changes."),
    }
)


@dataclass(frozen=True, slots=True)
class ToldChange:
    """A change: what the play says now, what it said before, and what it is good for."""

    now: str
    before: str
    why: str


def told(
    play: Play, plan: Plan, effects: tuple[Effect, ...], line: Timeline, voice: Voice
) -> tuple[ToldChange, ...]:
    """The changes of a plan; ``play`` and ``line`` are before any of them."""
    return tuple(
        ToldChange(
            _now(play, change, voice), _before(play, change, voice), why(line, effect, voice)
        )
        for change, effect in zip(plan, effects, strict=True)
    )


def why(line: Timeline, effect: Effect, voice: Voice) -> str:
    """What a change is good for."""
    template = WHY[effect.reason]
    if effect.reason is Reason.TOGETHER:
        return voice.say(template)
    return voice.say(
        template,
        tactic=voice.language.say(DEFENCES[effect.tactic]),
        look=voice.look(line.window(effect.look)),
        seconds=voice.number(effect.seconds, 2),
        by=voice.number(effect.by, 2),
        defender=voice.who(effect.defender) if effect.defender else "",
        screener=voice.who(effect.screener) if effect.screener else "",
    )


def _now(play: Play, change: Change, voice: Voice) -> str:
    if isinstance(change, Shift):
        return _shift(play, change, voice)
    return _waits(play, change, voice)


def _before(play: Play, change: Change, voice: Voice) -> str:
    if isinstance(change, Shift):
        place = describe(
            court(play.court),
            place_of(play, change),
            voice.language,
            ball_side=near_side(play.spot),
        )
        return voice.say(STOOD, place=place)
    action = _action(play, change.action)
    cues = action.cues or (implied_cue(play, action),)
    return voice.say(BEFORE, moments=_moments(play, action, cues, voice))


def place_of(play: Play, shift: Shift) -> Point:
    """The place that a shift moves, as it is without it."""
    if shift.what == "screen":
        return _action(play, shift.id).path[-1]
    return next(start.at for start in play.starts if start.role == shift.id)


def _shift(play: Play, shift: Shift, voice: Voice) -> str:
    words = voice.language.all_of(list(_ways(place_of(play, shift), shift, voice.language)))
    if shift.what == "start":
        role = next(start.role for start in play.starts if start.role == shift.id)
        return voice.say(STARTS, who=voice.who(role), shift=words)
    screen = _action(play, shift.id)
    if screen.cutter is None:
        return voice.say(SCREENS, who=voice.who(screen.role), shift=words)
    cutter = voice.who(screen.cutter)
    return voice.say(SCREENS_FOR, who=voice.who(screen.role), cutter=cutter, shift=words)


def _ways(place: Point, shift: Shift, language: Language) -> Iterator[str]:
    """Across first, then up or down the floor."""
    if shift.right:
        outward = copysign(1.0, place.x) * shift.right > 0 or abs(place.x) < QUARTER
        yield _by(SIDE if outward else MIDDLE, shift.right, language)
    if shift.up:
        yield _by(HIGHER if shift.up > 0 else LOWER, shift.up, language)


def _by(template: str, quarters: int, language: Language) -> str:
    metres = language.number(abs(quarters) * QUARTER, 2)
    known = BY.get(abs(quarters))
    by = language.say(METRES, n=metres) if known is None else language.say(known)
    return language.say(template, by=by)


def _waits(play: Play, change: Waiting, voice: Voice) -> str:
    action = _action(play, change.action)
    moments = _moments(play, action, change.cues, voice)
    who, end = voice.who(action.role), legs(play)[action.id].end
    if not action.path:
        return voice.say(GOES_ON, who=who, moments=moments)
    place = describe(court(play.court), end, voice.language, ball_side=near_side(play.spot))
    template = SCREEN_AT if action.kind is ActionKind.SCREEN else GOES
    return voice.say(template, who=who, place=place, moments=moments)


def _moments(play: Play, action: Action, cues: tuple[Cue, ...], voice: Voice) -> str:
    return voice.language.all_of([_moment(play, action, cue, voice) for cue in cues])


def _moment(play: Play, action: Action, cue: Cue, voice: Voice) -> str:
    moment = _event(play, action, cue, voice)
    if not cue.wait:
        return moment
    time = seconds_in_words(cue.wait, voice.language)
    return voice.language.say(LATER, moment=moment, time=time)


def _event(play: Play, action: Action, cue: Cue, voice: Voice) -> str:
    say = voice.language.say
    if cue.action is None:
        return say(ON_SIGNAL if cue.on is Moment.SIGNAL else BALL_IN)
    other = _action(play, cue.action)
    if other.role == action.role:
        return say(OWN_END)
    if other.kind is ActionKind.PASS and cue.on is Moment.END:
        return say(CAUGHT, other=voice.who(other.role))
    return say(WHEN[cue.on], other=voice.who(other.role))


def _action(play: Play, id_: str) -> Action:
    return next(action for action in play.actions() if action.id == id_)
