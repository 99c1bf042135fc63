"""What changes for one role when the defence does something, in words.

Not written by anybody: the role's part in the changed play is held against its part in the
plain one, and where the sentences differ, the new ones are given. Step numbers are those of
the plain part, which the player reads first.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from plays.core.play import Counter, Play
from plays.core.sequence.course import with_counter
from plays.core.words.plain import plain_part
from plays.core.words.reads import when
from plays.core.words.role_part import ChangeKind, CounterPart, PartChange, RolePart, Step
from plays.core.words.speaker import Speaker
from plays.core.words.terms import own_words
from shared.core.language import N_

STEP_IS_NOW: Final = N_("Step {n} is now:")
DO_NOT_WAIT: Final = N_("Do not wait.")
LEAVE_OUT: Final = N_("Leave out step {n}.")
INSTEAD: Final = N_("Instead of step {n}:")
NEW_FIRST: Final = N_("New, before all other steps:")
NEW_AFTER: Final = N_("New, after step {n}:")
LOOKS_ARE_NOW: Final = N_("The looks are now:")
NOT_A_LOOK_NOW: Final = N_("You are not one of the looks now.")
SAME: Final = N_("Nothing changes for you.")


def counter_part(play: Play, counter: Counter, plain: RolePart, voice: Speaker) -> CounterPart:
    """The differences between ``plain`` and the part in the play with the counter."""
    part = plain_part(with_counter(play, counter), voice)
    changes = tuple(part_changes(plain, part, voice))
    return CounterPart(
        counter.id,
        counter.defence,
        when(counter.defence, counter.whose, voice.language, voice.person, voice.reader),
        own_words(counter, voice.language),
        changes,
        "" if changes else voice.say(SAME),
        part,
    )


def part_changes(old: RolePart, new: RolePart, voice: Speaker) -> Iterator[PartChange]:
    """What a role has to do otherwise; step numbers are those of ``old``."""
    if new.start != old.start:
        yield PartChange(ChangeKind.START, "", new.start)
    yield from _step_changes(old.steps, new.steps, voice)
    if new.ending != old.ending:
        yield PartChange(ChangeKind.ENDING, "", (new.ending,))
    if [line.sentences for line in new.looks] != [line.sentences for line in old.looks]:
        yield _look_change(new, voice)


def _step_changes(
    old: tuple[Step, ...], new: tuple[Step, ...], voice: Speaker
) -> Iterator[PartChange]:
    """In order of time. Between two steps that stay, new steps take the place of those that go."""
    before = {step.action: step for step in old}
    kept = {step.action for step in new}
    gone = [step for step in old if step.action not in kept]
    fresh: list[Step] = []
    after = 0
    for step in new:
        if step.action not in before:
            fresh.append(step)
            continue
        number = before[step.action].number
        yield from _swapped([s for s in gone if after < s.number < number], fresh, after, voice)
        after, fresh = number, []
        if step.sentences != before[step.action].sentences:
            heading = voice.say(STEP_IS_NOW, n=number)
            said = _told_against(before[step.action], step, voice)
            yield PartChange(ChangeKind.STEP, heading, said, step.action)
    yield from _swapped([s for s in gone if s.number > after], fresh, after, voice)


def _told_against(old: Step, new: Step, voice: Speaker) -> tuple[str, ...]:
    """The new sentences of a step; a wait that fell away is said, for it left no sentence."""
    return (voice.say(DO_NOT_WAIT), *new.sentences) if old.wait and not new.wait else new.sentences


def _swapped(
    gone: list[Step], fresh: list[Step], after: int, voice: Speaker
) -> Iterator[PartChange]:
    for old, step in zip(gone, fresh, strict=False):
        heading = voice.say(INSTEAD, n=old.number)
        yield PartChange(ChangeKind.STEP, heading, step.sentences, step.action)
    for old in gone[len(fresh) :]:
        heading = voice.say(LEAVE_OUT, n=old.number)
        yield PartChange(ChangeKind.LEFT_OUT, heading, (), old.action)
    last = gone[-1].number if gone else after
    for step in fresh[len(gone) :]:
        heading = voice.say(NEW_AFTER, n=last) if last else voice.say(NEW_FIRST)
        yield PartChange(ChangeKind.NEW_STEP, heading, step.sentences, step.action)


def _look_change(new: RolePart, voice: Speaker) -> PartChange:
    if not new.looks:
        return PartChange(ChangeKind.LOOKS, voice.say(NOT_A_LOOK_NOW))
    sentences = tuple(sentence for line in new.looks for sentence in line.sentences)
    return PartChange(ChangeKind.LOOKS, voice.say(LOOKS_ARE_NOW), sentences)
