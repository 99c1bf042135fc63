"""What an action may wait for, each a tap away."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Final

from django.utils.translation import gettext as _

from plays.core.play import Action, ActionKind, Cue, Moment, Play
from plays.core.sequence.course import Leg, Scene, scenes
from plays.core.sequence.cues import CueGraph
from plays.core.words.facts import Awaits, Event
from plays.core.words.speaker import speaker
from plays.core.words.waits import wait
from shared.core.language import Language

FEW: Final = 5
MANY: Final = 8
"""Choices of a moment that stand in sight where there are more than so many: ours."""


@dataclass(frozen=True, slots=True)
class Choice:
    """A button: its words, the gesture that it sends, and whether it is so already."""

    label: str
    command: str
    on: bool
    receiver: str = ""  # the role that a look is for


def sent(do: str, **more: Any) -> str:
    """A gesture as the browser sends it back."""
    return json.dumps({"do": do, **more}, ensure_ascii=False)


def cue_choices(run: Play, scene: Scene, action: Action, language: Language) -> Iterator[Choice]:
    """By itself, with the signal, or with what the others do in this phase and the one before.

    What somebody does first waits for the signal by itself: that is one choice, not two.
    """
    alone = sent("cue", action=action.id, cue=None)
    first = CueGraph(run).previous[action.id] is None
    if not first:
        yield Choice(_("Go by itself"), alone, not action.cues)
    voice = speaker(run, action.role, {}, language)
    for cue, event in _events(run, scene, action):
        said = {"on": cue.on.value} | ({"action": cue.action} if cue.action else {})
        label = " ".join(wait(voice, Awaits(action.role, (event,))))
        if first and cue.on is Moment.SIGNAL:
            yield Choice(label, alone, not action.cues or cue in action.cues)
        else:
            yield Choice(label, sent("cue", action=action.id, cue=said), cue in action.cues)


def folded(choices: tuple[Choice, ...]) -> tuple[tuple[Choice, ...], tuple[Choice, ...]]:
    """What is shown at once, with what is so already, and the rest of a long list."""
    if len(choices) <= MANY:
        return choices, ()
    rest = choices[FEW:]
    shown = (*choices[:FEW], *(each for each in rest if each.on))
    return shown, tuple(each for each in rest if not each.on)


def more_choices(run: Play, scene: Scene, action: Action, language: Language) -> Iterator[Choice]:
    """What it may wait for beside that; a second tap takes one out again."""
    if not any(cue.action for cue in action.cues):
        return
    voice = speaker(run, action.role, {}, language)
    for cue, event in _events(run, scene, action):
        if cue.action and (cue not in action.cues or len(action.cues) > 1):
            said = {"on": cue.on.value, "action": cue.action}
            _signal, label = wait(voice, Awaits(action.role, (Event(Moment.SIGNAL), event)))
            command = sent("cue", action=action.id, cue=said, also=True)
            yield Choice(label, command, cue in action.cues)


def _events(run: Play, scene: Scene, action: Action) -> Iterator[tuple[Cue, Event]]:
    yield Cue(Moment.SIGNAL), Event(Moment.SIGNAL)
    floor = scenes(run)
    here = [each.phase.id for each in floor].index(scene.phase.id)
    if here:
        yield Cue(Moment.BALL_IN), Event(Moment.BALL_IN)
    for each in floor[max(0, here - 1) : here + 1]:
        for leg in each.legs:
            if leg.action.role != action.role:
                yield from _of(leg)


def _of(leg: Leg) -> Iterator[tuple[Cue, Event]]:
    """A screen counts once it is set, a hold for nothing, all else as it begins and ends.

    Whoever goes somewhere also counts once they are out of the way.
    """
    kind = leg.action.kind
    if kind is not ActionKind.HOLD:
        yield from _told(leg, kind)
    if leg.action.path:
        yield Cue(Moment.HAS_LEFT, leg.action.id), Event(Moment.HAS_LEFT, leg.action, leg.start)


def _told(leg: Leg, kind: ActionKind) -> Iterator[tuple[Cue, Event]]:
    moments = (Moment.SET,) if kind is ActionKind.SCREEN else (Moment.END, Moment.START)
    for moment in moments:
        at = leg.start if moment is Moment.START else leg.end
        if kind is ActionKind.CUT:
            at = leg.end
        yield Cue(moment, leg.action.id), Event(moment, leg.action, at)
