"""What changed between two revisions of a play, for people: by role, and for the whole play.

A role's changes are the sentences of its part that are new, as a counter's are; so a player
reads the same words as on the sheet. What no sentence tells (a place moved by a step, a
defender drawn elsewhere) is still named, so that two revisions that differ never look alike.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

from plays.core.play import ROLES, Action, Play, Role
from plays.core.words.counters import SAME, part_changes
from plays.core.words.difference_looks import look_changes
from plays.core.words.difference_play import play_changes, variant_changes
from plays.core.words.part import part_of
from plays.core.words.role_part import ChangeKind, CounterPart, RolePart, Step
from plays.core.words.speaker import speaker
from shared.core.language import ENGLISH, N_, Language

NEW_CUE: Final = N_("New cue for step {n}: “{cue}”")
CUE_GONE: Final = N_("Step {n} no longer has the cue “{cue}”.")
STEP_ELSEWHERE: Final = N_("Step {n} goes a little another way; the words for it stay.")
START_ELSEWHERE: Final = N_("You start a little elsewhere; the words for it stay.")
IN_COUNTER: Final = N_("{when}: {sentences}")
EVERYBODY: Final = N_("Everybody's places have changed.")
NEW_ANSWER: Final = N_("New. {when}: {sentences}")
ANSWER_GONE: Final = N_("{when}: do as always. The answer to this is gone.")
UNTOLD: Final = N_("Something changed that neither words nor diagrams show.")


@dataclass(frozen=True, slots=True)
class PlayChange:
    """One thing that changed: for one role, or with ``role`` None for the play."""

    role: Role | None
    sentence: str


def difference(old: Play, new: Play, language: Language = ENGLISH) -> tuple[PlayChange, ...]:
    """Everything that changed from ``old`` to ``new``, the play first, then role by role.

    Empty just when the two say the same; ``key`` and ``origin`` do not count.
    Raises KeyError for a play in which a role has no start.
    """
    before, after = _bare(old, new), new
    if before == after:
        return ()
    looks = tuple(look_changes(before, after, language))
    shared = [*play_changes(before, after, language), *looks]
    shift = _all_moved(before, after)
    if shift:
        shared.append(language.say(EVERYBODY))
    found = [PlayChange(None, sentence) for sentence in shared]
    for role in ROLES:
        own = _RoleDifference(before, after, role, language, told=bool(looks), shift=shift)
        found.extend(PlayChange(role, sentence) for sentence in dict.fromkeys(own.sentences()))
    return tuple(found) or (PlayChange(None, language.say(UNTOLD)),)


def role_changes(old: Play, new: Play, role: Role, language: Language = ENGLISH) -> tuple[str, ...]:
    """What changed in what the reader of one role is told; empty where all of it stayed.

    Calls are everybody's, because all hear them. What only the staff reads (guesses, needs, when
    to use the play) is no change for a player. Raises KeyError for a role without a start.
    """
    before = _bare(old, new)
    shift = _all_moved(before, new)
    own = _RoleDifference(before, new, role, language, told=False, shift=shift)
    said = [language.say(EVERYBODY)] if shift else []
    said += [*variant_changes(before.variants, new.variants, language), *own.sentences()]
    if not shift:
        said += own.answers()
    return tuple(dict.fromkeys(said))


def _bare(old: Play, new: Play) -> Play:
    return replace(old, key=new.key, origin=new.origin)


def _all_moved(old: Play, new: Play) -> bool:
    """Whether the play as a whole was moved: then small shifts are not told one by one."""
    before = {start.role: start.at for start in old.starts}
    return all(start.at != before.get(start.role) for start in new.starts)


@lru_cache(maxsize=64)
def _part(play: Play, role: Role, language: Language) -> RolePart:
    """A role's part without names: one revision is compared with several, and both ways."""
    return part_of(play, role, None, language)


class _RoleDifference:
    """What one role has to do otherwise, in the order of its part."""

    def __init__(
        self, old: Play, new: Play, role: Role, language: Language, *, told: bool, shift: bool
    ) -> None:
        self.plays, self.role, self.language = (old, new), role, language
        self.told, self.shift = told, shift
        self.old, self.new = _part(old, role, language), _part(new, role, language)

    def sentences(self) -> Iterator[str]:
        voice = speaker(self.plays[1], self.role, {}, self.language)
        said: set[str | None] = set()
        for change in part_changes(self.old, self.new, voice):
            if change.kind is ChangeKind.LOOKS and (self.told or self.shift):
                continue  # told for everybody: the play's own list, or all its places
            said.add(change.action)
            yield change.text
        yield from self._cues()
        if not self.shift:
            yield from self._unsaid(said)
            yield from self._counters()

    def _unsaid(self, said: set[str | None]) -> Iterator[str]:
        """Places that moved so little that their words stayed."""
        old, new = self.plays
        if old.start_of(self.role) != new.start_of(self.role) and self.old.start == self.new.start:
            yield self.language.say(START_ELSEWHERE)
        before = {action.id: _without_cues(action) for action in old.actions()}
        after = {action.id: _without_cues(action) for action in new.actions()}
        for step in self.old.steps:
            known = step.action in after and step.action not in said
            if known and before[step.action] != after[step.action]:
                yield self.language.say(STEP_ELSEWHERE, n=step.number)

    def _cues(self) -> Iterator[str]:
        before: dict[str, Step] = {step.action: step for step in self.old.steps}
        for step in self.new.steps:
            old = before[step.action].teach if step.action in before else ()
            for cue in step.teach:
                if cue not in old:
                    yield self.language.say(NEW_CUE, n=step.number, cue=cue)
            for cue in old:
                if cue not in step.teach:
                    yield self.language.say(CUE_GONE, n=step.number, cue=cue)

    def _counters(self) -> Iterator[str]:
        """What changes when the defence answers, where that is no longer what it was."""
        before = {counter.id: self._answer(counter) for counter in self.old.counters}
        for counter in self.new.counters:
            now = self._answer(counter)
            if before.get(counter.id, now) != now:
                yield self.language.say(IN_COUNTER, when=counter.title, sentences=now)

    def answers(self) -> Iterator[str]:
        """Counters that are new or gone, where they change anything for the role."""
        before = {counter.id: counter for counter in self.old.counters}
        after = {counter.id: counter for counter in self.new.counters}
        for counter in self.new.counters:
            if counter.id not in before and counter.changes:
                answer = self._answer(counter)
                yield self.language.say(NEW_ANSWER, when=counter.title, sentences=answer)
        for counter in self.old.counters:
            if counter.id not in after and counter.changes:
                yield self.language.say(ANSWER_GONE, when=counter.title)

    def _answer(self, counter: CounterPart) -> str:
        kept = [c for c in counter.changes if c.kind is not ChangeKind.LOOKS or not self.told]
        return " ".join(change.text for change in kept) or self.language.say(SAME)


def _without_cues(action: Action) -> Action:
    return replace(action, teach=())
