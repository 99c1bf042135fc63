"""All problems of form of a play at once, each at its place in a coach's words.

Form is what must hold whatever the rules and however fast people run: five people, one ball,
cues that can come true. Whether a play can be run is for ``findings``.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields
from typing import Final

from plays.core.calls import by_role
from plays.core.document.actions import actions, joints, needs
from plays.core.document.after import afters
from plays.core.document.counters import counters, reads
from plays.core.document.floor import places
from plays.core.document.problem import problem
from plays.core.document.runs import as_run
from plays.core.document.translations import translations
from plays.core.document.values import single_values
from plays.core.document.variants import swaps_sound, variants
from plays.core.document.walk import Fault, Place, Run, counter_run, plain_run, ways_of
from plays.core.play import Play
from plays.core.sequence.swaps import with_swaps
from shared.core.finding import Finding
from shared.core.language import ENGLISH, N_, Language

_RANK: Final = {part.name: index for index, part in enumerate(fields(Play))}

UNFINISHED: Final = frozenset({"empty_text", "idle_role", "no_actions", "counter_empty"})
"""What is not wrong but still to come: somebody has not drawn or written the play to its end."""

IN_COUNTER: Final = N_("When counter “{counter}” is run: {sentence}")
IN_VARIANT: Final = N_("When “{call}” is called: {sentence}")


def problems(play: Play, language: Language = ENGLISH) -> tuple[Finding, ...]:
    """Every problem of form, in the order of the document; none for a sound play."""
    found = _faults_said(play, language)
    found += [_said(fault, language) for fault in (*variants(play), *translations(play))]
    found += _in_variants(play, {each.code for each in found}, language)
    return tuple(sorted(dict.fromkeys(found), key=_document_order))


def _faults_said(play: Play, language: Language) -> list[Finding]:
    """What is wrong with the play by its first call."""
    said = [_said(fault, language) for fault in _plain_faults(play)]
    return [*said, *_in_counters(play, language)]


def _in_variants(play: Play, known: set[str], language: Language) -> Iterator[Finding]:
    """What goes wrong only when jobs are swapped; a mirror can break no rule of form."""
    for index, variant in enumerate(play.variants):
        if not (variant.swaps and swaps_sound(variant)):
            continue
        for found in _faults_said(with_swaps(play, variant.swaps), language):
            if found.code not in known:
                slots = {"call": by_role(variant.call, language), "sentence": found.sentence}
                yield problem(("variants", index), found.code, language, IN_VARIANT, **slots)


def _plain_faults(play: Play) -> Iterator[Fault]:
    yield from single_values(play)
    yield from places(play)
    yield from actions(play)
    yield from afters(play)
    yield from counters(play)
    yield from reads(play)
    yield from needs(play)
    yield from _run_faults(plain_run(play))


def _run_faults(run: Run) -> Iterator[Fault]:
    """Of a play that runs in several ways each fault once, however many ways have it."""
    told = set[tuple[Place, str]]()
    for way in ways_of(run):
        found = [*as_run(way), *joints(way)]
        yield from (fault for fault in found if (fault.place, fault.code) not in told)
        told |= {(fault.place, fault.code) for fault in found}


def _in_counters(play: Play, language: Language) -> Iterator[Finding]:
    """What goes wrong only when a counter is run; said at the counter, or at what it brings."""
    plain = plain_run(play)
    known = {(fault.place, fault.code) for fault in _run_faults(plain)}
    for index, counter in enumerate(play.counters):
        run = counter_run(plain, index)
        for fault in _run_faults(run) if run is not None else ():
            if fault.place[:1] == ("counters",):
                yield _said(fault, language)
            elif (fault.place, fault.code) not in known:
                said = _said(fault, language).sentence
                slots = {"counter": counter.id, "sentence": said}
                yield problem(("counters", index), fault.code, language, IN_COUNTER, **slots)


def _said(fault: Fault, language: Language) -> Finding:
    return problem(fault.place, fault.code, language, fault.template, **fault.slots)


def _document_order(found: Finding) -> tuple[tuple[int, str], ...]:
    tokens = found.place.split("/")[1:]
    return tuple(
        (int(t), "") if t.isascii() and t.isdigit() else (_RANK.get(t, len(_RANK)), t)
        for t in tokens
    )
