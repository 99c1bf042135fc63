"""Checks of needs: a role asks for each quality once."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from plays.core.form import Fault
from plays.core.play import Play, Quality
from shared.core.language import N_

TWICE: Final = N_("The need of the {role} for {quality} is written twice. Keep one.")


def needs(play: Play) -> Iterator[Fault]:
    """What is wrong with the needs."""
    seen: set[tuple[str, Quality]] = set()
    for index, need in enumerate(play.needs):
        if (need.role, need.quality) in seen:
            slots = {"role": need.role, "quality": need.quality.value}
            yield Fault(("needs", index), "need_twice", TWICE, slots)
        seen.add((need.role, need.quality))
