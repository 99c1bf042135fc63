"""What a new play begins with: a name, and a formation, a play, a file, words or a photo."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, Final, cast
from urllib.parse import urlencode

from django import forms
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from plays.core.court.courts import court
from plays.core.limits import MAX_NAME
from plays.core.moves.moves import mirror
from plays.core.play import Formation as FormationValue
from plays.core.play import Play as PlayValue
from plays.core.play import Point
from plays.core.shorthand.read import read
from plays.core.shorthand.skeleton import PLACES
from plays.models import AgeGroup, Formation, Play, Situation
from plays.values import play_value
from plays.writing.form import BeginForm
from shared.core.language import Language

APART: Final = 2.0  # metres between those who wait to be placed
COURT: Final = "court"
WORDS: Final = "words"
COPY: Final = "copy"
FILE: Final = "file"
PHOTO: Final = "photo"
WAYS: Final = (
    (COURT, _("On the court")),
    (WORDS, _("In words")),
    (COPY, _("From a play of ours")),
    (PHOTO, _("From a photo")),
    (FILE, _("From a file")),
)
ASKED: Final = ("name", "situation", "level", "formation", "edge", "side")
AS_IT_IS: Final = "as-it-is"
MIRRORED: Final = "mirrored"


class StartForm(BeginForm):
    """All ways in one form, so that going from one to another loses nothing.

    Bound to what is sent; what the address says is its ``initial``.
    """

    way = forms.ChoiceField(
        label=_("How do you want to begin?"), choices=WAYS, widget=forms.RadioSelect
    )
    name = forms.CharField(label=_("Name of the play"), required=False, max_length=MAX_NAME)
    situation = forms.ChoiceField(
        label=_("Situation"),
        required=False,
        choices=[("", _("by the throw-in")), *Situation.choices],
    )
    level = forms.ChoiceField(label=_("Suits"), required=False, choices=AgeGroup.choices)
    play = forms.ChoiceField(label=_("Which play"), required=False)
    side_up = forms.ChoiceField(
        label=_("How it is copied"),
        required=False,
        choices=[(AS_IT_IS, _("as it is")), (MIRRORED, _("mirrored to the other side"))],
        widget=forms.RadioSelect,
    )
    photo = forms.Field(label=_("Photo (JPEG, PNG or WebP)"), required=False)
    file = forms.Field(label=_("File of plays (JSON)"), required=False)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.known = {play.key: play for play in _library()}
        names = [(key, play.name) for key, play in self.known.items()]
        cast("forms.ChoiceField", self.fields["play"]).choices = names
        cast("forms.ChoiceField", self.fields["formation"]).choices = self.formations()
        self.fields["photo"].widget = _picked("image/jpeg,image/png,image/webp")
        self.fields["photo"].widget.attrs["data-photo"] = ""
        self.fields["file"].widget = _picked(".json,application/json")

    def formations(self) -> list[tuple[str, Any]]:
        """Those of the trade that have places of their own, and none of them."""
        known = [(each.value, Formation(each.value).label) for each in PLACES]
        return [*known, (FormationValue.OTHER.value, _("none: I place the five myself"))]

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        way, name = cleaned.get("way"), cleaned.get("name", "")
        if way in (COURT, COPY, PHOTO) and not name and "name" not in self.errors:
            self.add_error("name", gettext("A new play needs a name."))
        if way == COPY and "play" not in self.errors:
            taken = self.known.get(cleaned.get("play", ""))
            if taken is None:
                self.add_error("play", gettext("Choose the play to begin with."))
            elif taken.name == name:
                self.add_error("name", gettext("That is the name of the play it comes from."))
        return cleaned

    def begun_play(self, language: Language) -> PlayValue:
        """The play to draw, with an empty first phase; for a photo the five wait in a row."""
        asked = self.cleaned_data
        by_hand = asked["way"] == PHOTO or asked.get("formation") == FormationValue.OTHER
        if by_hand:
            asked["formation"] = FormationValue.BOX.value
        play = replace(read(self.text(), language).play, name=asked["name"])
        return in_a_row(play) if by_hand else play

    def taken_over(self) -> tuple[PlayValue, PlayValue]:
        """The play that was chosen, and what becomes of it under its new name."""
        asked = self.cleaned_data
        value = play_value(self.known[asked["play"]].published())
        moved = mirror(value) if asked.get("side_up") == MIRRORED else replace(value, origin=None)
        return value, replace(moved, name=asked["name"])

    def words_query(self) -> str:
        """What the page of words is asked for."""
        said = {name: self.cleaned_data.get(name, "") for name in ASKED}
        return urlencode({name: value for name, value in said.items() if value})


def in_a_row(play: PlayValue) -> PlayValue:
    """Everybody but the thrower near half court, where nobody takes it for a formation."""
    y = court(play.court).half_y - 1.0
    row = iter(Point(APART * (n - 1.5), y) for n in range(4))
    free = play.thrower or play.ball
    starts = tuple(
        start if start.role == free else replace(start, at=next(row)) for start in play.starts
    )
    return replace(play, starts=starts, formation=FormationValue.OTHER)


def _library() -> list[Play]:
    """What can be copied: all plays on the shelf, their documents left unread."""
    return list(Play.objects.on_shelf().with_current().order_by("name", "pk"))


def _picked(accept: str) -> forms.FileInput:
    return forms.FileInput(attrs={"accept": accept})
