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
SWAP_SIDE: Final = N_("{one} and {other} do each other's job, from the other side.")
SWAP_STAY_SIDE: Final = N_(
    "From the other side, {one} and {other} do each other's job, each from their own start."
)
TWO: Final = N_("{one} and {other} do each other's job, and so do {third} and {fourth}.")
TWO_STAY: Final = N_(
    "{one} and {other} do each other's job, and so do {third} and {fourth},"
    " each from their own start."
)
TWO_MIXED: Final = N_(
    "{one} and {other} do each other's job, and so do {third} and {fourth},"
    " these two from their own starts."
)
TWO_SIDE: Final = N_(
    "From the other side, {one} and {other} do each other's job, and so do {third} and {fourth}."
)
TWO_STAY_SIDE: Final = N_(
    "From the other side, {one} and {other} do each other's job, and so do {third} and {fourth},"
    " each from their own start."
)
TWO_MIXED_SIDE: Final = N_(
    "From the other side, {one} and {other} do each other's job, and so do {third} and {fourth},"
    " these two from their own starts."
)
OTHER_SIDE: Final = N_("It runs from the other side.")
YOURS: Final = N_("On “{call}” you do what {other} does here.")
YOURS_STAY: Final = N_("On “{call}” start at your own place, then do what {other} does here.")
YOURS_SIDE: Final = N_("On “{call}” you do the same from the other side.")
YOURS_BOTH: Final = N_("On “{call}” you do what {other} does here, from the other side.")
# What a card says of a role beside a call, where there is no room for a sentence.
JOB: Final = N_("{role} as {other}")
JOB_SIDE: Final = N_("{role}, other side")
JOB_BOTH: Final = N_("{role} as {other}, other side")

# Who keeps their own start, pair by pair, to the sentence: on the same side, from the other one.
_JOBS: Final = {
    (): ("", OTHER_SIDE),
    (False,): (SWAP, SWAP_SIDE),
    (True,): (SWAP_STAY, SWAP_STAY_SIDE),
    (False, False): (TWO, TWO_SIDE),
    (False, True): (TWO_MIXED, TWO_MIXED_SIDE),
    (True, True): (TWO_STAY, TWO_STAY_SIDE),
}

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


def variant_sentence(
    variant: Variant, language: Language, names: Mapping[Role, str] = NOBODY
) -> str:
    """What differs from the play's first call, in one sentence; "" where nothing does."""
    # Five roles make two pairs; a draft in which somebody swaps twice is told of elsewhere.
    swaps = sorted(variant.swaps[:2], key=lambda swap: swap.stay)
    template = _JOBS[tuple(swap.stay for swap in swaps)][variant.mirror]
    people = (role for swap in swaps for role in (swap.one, swap.other))
    slots = zip(("one", "other", "third", "fourth"), people, strict=False)
    who = {slot: label(role, names, language) for slot, role in slots}
    return language.say(template, **who) if template else ""


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
