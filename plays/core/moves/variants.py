"""A variant as the whole play that it is: what moves, is checked, drawn and told like any other."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import partial
from typing import Final

from plays.core.moves.moves import mirror
from plays.core.moves.rewrite import with_texts
from plays.core.play import Play, Swap, Variant
from plays.core.sequence.swaps import with_swaps

# A figure that stands alone is a role in a coach's text, unless it counts or measures something.
_ROLE: Final = re.compile(
    r"(?<![\w.,:/#-])[1-5](?![\w/%]|[.,:-]\d|\s*(?:m|s|ft|seconds?|segundos?|steps?|pasos?|feet"
    r"|metres?|meters?|metros?|times|veces|dribbles?|botes|passes|pases|points?|puntos?)\b)"
)


def expanded(play: Play, variant: Variant) -> Play:
    """The play as this variant runs it, under its call and without variants of its own.

    Key and origin stay those of the play: it is a way to run it, not another one.
    """
    changed = replace(with_swaps(play, variant.swaps), call=variant.call, variants=())
    changed = with_texts(changed, partial(_swapped_text, _others(variant.swaps)))
    return replace(mirror(changed), origin=play.origin) if variant.mirror else changed


def all_calls(play: Play) -> tuple[Play, ...]:
    """The play and each of its variants, expanded, in the order of the document."""
    plain = replace(play, variants=())
    return (plain, *(expanded(play, variant) for variant in play.variants))


def calls_apart(play: Play) -> tuple[Play, ...]:
    """Of all calls those that a check can tell apart: of calls with the same jobs the first."""
    return tuple(calls_by_jobs(play).values())


def calls_by_jobs(play: Play) -> dict[frozenset[Swap], Play]:
    """The first call with each set of jobs, in the order of the calls.

    The other side alone changes no time, no distance and so no word of a check.
    """
    found: dict[frozenset[Swap], Play] = {}
    for n, call in enumerate(all_calls(play)):
        found.setdefault(jobs_of(play, n), call)
    return found


def jobs_of(play: Play, call: int) -> frozenset[Swap]:
    """Who does whose job on a call: 0 the first, n the n-th variant. Raises IndexError."""
    return frozenset(play.variants[call - 1].swaps) if call else frozenset()


def _others(swaps: Iterable[Swap]) -> Mapping[str, str]:
    ways = [(swap.one, swap.other) for swap in swaps] + [(swap.other, swap.one) for swap in swaps]
    return {str(one): str(other) for one, other in ways}


def _swapped_text(others: Mapping[str, str], text: str) -> str:
    return _ROLE.sub(lambda found: others.get(found[0], found[0]), text)
