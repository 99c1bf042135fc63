"""Bringing plays in: a preview that says what each would do, then what was chosen, or nothing.

Nothing is stored between preview and bringing in: the sound plays travel in the form, packed
and signed, and are weighed against the library again when they come back. So a request that
is repeated finds its plays here already and changes nothing, and what others did meanwhile
is seen.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from django.core import signing
from django.db import transaction
from django.db.models import Q
from django.utils.safestring import SafeString

from plays.checking import begin
from plays.core.document.file import Written, read_own, written
from plays.core.play import Play as PlayValue
from plays.core.words.difference import PlayChange, difference
from plays.files.file import PlayFile
from plays.library.changes import add_written, published_notes, save_written_draft
from plays.models import AgeGroup, Revision, Situation
from plays.play.pictures import first_phase
from plays.values import play_value, read_ahead
from shared.core.finding import Finding
from shared.models import User
from shared.record import change, note_changes
from shared.speech import language_now

SALT: Final = "plays.bring-in"
PICTURED: Final = 60  # plays of one file that are shown with a picture
LASTS: Final = 24 * 3600  # seconds that a preview can be acted on


class StaleError(Exception):
    """The preview was made too long ago, or not by this site."""


class MovedOnError(Exception):
    """The library has changed since the preview: what was chosen would do something else."""


class Fate(StrEnum):
    """What bringing a play in would do."""

    ADD = "add"  # a new play
    REVISE = "revise"  # a draft of a play that is here
    HERE = "here"  # nothing: this content is in the library already
    WAITS = "waits"  # nothing: the play has a draft with other content
    FAULTY = "faulty"  # nothing: the play has problems
    TWICE = "twice"  # nothing: the same key stands earlier in the file


@dataclass(frozen=True, slots=True)
class Item:
    """A play of a file, weighed against the library.

    ``known`` is the revision that it repeats or would follow, or the draft that stands in
    its way.
    """

    name: str
    written: Written | None
    fate: Fate
    known: Revision | None = None
    problems: tuple[Finding, ...] = ()

    @property
    def can_come(self) -> bool:
        return self.fate in (Fate.ADD, Fate.REVISE)

    @property
    def is_new(self) -> bool:
        return self.fate is Fate.ADD

    @property
    def changes(self) -> tuple[PlayChange, ...]:
        """What it would change of the play that is here, in sentences."""
        if self.fate is not Fate.REVISE or self.known is None or self.value is None:
            return ()
        return difference(play_value(self.known), self.value, language_now())

    @property
    def picture(self) -> SafeString | str:
        """The first phase, where the play is sound."""
        return first_phase(self.written, language_now()) if self.written else ""

    @property
    def for_whom(self) -> tuple[str, str]:
        """Situation and level in words."""
        if self.value is None:
            return "", ""
        situation, level = Situation(self.value.situation), AgeGroup(self.value.level)
        return str(situation.label), str(level.label)

    @property
    def value(self) -> PlayValue | None:
        return self.written.play if self.written else None

    @property
    def key(self) -> str:
        return self.value.key if self.value else ""


@dataclass(frozen=True, slots=True)
class Preview:
    """Every play of a file in its order, and the token by which it can be brought in."""

    items: tuple[Item, ...]
    token: str

    @property
    def pictured(self) -> int:
        """How many of the first are shown with a picture."""
        return PICTURED

    @property
    def coming(self) -> int:
        return sum(item.can_come for item in self.items)

    @property
    def faulty(self) -> int:
        return sum(item.fate is Fate.FAULTY for item in self.items)


def preview_of(file: PlayFile) -> Preview:
    """What each play of a file would do: two queries, whatever the number of plays."""
    sound = [each.play for each in file.plays if each.play is not None]
    weighed = iter(_weighed(sound))
    items = tuple(
        Item(each.name, None, Fate.FAULTY, problems=each.problems)
        if each.play is None
        else next(weighed)
        for each in file.plays
    )
    return _preview(items)


def preview_again(token: str) -> Preview:
    """The same preview against the library of now. Raises StaleError."""
    values = [value for value, _ in _unpacked(token)]
    return _preview(tuple(_weighed(values)))


def _preview(items: tuple[Item, ...]) -> Preview:
    """Those that would change a play are read beside it, all at once."""
    read_ahead(item.known for item in items if item.fate is Fate.REVISE and item.known)
    return Preview(items, _packed(items))


@transaction.atomic
def bring_in(token: str, chosen: Collection[str] | None, user: User) -> tuple[Item, ...]:
    """Bring in the plays chosen by key, or all where None; tell what became of each.

    A play that is here by now is left alone. Raises StaleError, or MovedOnError where one
    would now do something else than the preview said.
    """
    before = _unpacked(token)
    weighed = _weighed([value for value, _ in before])
    items = [item for item in weighed if chosen is None or item.key in chosen]
    said = {value.key: fate for value, fate in before}
    if any(item.fate is not Fate.HERE and item.fate != said[item.key] for item in items):
        raise MovedOnError
    done = tuple(item for item in items if item.can_come)
    if done:
        added = add_written([each.written for each in done if each.is_new and each.written], user)
        for item in done:
            if item.known is not None and item.written is not None:
                _save_draft(item.known, item.written, user)
        keys = [item.key for item in done]
        told = change(user, "brought in plays", "library", after=keys)
        note_changes([*published_notes(user, added), told])
        begin()
    return done


def _save_draft(known: Revision, new: Written, user: User) -> None:
    save_written_draft(known.play, new, user, seen=known.content_hash)


def _weighed(values: Sequence[PlayValue]) -> Iterable[Item]:
    """Each play against what the library holds by its key and by its content."""
    new = [written(value) for value in values]
    hashes = {each.content_hash for each in new}
    rows = Revision.objects.select_related("play").defer("document").order_by("number")
    keys = {value.key for value in values}
    found = list(rows.filter(Q(content_hash__in=hashes) | Q(play__key__in=keys)))
    by_content = {row.content_hash: row for row in found}
    newest = {row.play.key: row for row in found}
    seen: set[str] = set()
    for each in new:
        key = each.play.key
        yield _weigh(each, by_content.get(each.content_hash), newest.get(key), seen)
        seen.add(key)


def _weigh(new: Written, same: Revision | None, newest: Revision | None, seen: set[str]) -> Item:
    name = new.play.name
    if new.play.key in seen:
        return Item(name, new, Fate.TWICE)
    if same is not None:
        return Item(name, new, Fate.HERE, same)
    if newest is None:
        return Item(name, new, Fate.ADD)
    fate = Fate.WAITS if newest.published_at is None else Fate.REVISE
    return Item(name, new, fate, newest)


def _packed(items: Iterable[Item]) -> str:
    """The plays that could come, each with its fate, so that a change of fate is noticed."""
    held = [
        [item.fate.value, item.written.document] for item in items if item.written and item.can_come
    ]
    return signing.dumps(held, salt=SALT, compress=True)


def _unpacked(token: str) -> list[tuple[PlayValue, Fate]]:
    try:
        held = signing.loads(token, salt=SALT, max_age=LASTS)
    except signing.BadSignature as error:
        raise StaleError from error
    return [(read_own(document), Fate(fate)) for fate, document in held]
