"""Keeping a play as it is seen: moved, turned or on another court, as a draft of its own."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, Final

from django import forms
from django.utils.text import slugify
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from plays.core.document.file import content_hash
from plays.core.limits import MAX_NAME
from plays.core.play import Play as PlayValue
from plays.library.changes import ChangedMeanwhileError, add_draft_play, save_draft
from plays.models import Play, Revision
from shared.forms import ClearForm
from shared.models import User

NEW: Final = "new"
DRAFT: Final = "draft"


class KeepForm(ClearForm):
    """As a new play with a name of its own, or as a draft of the play it comes from."""

    kept_as = forms.ChoiceField(
        label=_("Keep it as"),
        choices=[(NEW, _("a new play")), (DRAFT, _("a draft of this play"))],
        widget=forms.RadioSelect,
        initial=NEW,
    )
    name = forms.CharField(label=_("Name of the new play"), required=False, max_length=MAX_NAME)
    seen = forms.CharField(widget=forms.HiddenInput, required=False)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        if cleaned.get("kept_as") == NEW and not cleaned.get("name"):
            self.add_error("name", gettext("A new play needs a name."))
        return cleaned


def name_of(play: PlayValue) -> str:
    """A name to begin with for a play that came about from this one."""
    return (gettext("%(name)s, moved") % {"name": play.name})[:MAX_NAME]


def free_key(name: str) -> str:
    """A key that no play has yet, made from the name."""
    stem = slugify(name)[: MAX_NAME - 5].strip("-_") or "play"
    taken = set(Play.objects.filter(key__startswith=stem).values_list("key", flat=True))
    if stem not in taken:
        return stem
    return next(key for n in range(2, len(taken) + 3) if (key := f"{stem}-{n}") not in taken)


def same_move(value: PlayValue) -> Revision | None:
    """A revision of the library that came about from the same play by the same moves."""
    if value.origin is None:
        return None
    rows = Revision.objects.filter(
        document__origin__content=value.origin.content, document__origin__move=value.origin.move
    )
    rows = rows.select_related("play").defer("document")
    return rows.order_by("play__put_away", "-number").first()


def keep_as_new(value: PlayValue, name: str, user: User, note: str) -> Revision:
    """A new play of this content, as a draft; asked twice, the one that is there."""
    named = replace(value, name=name)
    known = Revision.objects.filter(content_hash=content_hash(named)).select_related("play")
    again = known.first()
    if again is not None:
        return again
    return add_draft_play(replace(named, key=free_key(name)), user, note=note)


def keep_as_draft(
    play: Play, shown: Revision, value: PlayValue, user: User, *, note: str, seen: str
) -> Revision:
    """This content as the draft of its play.

    Raises ChangedMeanwhileError where the play has another draft than the one that was shown.
    """
    other = play.revisions.filter(published_at=None).exclude(pk=shown.pk).exists()
    if other:
        raise ChangedMeanwhileError
    return save_draft(play, value, user, note=note, seen=seen)
