"""Changing the library: plays, drafts, published revisions. Nothing is ever overwritten."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from django.db import transaction
from django.utils import timezone

from plays.checking import begin
from plays.core.document.file import Written, written
from plays.core.document.form import problems
from plays.core.play import Play as PlayValue
from plays.models import DESCRIBED, Play, Revision, TracedPhoto
from shared.core.finding import Finding
from shared.core.language import ENGLISH, Language
from shared.models import Change, User
from shared.record import change, note_change, note_changes


class ChangedMeanwhileError(Exception):
    """Somebody else has begun or changed the play's draft since it was shown."""


class FaultyPlayError(Exception):
    """The play has faults of form, so it cannot be published."""

    def __init__(self, found: tuple[Finding, ...]) -> None:
        super().__init__("\n".join(problem.sentence for problem in found))
        self.problems = found


@transaction.atomic
def add_play(value: PlayValue, user: User | None, *, note: str = "") -> Play:
    """A new play with its first revision, published. Raises IntegrityError on a known key."""
    (made,) = add_written([written(value)], user, note=note)
    note_changes(published_notes(user, [made]))
    begin()
    return made.play


def add_written(new: Sequence[Written], user: User | None, *, note: str = "") -> list[Revision]:
    """New plays, in writing already, with their first revisions: three queries for any number.

    Call it inside a transaction; whoever adds them keeps the record and has them checked.
    """
    plays = [_described(each) for each in new]
    Play.objects.bulk_create(plays)
    made = [_first_revision(play, each, user, note) for play, each in zip(plays, new, strict=True)]
    for first in made:
        first.published_at = timezone.now()
    Revision.objects.bulk_create(made)
    for first in made:
        first.play.current = first
    Play.objects.bulk_update(plays, ["current"])
    return made


def published_notes(user: User | None, made: Iterable[Revision]) -> list[Change]:
    """The lines of the record that say that these were published."""
    return [change(user, "published", each, after=each.content_hash) for each in made]


@transaction.atomic
def add_draft_play(value: PlayValue, user: User | None, *, note: str = "") -> Revision:
    """A new play that is a draft only. Raises IntegrityError on a known key."""
    new = written(value)
    play = _described(new)
    play.save(force_insert=True)
    draft = _first_revision(play, new, user, note)
    draft.save()
    note_change(user, "began a draft", play)
    return draft


def _described(new: Written) -> Play:
    """The row of a new play, not saved yet."""
    play = Play(key=new.play.key)
    play.describe_from(new)
    return play


def _first_revision(play: Play, new: Written, user: User | None, note: str) -> Revision:
    """The first revision of a play that is saved; itself it is not saved yet."""
    made = Revision(play=play, number=1, author=user, note=note)
    made.hold(new)
    return made


def save_draft(
    play: Play, value: PlayValue, user: User | None, *, note: str = "", seen: str | None = None
) -> Revision:
    """The play's one draft, holding this value: made, or taken over if there is one.

    ``seen`` is the content hash of the newest revision that the person had before their eyes;
    where there is another by now ChangedMeanwhileError is raised and nothing written.
    """
    return save_written_draft(play, written(value), user, note=note, seen=seen)


@transaction.atomic
def save_written_draft(
    play: Play, new: Written, user: User | None, *, note: str = "", seen: str | None = None
) -> Revision:
    """Like ``save_draft``, for a play that is put into writing already."""
    Play.objects.select_for_update().get(pk=play.pk)  # two who save at once wait for each other
    newest = play.revisions.defer("document").order_by("-number").first()
    if seen is not None and (newest is None or seen != newest.content_hash):
        raise ChangedMeanwhileError
    if newest is None or newest.published_at is not None:
        draft = Revision(play=play, number=newest.number + 1 if newest else 1)
        note_change(user, "began a draft", play)
    else:
        draft = newest
        if draft.author_id != (user.pk if user else None):
            note_change(user, "went on with a draft", play, before=str(draft.author or "–"))
    draft.hold(new)
    draft.author, draft.note = user, note
    draft.save()
    if play.current_id is None:
        play.describe_from(new)
        play.save(update_fields=DESCRIBED)
    return draft


@transaction.atomic
def publish(draft: Revision, user: User | None) -> Revision:
    """Freeze a draft and make it the play's current revision. Published ones are left alone."""
    draft = Revision.objects.select_for_update().select_related("play").get(pk=draft.pk)
    if draft.published_at is not None:
        return draft
    draft.published_at = timezone.now()
    draft.save(update_fields=["published_at"])
    draft.play.current = draft
    draft.play.describe_from(draft.written())
    draft.play.save(update_fields=[*DESCRIBED, "current"])
    TracedPhoto.objects.filter(play=draft.play).delete()
    note_change(user, "published", draft, after=draft.content_hash)
    begin()
    return draft


def publish_sound(draft: Revision, user: User, language: Language = ENGLISH) -> Revision:
    """Like ``publish``, for a draft without faults of form. Raises FaultyPlayError."""
    found = problems(draft.value(), language)
    if found:
        raise FaultyPlayError(found)
    return publish(draft, user)


@transaction.atomic
def discard(draft: Revision, user: User) -> None:
    """Drop a draft, and with it a play that was never published. Published ones stay."""
    if draft.published_at is not None:
        return
    play = draft.play
    note_change(user, "discarded", draft, before=draft.document)
    draft.delete()
    TracedPhoto.objects.filter(play=play).delete()
    if play.current_id is None:
        play.delete()


@transaction.atomic
def put_away(play: Play, user: User, *, away: bool = True) -> None:
    """Take a play off the shelf, or bring it back. Teams that carry it keep it."""
    if play.put_away == away:
        return
    play.put_away = away
    play.save(update_fields=["put_away"])
    note_change(user, "put away" if away else "brought back", play)
