"""The order of looks, in words: what the passer reads, what a receiver waits to be."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from plays.core.play import PassKind
from plays.core.words.facts import Looks
from plays.core.words.speaker import Speaker
from shared.core.language import N_

READ: Final[Mapping[PassKind, str]] = MappingProxyType(
    {
        PassKind.DIRECT: N_("Look {n}: pass to {whom} at {place}."),
        PassKind.BOUNCE: N_("Look {n}: bounce pass to {whom} at {place}."),
        PassKind.LOB: N_("Look {n}: lob to {whom} at {place}."),
        PassKind.OVERHEAD: N_("Look {n}: overhead pass to {whom} at {place}."),
    }
)
BE_READY: Final[Mapping[PassKind, str]] = MappingProxyType(
    {
        PassKind.DIRECT: N_(
            "You are look {n} of {total}: be ready at {place} for a pass from {who}."
        ),
        PassKind.BOUNCE: N_(
            "You are look {n} of {total}: be ready at {place} for a bounce pass from {who}."
        ),
        PassKind.LOB: N_("You are look {n} of {total}: be ready at {place} for a lob from {who}."),
        PassKind.OVERHEAD: N_(
            "You are look {n} of {total}: be ready at {place} for an overhead pass from {who}."
        ),
    }
)
READ_HERE: Final = N_("Read look {n} here.")
READ_ALL_HERE: Final = N_("Read looks {numbers} here.")
AFTER_STEP: Final = N_("It comes at the end of your step {step}.")
CONDITION: Final = N_("When: {condition}")
NO_LOOK: Final = N_("You are not one of the looks. Your work gets the others open.")


def look_line(speaker: Speaker, fact: Looks) -> tuple[tuple[str, ...], str]:
    """Who, what kind of pass, where and under which condition; then at the end of which step."""
    look = fact.look
    said = [
        speaker.say(
            (READ if fact.reads else BE_READY)[look.pass_kind],
            n=fact.number,
            total=fact.total,
            who=speaker.person(look.passer),
            whom=speaker.person(look.receiver),
            place=speaker.goal(fact.at),
        )
    ]
    if look.condition.strip():
        said.append(speaker.say(CONDITION, condition=_closed(look.condition.strip())))
    return tuple(said), "" if fact.step is None else speaker.say(AFTER_STEP, step=fact.step)


def read_here(speaker: Speaker, numbers: tuple[int, ...]) -> str:
    """What the passer does in a phase besides any step: read these looks, by their numbers."""
    if len(numbers) == 1:
        return speaker.say(READ_HERE, n=numbers[0])
    said = speaker.language.all_of([str(number) for number in numbers])
    return speaker.say(READ_ALL_HERE, numbers=said)


def _closed(typed: str) -> str:
    """A coach's text with a full stop, unless it ends in a sign already."""
    return typed if typed[-1] in ".!?…" else typed + "."
