"""All that a role has to be told, whichever look is thrown: the play's ways put together."""

from __future__ import annotations

from collections.abc import Set
from dataclasses import replace

from plays.core.play import Play, Role
from plays.core.sequence.after_look import ways
from plays.core.words.facts import Fact, PartFacts, StepFacts
from plays.core.words.facts_of_play import FactReader


def part_facts(play: Play, role: Role) -> PartFacts:
    """What a role has to be told. Raises KeyError for a role without a start.

    Of a play that runs in several ways each further one adds what it has alone.
    """
    first, *others = (FactReader(way, role, play) for way in ways(play))
    part, known = first.part(), {phase.id for phase in first.play.phases}
    for reader in others:
        part = _added(part, reader, known)
        known |= {phase.id for phase in reader.play.phases}
    steps = tuple(sorted(part.steps, key=lambda step: step.number))
    return replace(part, steps=steps, looks=tuple(sorted(part.looks, key=lambda k: k.number)))


def _added(part: PartFacts, reader: FactReader, known: Set[str]) -> PartFacts:
    """The part with what a way has alone: its phases are not among those ``known``."""
    new = [index for index, leg in enumerate(reader.own) if leg.phase not in known]
    told = {look.number for look in part.looks}
    return replace(
        part,
        starts=(*part.starts, *_caught(reader, None, known)),
        steps=(
            *(_caught_anew(step, reader, known) for step in part.steps),
            *(reader.step(index) for index in new),
        ),
        ends=None if new else part.ends,
        looks=(*part.looks, *(look for look in reader.looks() if look.number not in told)),
    )


def _caught_anew(step: StepFacts, reader: FactReader, known: Set[str]) -> StepFacts:
    """A step of all ways with the passes that come to it in this way alone."""
    place = (n for n, leg in enumerate(reader.own) if leg.action.id == step.action.id)
    index = next(place, None)
    more = () if index is None else _caught(reader, index, known)
    return replace(step, facts=(*step.facts, *more))


def _caught(reader: FactReader, index: int | None, known: Set[str]) -> tuple[Fact, ...]:
    caught = (each for each in reader.catches(index) if reader.phase_of(each) not in known)
    found: list[Fact] = []
    for each in caught:
        found += [each, *reader.caught_after((each,), index)]
    return tuple(found)
