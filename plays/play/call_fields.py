"""The fields of a play's further calls: each with its sign, who swaps with whom, and the side.

One row for each call that is there and some empty ones to add; a row that is ticked as gone, or
left empty, is no call.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final, cast

from django import forms
from django.utils.translation import gettext, gettext_lazy

from plays.core.calls import by_role
from plays.core.play import ROLES, Play, Role, Swap, Variant
from shared.core.language import Language

_ = gettext_lazy
EMPTY_ROWS: Final = 2
PAIRS: Final = 2  # of five roles, each in one swap at most
_NOBODY: Final = [("", "–"), *((role, role) for role in ROLES)]


@dataclass(frozen=True, slots=True)
class CallRow:
    """One call in the form: its words, its pairs, and what else there is to tick."""

    title: str
    words: tuple[forms.BoundField, ...]
    pairs: tuple[tuple[forms.BoundField, ...], ...]
    ticks: tuple[forms.BoundField, ...]


def call_fields(play: Play) -> dict[str, forms.Field]:
    """A row for each further call, and the empty ones."""
    made: dict[str, forms.Field] = {}
    for row in range(len(play.variants) + EMPTY_ROWS):
        made |= _fields(f"further-{row}", there=row < len(play.variants))
    return made


def call_values(play: Play) -> dict[str, Any]:
    """What the fields show of the calls that are there."""
    made: dict[str, Any] = {}
    for row, variant in enumerate(play.variants):
        start = f"further-{row}"
        made |= {
            f"{start}-call": variant.call,
            f"{start}-sign": variant.sign,
            f"{start}-mirror": variant.mirror,
        }
        for pair, swap in enumerate(variant.swaps[:PAIRS]):
            made |= {
                f"{start}-one-{pair}": swap.one,
                f"{start}-other-{pair}": swap.other,
                f"{start}-stay-{pair}": swap.stay,
            }
    return made


def call_rows(form: forms.Form, play: Play, language: Language) -> Iterator[CallRow]:
    """The rows as a page lays them out."""
    for row in range(len(play.variants) + EMPTY_ROWS):
        start, there = f"further-{row}", row < len(play.variants)
        title = by_role(play.variants[row].call, language) if there else gettext("A new call")
        yield CallRow(
            title,
            (form[f"{start}-call"], form[f"{start}-sign"]),
            tuple(
                tuple(form[f"{start}-{each}-{pair}"] for each in ("one", "other", "stay"))
                for pair in range(PAIRS)
            ),
            tuple(form[f"{start}-{each}"] for each in ("mirror", "gone")[: 1 + there]),
        )


def call_faults(said: Mapping[str, Any], play: Play) -> Iterator[tuple[str, str]]:
    """What is wrong with a row before it makes a call: the field, and a sentence."""
    for row in _kept_rows(said, play):
        start = f"further-{row}"
        if not said.get(f"{start}-call"):
            yield f"{start}-call", gettext("What is called here?")
        for pair in range(PAIRS):
            one, other = (said.get(f"{start}-{each}-{pair}") for each in ("one", "other"))
            if bool(one) != bool(other):
                at = f"{start}-{'other' if one else 'one'}-{pair}"
                yield at, gettext("A swap is of two roles: choose both, or neither.")
            elif said.get(f"{start}-stay-{pair}") and not one:
                yield f"{start}-one-{pair}", gettext("Who swaps with whom?")


def called(said: Mapping[str, Any], play: Play) -> tuple[Variant, ...]:
    """The calls that the rows say."""
    return tuple(_variant(said, play, row) for row in _kept_rows(said, play))


def call_field(said: Mapping[str, Any], play: Play, index: int, rest: Sequence[int | str]) -> str:
    """The field for a problem of the call at this place: its own, else that of its words."""
    start = f"further-{_kept_rows(said, play)[index]}"
    match [*rest]:
        case ["swaps", int(number), *more] if number < PAIRS:
            return f"{start}-{'stay' if more == ['stay'] else 'one'}-{number}"
        case ["sign", *_more]:
            return f"{start}-sign"
    return f"{start}-call"


def _fields(start: str, *, there: bool) -> dict[str, forms.Field]:
    made: dict[str, forms.Field] = {
        f"{start}-call": forms.CharField(label=_("Call"), required=False, max_length=60),
        f"{start}-sign": forms.CharField(label=_("Hand signal"), required=False, max_length=60),
    }
    for pair in range(PAIRS):
        made |= {
            f"{start}-one-{pair}": forms.ChoiceField(
                label=_("Role"), required=False, choices=_NOBODY
            ),
            f"{start}-other-{pair}": forms.ChoiceField(
                label=_("swaps jobs with"), required=False, choices=_NOBODY
            ),
            f"{start}-stay-{pair}": forms.BooleanField(
                label=_("Each from their own start"), required=False
            ),
        }
    made[f"{start}-mirror"] = forms.BooleanField(label=_("From the other side"), required=False)
    if there:
        made[f"{start}-gone"] = forms.BooleanField(label=_("Delete this call"), required=False)
    return made


def _kept_rows(said: Mapping[str, Any], play: Play) -> list[int]:
    rows = range(len(play.variants) + EMPTY_ROWS)
    return [row for row in rows if _is_call(said, f"further-{row}", there=row < len(play.variants))]


def _is_call(said: Mapping[str, Any], start: str, *, there: bool) -> bool:
    if said.get(f"{start}-gone"):
        return False
    given = any(value for name, value in said.items() if name.startswith(f"{start}-"))
    return there or given


def _variant(said: Mapping[str, Any], play: Play, row: int) -> Variant:
    start = f"further-{row}"
    old = play.variants[row] if row < len(play.variants) else Variant("")
    swaps = tuple(
        Swap(
            cast("Role", said[f"{start}-one-{pair}"]),
            cast("Role", said[f"{start}-other-{pair}"]),
            said[f"{start}-stay-{pair}"],
        )
        for pair in range(PAIRS)
        if said[f"{start}-one-{pair}"]
    )
    return replace(
        old,
        call=said[f"{start}-call"],
        sign=said[f"{start}-sign"],
        swaps=swaps + old.swaps[PAIRS:],
        mirror=said[f"{start}-mirror"],
    )
