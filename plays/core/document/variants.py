"""Checks of variants: a call of their own, something that differs, and swaps that can be."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from plays.core.calls import faulty_braces, placeholders
from plays.core.document.walk import Fault, Place
from plays.core.play import ROLES, Play, Role, Variant
from shared.core.language import N_

SAME_CALL: Final = N_("The call “{call}” is given twice. Each variant needs a call of its own.")
NO_CHANGE: Final = N_("The variant “{call}” differs in nothing. Swap two roles, or mirror it.")
SWAP_SELF: Final = N_("In “{call}” the {role} swaps with nobody else.")
SWAP_TWICE: Final = N_("In “{call}” the {role} swaps twice. Once is enough.")
THROWER_STAYS: Final = N_(
    "In “{call}” the thrower changes, so both have to change places: leave out that they stay."
)
CALL_ROLE: Final = N_("The call “{call}” names “{found}” in braces, but the roles are 1 to 5.")
CALL_BRACES: Final = N_("The call “{call}” has a brace without its partner.")


def variants(play: Play) -> Iterator[Fault]:
    """What is wrong with the variants by themselves."""
    calls = [play.call, *(variant.call for variant in play.variants)]
    for index, variant in enumerate(play.variants):
        place: Place = ("variants", index)
        slots = {"call": variant.call}
        if variant.call in calls[: index + 1]:
            yield Fault((*place, "call"), "call_twice", SAME_CALL, slots)
        if not (variant.swaps or variant.mirror):
            yield Fault(place, "variant_empty", NO_CHANGE, slots)
        yield from _call(variant, (*place, "call"))
        yield from _swaps(play, variant, (*place, "swaps"))


def swaps_sound(variant: Variant) -> bool:
    """Whether the swaps can be made at all."""
    roles = _swapped(variant)
    return len(set(roles)) == len(roles) and set(roles) <= set(ROLES)


def _call(variant: Variant, place: Place) -> Iterator[Fault]:
    for found in placeholders(variant.call):
        if found not in ROLES:
            slots = {"call": variant.call, "found": found}
            yield Fault(place, "call_unknown_role", CALL_ROLE, slots)
    if faulty_braces(variant.call):
        yield Fault(place, "call_braces", CALL_BRACES, {"call": variant.call})


def _swaps(play: Play, variant: Variant, place: Place) -> Iterator[Fault]:
    roles = _swapped(variant)
    for n, swap in enumerate(variant.swaps):
        slots = {"call": variant.call, "role": swap.one}
        if swap.one == swap.other:
            yield Fault((*place, n), "swap_self", SWAP_SELF, slots)
            continue
        for role in (swap.one, swap.other):
            if role in roles[: 2 * n]:
                yield Fault((*place, n), "swap_twice", SWAP_TWICE, slots | {"role": role})
        if swap.stay and play.spot is not None and play.thrower in (swap.one, swap.other):
            yield Fault((*place, n, "stay"), "thrower_stays", THROWER_STAYS, slots)


def _swapped(variant: Variant) -> list[Role]:
    return [role for swap in variant.swaps for role in (swap.one, swap.other)]
