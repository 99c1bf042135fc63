"""How a computed play notes where it came from, so that undoing a move also undoes the note.

``Origin.content`` is the content hash of the play from which a chain of moves began;
``Origin.move`` lists the moves, parted by "; ": ``mirror``, ``slide 8.325 5.0`` (from, to),
``turn 8.325 3.35`` (from, to; the lines change places), ``court FIBA NFHS``, ``pull in``,
``copy of`` and where from. Two slides in a row are one, a move and its opposite cancel, and a
play that is back where its chain began has no origin.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

from plays.core.document.file import content_hash
from plays.core.play import Origin, Play
from shared.core.language import N_, Language

_BETWEEN: Final = "; "
_MIRROR: Final = "mirror"
_COURT: Final = "court"
PULL_IN: Final = "pull in"
_COPY: Final = "copy of "
_ONE_WAY: Final = (_COURT, PULL_IN)  # what comes back from these is not quite what went

MIRRORED: Final = N_("mirrored to the other side")
SLID: Final = N_("moved along the line, from {old} m to {new} m")
TURNED: Final = N_("turned between sideline and baseline")
PULLED_IN: Final = N_("pulled in where it left the court")
COPIED: Final = N_("copied from {source}")
OTHER_COURT: Final = N_("carried from the {old} court to the {new} court")
_PLAINLY: Final = {_MIRROR: MIRRORED, "turn": TURNED, PULL_IN: PULLED_IN}


@dataclass(frozen=True, slots=True)
class MoveStep:
    """One move: its name and what it went from and to, as written."""

    name: str
    old: str = ""
    new: str = ""

    def __str__(self) -> str:
        return f"{self.name} {self.old} {self.new}" if self.old or self.new else self.name

    @property
    def opposite(self) -> MoveStep:
        return MoveStep(self.name, self.new, self.old)


def steps(play: Play) -> tuple[MoveStep, ...]:
    """The moves by which a play came about; text that is no move of ours stays one step."""
    if play.origin is None:
        return ()
    return tuple(_read(text) for text in play.origin.move.split(_BETWEEN))


def with_step(before: Play, after: Play, step: MoveStep) -> Play:
    """``after``, noting that ``step`` led to it from ``before``."""
    chain = steps(before)
    root = content_hash(before) if before.origin is None else before.origin.content
    bare = replace(after, origin=None)
    joined = _joined(chain, step)
    if (not joined or step.name == _COURT) and content_hash(bare) == root:
        return bare
    # A play that was edited after the move is not back at the root: both moves are kept.
    move = _BETWEEN.join(map(str, joined or (*chain, step)))
    return replace(bare, origin=Origin(root, move))


def copied(play: Play, source: str) -> Play:
    """The play as a copy that says where it was taken: "Harbour BC, Gangway 2"."""
    root = content_hash(play) if play.origin is None else play.origin.content
    step = MoveStep(_COPY + source.replace(_BETWEEN, ", "))
    return replace(play, origin=Origin(root, _BETWEEN.join(map(str, (*steps(play), step)))))


def step_words(step: MoveStep, language: Language) -> str:
    """One move in words: "mirrored to the other side"."""
    if step.name in _PLAINLY:
        return language.say(_PLAINLY[step.name])
    if step.name == "slide":
        old, new = (language.number(float(text), 3) for text in (step.old, step.new))
        return language.say(SLID, old=old, new=new)
    if step.name == _COURT:
        return language.say(OTHER_COURT, old=step.old, new=step.new)
    if step.name.startswith(_COPY):
        return language.say(COPIED, source=step.name.removeprefix(_COPY))
    return str(step)


def _read(text: str) -> MoveStep:
    name, *values = text.split(" ")
    if name in ("slide", "turn") and len(values) == 2 and all(map(_is_length, values)):
        return MoveStep(name, *values)
    if name == _COURT and len(values) == 2:
        return MoveStep(name, *values)
    return MoveStep(text)


def _is_length(text: str) -> bool:
    return text.replace(".", "", 1).isdecimal() and text.isascii()


def _joined(chain: tuple[MoveStep, ...], step: MoveStep) -> tuple[MoveStep, ...]:
    """The chain with one more step; the mirror, which swaps with every other, comes last."""
    if not chain:
        return (step,)
    last = chain[-1]
    if step == last.opposite and step.name not in _ONE_WAY:
        return chain[:-1]
    if last.name == _MIRROR:
        return (*_joined(chain[:-1], step), last)
    if step.name == last.name == "slide" and last.new == step.old:
        return (*chain[:-1], MoveStep("slide", last.old, step.new))
    return (*chain, step)
