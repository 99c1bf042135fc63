"""What a variant changes, in words: for everybody, and for one role only what is theirs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from plays.core.calls import CallName, call_for
from plays.core.play import Play, Role, Variant
from plays.core.words.speaker import person
from shared.core.language import N_, Language

SWAP: Final = N_("{one} and {other} do each other's job.")
SWAP_STAY: Final = N_("{one} and {other} do each other's job, each from their own start.")
OTHER_SIDE: Final = N_("It runs from the other side.")
YOURS: Final = N_("On “{call}” you do what {other} does here.")
YOURS_STAY: Final = N_("On “{call}” start at your own place, then do what {other} does here.")
YOURS_SIDE: Final = N_("On “{call}” you do the same from the other side.")
YOURS_BOTH: Final = N_("On “{call}” you do what {other} does here, from the other side.")


def variant_sentences(variant: Variant, language: Language) -> tuple[str, ...]:
    """What differs from the play's first call, one sentence each."""
    said = [
        language.say(SWAP_STAY if swap.stay else SWAP, one=swap.one, other=swap.other)
        for swap in variant.swaps
    ]
    return (*said, language.say(OTHER_SIDE)) if variant.mirror else tuple(said)


def own_calls(
    play: Play, role: Role, names: Mapping[Role, str], language: Language
) -> Iterator[str]:
    """What this role does otherwise, call by call; nothing of calls that leave its job alone."""
    cast = {each: CallName(name) for each, name in names.items()}
    for variant in play.variants:
        other, stay = _other(variant, role)
        call = call_for(variant.call, cast, language)
        slots = {"call": call, "other": person(other or role, names, language)}
        if other and variant.mirror:
            yield language.say(YOURS_BOTH, **slots)
        elif other:
            yield language.say(YOURS_STAY if stay else YOURS, **slots)
        elif variant.mirror:
            yield language.say(YOURS_SIDE, **slots)


def _other(variant: Variant, role: Role) -> tuple[Role | None, bool]:
    for swap in variant.swaps:
        if role in (swap.one, swap.other):
            return (swap.other if role == swap.one else swap.one), swap.stay
    return None, False
