"""The order of looks, in words: what the passer reads, what a receiver waits to be."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Final

from plays.core.play import DefenceRead, PassKind
from plays.core.words.facts import Looks
from plays.core.words.reads import when
from plays.core.words.speaker import Speaker
from shared.core.language import N_

READ: Final[Mapping[PassKind, str]] = MappingProxyType(
    {
        PassKind.DIRECT: N_("Pass to {whom} at {place}."),
        PassKind.BOUNCE: N_("Bounce pass to {whom} at {place}."),
        PassKind.LOB: N_("Lob to {whom} at {place}."),
        PassKind.OVERHEAD: N_("Overhead pass to {whom} at {place}."),
    }
)
BE_READY: Final[Mapping[PassKind, str]] = MappingProxyType(
    {
        PassKind.DIRECT: N_("Be ready for a pass from {who}."),
        PassKind.BOUNCE: N_("Be ready for a bounce pass from {who}."),
        PassKind.LOB: N_("Be ready for a lob from {who}."),
        PassKind.OVERHEAD: N_("Be ready for an overhead pass from {who}."),
    }
)
LOOK: Final = N_("Look {n}.")
YOU_ARE_LOOK: Final = N_("You are look {n} of {total}.")
CATCH_AT: Final = N_("You catch it at {place}.")
READ_HERE: Final = N_("Read look {n} here.")
READ_ALL_HERE: Final = N_("Read looks {numbers} here.")
AFTER_STEP: Final = N_("It comes at the end of your step {step}.")
CONDITION: Final = N_("When: {condition}")
MEANING: Final = N_("That is: {condition}")  # after what the look reads, which says when
SHOOT: Final = N_("Shoot as soon as you have it.")
NO_LOOK: Final = N_("You are not one of the looks. Your work gets the others open.")


def look_line(speaker: Speaker, fact: Looks) -> tuple[tuple[str, ...], str]:
    """Which look, what kind of pass, where and when; then at the end of which own step."""
    said = list(_read(speaker, fact) if fact.reads else _be_ready(speaker, fact))
    if fact.look.shot and not fact.reads:
        said.append(speaker.say(SHOOT))
    if fact.look.read is not None:
        said.append(f"{_when(speaker, fact.look.read)}.")
    condition = fact.look.condition.strip()
    if condition:
        template = CONDITION if fact.look.read is None else MEANING
        said.append(speaker.say(template, condition=_closed(condition)))
    return tuple(said), "" if fact.step is None else speaker.say(AFTER_STEP, step=fact.step)


def _read(speaker: Speaker, fact: Looks) -> Iterator[str]:
    """The number stands alone, so that nobody takes it for a person."""
    yield speaker.say(LOOK, n=fact.number)
    whom, place = speaker.person(fact.look.receiver), speaker.goal(fact.at, exact=False)
    yield speaker.say(READ[fact.look.pass_kind], whom=whom, place=place)


def _be_ready(speaker: Speaker, fact: Looks) -> Iterator[str]:
    """The own step has told its end to the step; without one the place is told here."""
    yield speaker.say(YOU_ARE_LOOK, n=fact.number, total=fact.total)
    yield speaker.say(BE_READY[fact.look.pass_kind], who=speaker.person(fact.look.passer))
    yield speaker.say(CATCH_AT, place=speaker.goal(fact.at, exact=fact.step is None))


def read_here(speaker: Speaker, numbers: tuple[int, ...]) -> str:
    """What the passer does in a phase besides any step: read these looks, by their numbers."""
    if len(numbers) == 1:
        return speaker.say(READ_HERE, n=numbers[0])
    said = speaker.language.all_of([str(number) for number in numbers])
    return speaker.say(READ_ALL_HERE, numbers=said)


def _when(speaker: Speaker, read: DefenceRead) -> str:
    return when(read.defence, read.whose, speaker.language, speaker.person, speaker.reader)


def _closed(typed: str) -> str:
    """A coach's text with a full stop, unless it ends in a sign already."""
    return typed if typed[-1] in ".!?…" else typed + "."
