"""A diagram's title, and its description for who cannot see it.

The description says who has the ball and then every action and look of the phase, in the order in
which they are written.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from plays.core.play import Action, ActionKind, Counter, Defence, Play, Role
from plays.core.sequence.course import Leg, LookLane, Scene
from plays.core.words.speaker import person
from plays.core.words.terms import on
from shared.core.language import N_, Language, sentence

TITLE: Final = N_("{play}: {phase}")
TITLES: Final[Mapping[Defence, str]] = {
    Defence.SWITCH: N_("{play}: {phase}, when they switch"),
    Defence.FRONT: N_("{play}: {phase}, when they front"),
    Defence.BEHIND: N_("{play}: {phase}, when they stay behind"),
    Defence.TRAP: N_("{play}: {phase}, when they trap"),
    Defence.SAG: N_("{play}: {phase}, when they sag off"),
    Defence.CHASE: N_("{play}: {phase}, when they chase"),
    Defence.DENY: N_("{play}: {phase}, when they deny the pass"),
    Defence.OVER: N_("{play}: {phase}, when they go over the screen"),
    Defence.UNDER: N_("{play}: {phase}, when they go under the screen"),
}
OVERVIEW: Final = N_("{play}: all phases")

BALL: Final = N_("{who} has the ball.")
SAYS: Final[Mapping[ActionKind, str]] = {
    ActionKind.CUT: N_("{who} cuts."),
    ActionKind.SCREEN: N_("{who} sets a screen."),
    ActionKind.PASS: N_("{who} passes to {whom}."),
    ActionKind.DRIBBLE: N_("{who} dribbles."),
    ActionKind.HANDOFF: N_("{who} hands the ball to {whom}."),
    ActionKind.SHOT: N_("{who} shoots."),
    ActionKind.HOLD: N_("{who} stays."),
}
SCREENS_FOR: Final = N_("{who} sets a screen for {whom}.")
HOLDS_SCREEN: Final = N_("{who} holds the screen for {whom}.")
LOOK: Final = N_("Look {n}")
LOOK_SAYS: Final = N_("Look {n}: {who} to {whom}.")
LEFT_OUT: Final = N_("Not written in the picture for want of room: {words}.")


def title(play: Play, scene: Scene, counter: Counter | None, language: Language) -> str:
    """What a diagram shows: play, phase, and the counter if it is one."""
    template = TITLES[counter.defence] if counter else TITLE
    said = language.say(template, play=play.name, phase=scene.phase.title)
    return on(said, counter.whose, language) if counter else said


def description(
    scene: Scene,
    chances: Sequence[LookLane],
    names: Mapping[Role, str],
    language: Language,
    *,
    held: Sequence[Leg] = (),
    left_out: Sequence[str] = (),
) -> str:
    """Who has the ball, screens still held, every action in order, the looks; a sentence each."""
    return " ".join(
        sentence(text)
        for text in _sentences(scene, chances, names, language, held=held, left_out=left_out)
    )


def _sentences(
    scene: Scene,
    chances: Sequence[LookLane],
    names: Mapping[Role, str],
    language: Language,
    *,
    held: Sequence[Leg] = (),
    left_out: Sequence[str] = (),
) -> Iterator[str]:
    if scene.holder is not None:
        yield language.say(BALL, who=person(scene.holder, names, language))
    for leg in held:
        who, whom = (
            person(role, names, language) for role in (leg.action.role, leg.action.cutter) if role
        )
        yield language.say(HOLDS_SCREEN, who=who, whom=whom)
    for leg in scene.legs:
        yield _action(leg.action, names, language)
    for chance in chances:
        who, whom = (
            person(role, names, language) for role in (chance.look.passer, chance.look.receiver)
        )
        yield language.say(LOOK_SAYS, n=chance.order, who=who, whom=whom)
    if left_out:
        yield language.say(LEFT_OUT, words=language.all_of(left_out))


def _action(action: Action, names: Mapping[Role, str], language: Language) -> str:
    who = person(action.role, names, language)
    whom = action.to or action.cutter
    if whom is None:
        return language.say(SAYS[action.kind], who=who, whom="")
    template = SCREENS_FOR if action.kind is ActionKind.SCREEN else SAYS[action.kind]
    return language.say(template, who=who, whom=person(whom, names, language))
