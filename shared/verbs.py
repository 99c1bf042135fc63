"""Every kind of change that the record keeps, and the sentence that tells it to a reader.

Each app says with ``tell``, when it is loaded, what its own changes are called and how they are
told. Slots of a sentence: ``who`` changed, the ``subject`` it was done to, what it was ``before``
and is ``after``, and ``count``, how many things that means, ``others``, how many of them somebody
else had made; of a revision ``name`` is what it is one of. Verbs stand in rows for good: none is
renamed or taken out.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

Told = Mapping[str, Mapping[str, str]]
"""By what a change is about, as a reader asks for it: each verb with its sentence."""


@dataclass(frozen=True, slots=True)
class ToldVerb:
    """``matter`` is what the change is about, ``said`` its sentence in English."""

    matter: str
    said: str


_known: Final[dict[str, ToldVerb]] = {}
VERBS: Final[Mapping[str, ToldVerb]] = MappingProxyType(_known)


def tell(told: Told) -> None:
    """Take up the verbs of an app. Raises ValueError where one is known already."""
    for matter, verbs in told.items():
        for verb, said in verbs.items():
            if verb in _known:
                raise ValueError(f"two sentences for {verb!r}")
            _known[verb] = ToldVerb(matter, said)


def verbs_of(matter: str) -> list[str]:
    """The verbs that tell of this matter."""
    return [verb for verb, told in VERBS.items() if told.matter == matter]
