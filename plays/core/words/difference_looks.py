"""What changed in the order of looks: of the play, and of each counter.

Looks are the same by id; their numbers are their places in the order, from 1.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import Final

from plays.core.play import Look, PassKind, Play
from plays.core.words.reads import when
from shared.core.language import N_, Language

SWAPPED: Final = N_("Looks {one} and {other} have swapped places.")
NEW_ORDER: Final = N_("The looks have a new order: {looks}.")
NEW_LOOK: Final = N_("New as look {n}: {who} to {whom}.")
LOOK_GONE: Final = N_("The look {who} to {whom} (it was look {n}) is gone.")
PAIR: Final = N_("{who} to {whom}")
KINDS: Final[Mapping[PassKind, str]] = MappingProxyType(
    {
        PassKind.DIRECT: N_("Look {n} is now a direct pass."),
        PassKind.BOUNCE: N_("Look {n} is now a bounce pass."),
        PassKind.LOB: N_("Look {n} is now a lob."),
        PassKind.OVERHEAD: N_("Look {n} is now an overhead pass."),
    }
)
CONDITION: Final = N_("Look {n} is now there when: {condition}")
READ: Final = N_("Look {n} is now thrown so: {when}.")
NO_READ: Final = N_("Look {n} reads no defender any more.")
SHOT: Final = N_("Look {n} now ends in a shot.")
NO_SHOT: Final = N_("Look {n} no longer ends in a shot.")
NO_CONDITION: Final = N_("Look {n} has no condition any more.")
PEOPLE: Final = N_("Look {n} is now {who} to {whom}.")
OTHER_MOMENT: Final = N_("Look {n} comes at another moment, or is caught at another place.")
GUESS: Final = N_("The coach's guess for look {n} is now {percent} %.")
NO_GUESS: Final = N_("The coach's guess for look {n} is taken back.")


def look_changes(old: Play, new: Play, language: Language) -> Iterator[str]:
    """One sentence for each change; numbers are those of the new play, unless said."""
    yield from list_changes(old.looks, new.looks, language)


def list_changes(
    old: Sequence[Look], new: Sequence[Look], language: Language, first: tuple[int, int] = (1, 1)
) -> Iterator[str]:
    """The changes from one list of looks to another, by the ids of the looks.

    ``first`` are the numbers of the first look of each: a counter's own follow those that stay.
    """
    before = {look.id: (n, look) for n, look in enumerate(old, start=first[0])}
    after = {look.id: (n, look) for n, look in enumerate(new, start=first[1])}
    for n, look in after.values():
        if look.id not in before:
            yield language.say(NEW_LOOK, n=n, who=look.passer, whom=look.receiver)
    for n, look in before.values():
        if look.id not in after:
            yield language.say(LOOK_GONE, n=n, who=look.passer, whom=look.receiver)
    yield from _order(
        [look for look in old if look.id in after],
        [look for look in new if look.id in before],
        {id_: n for id_, (n, _) in before.items()},
        language,
    )
    for n, look in after.values():
        if look.id in before:
            yield from _words(n, before[look.id][1], look, language)


def _order(
    kept: Sequence[Look], now: Sequence[Look], numbers: Mapping[str, int], language: Language
) -> Iterator[str]:
    """Two that swapped are told by their old numbers; anything more by the whole new order."""
    moved = [index for index, pair in enumerate(zip(kept, now, strict=True)) if _other(*pair)]
    if not moved:
        return
    if len(moved) == 2:
        one, other = (numbers[kept[index].id] for index in moved)
        yield language.say(SWAPPED, one=one, other=other)
        return
    pairs = [language.say(PAIR, who=look.passer, whom=look.receiver) for look in now]
    yield language.say(NEW_ORDER, looks="; ".join(pairs))


def _other(one: Look, other: Look) -> bool:
    return one.id != other.id


def _read(n: int, new: Look, language: Language) -> str:
    if new.read is None:
        return language.say(NO_READ, n=n)
    return language.say(READ, n=n, when=when(new.read.defence, new.read.whose, language))


def _words(n: int, old: Look, new: Look, language: Language) -> Iterator[str]:
    if (old.passer, old.receiver) != (new.passer, new.receiver):
        yield language.say(PEOPLE, n=n, who=new.passer, whom=new.receiver)
    if old.pass_kind != new.pass_kind:
        yield language.say(KINDS[new.pass_kind], n=n)
    if old.condition != new.condition:
        template = CONDITION if new.condition else NO_CONDITION
        yield language.say(template, n=n, condition=new.condition)
    if old.shot != new.shot:
        yield language.say(SHOT if new.shot else NO_SHOT, n=n)
    if old.read != new.read:
        yield _read(n, new, language)
    if (old.action, old.at) != (new.action, new.at):
        yield language.say(OTHER_MOMENT, n=n)
    if old.guess != new.guess:
        if new.guess is None:
            yield language.say(NO_GUESS, n=n)
        else:
            yield language.say(GUESS, n=n, percent=language.number(100 * new.guess))
