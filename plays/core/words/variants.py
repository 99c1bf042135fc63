"""What a variant changes, in words: for everybody, and for one role only what is theirs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from plays.core.calls import CallName, by_name, call_for
from plays.core.play import Play, Role, Variant
from plays.core.words.speaker import label, person
from shared.core.language import N_, Language

SWAP: Final = N_("{one} and {other} do each other's job.")
SWAP_STAY: Final = N_("{one} and {other} do each other's job, each from their own start.")
OTHER_SIDE: Final = N_("It runs from the other side.")
YOURS: Final = N_("On “{call}” you do what {other} does here.")
YOURS_STAY: Final = N_("On “{call}” start at your own place, then do what {other} does here.")
YOURS_SIDE: Final = N_("On “{call}” you do the same from the other side.")
YOURS_BOTH: Final = N_("On “{call}” you do what {other} does here, from the other side.")
# What a card says of a role beside a call, where there is no room for a sentence.
JOB: Final = N_("{role} as {other}")
JOB_SIDE: Final = N_("{role}, other side")
JOB_BOTH: Final = N_("{role} as {other}, other side")

NOBODY: Final[Mapping[Role, str]] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class OtherCall:
    """Another call of a play as it is heard, the sign shown for it, and the variant it means."""

    call: str
    sign: str
    variant: Variant

    def job(self, role: Role, language: Language) -> str:
        """What a role is on this call, as short as a card needs it: "2", or "2 as 3"."""
        other = other_role(self.variant, role)
        if other is None:
            return language.say(JOB_SIDE, role=role) if self.variant.mirror else role
        return language.say(JOB_BOTH if self.variant.mirror else JOB, role=role, other=other)


def other_calls(
    play: Play, cast: Mapping[Role, CallName], language: Language
) -> tuple[OtherCall, ...]:
    """The calls beside the play's first as this cast hears them, in the document's order."""
    return tuple(
        OtherCall(call_for(each.call, cast, language), each.sign, each) for each in play.variants
    )


def other_role(variant: Variant, role: Role) -> Role | None:
    """Whose job a role does on this call; None where it keeps its own."""
    return _other(variant, role)[0]


def variant_sentences(
    variant: Variant, language: Language, names: Mapping[Role, str] = NOBODY
) -> tuple[str, ...]:
    """What differs from the play's first call, one sentence each."""
    said = [
        language.say(
            SWAP_STAY if swap.stay else SWAP,
            one=label(swap.one, names, language),
            other=label(swap.other, names, language),
        )
        for swap in variant.swaps
    ]
    return (*said, language.say(OTHER_SIDE)) if variant.mirror else tuple(said)


def own_calls(
    play: Play, role: Role, names: Mapping[Role, str], language: Language
) -> Iterator[str]:
    """What this role does otherwise, call by call; nothing of calls that leave its job alone."""
    for variant in play.variants:
        other, stay = _other(variant, role)
        call = by_name(variant.call, names, language)
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
