"""What a play drawn by hand begins with."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from plays.core.court.courts import court
from plays.core.limits import MAX_NAME
from plays.core.play import Formation as FormationValue
from plays.core.play import Play as PlayValue
from plays.core.play import Point
from plays.core.shorthand.read import read
from plays.core.shorthand.skeleton import PLACES
from plays.models import Formation
from plays.writing.form import BeginForm
from shared.core.language import Language

APART = 2.0  # metres between those who wait to be placed


class DrawForm(BeginForm):
    """A name, and where the five stand: a formation of the trade, or in a row to be placed."""

    name = forms.CharField(label=_("Name of the play"), max_length=MAX_NAME)

    field_order = ("name", "formation", "edge", "side")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        known = [(each.value, Formation(each.value).label) for each in PLACES]
        other = (FormationValue.OTHER.value, _("none: I place the five myself"))
        self.fields["formation"].choices = [*known, other]  # type: ignore[attr-defined]

    def play(self, language: Language) -> PlayValue:
        """The play to begin with, with an empty first phase."""
        asked = self.cleaned_data
        by_hand = asked.get("formation") == FormationValue.OTHER
        if by_hand:
            asked["formation"] = FormationValue.BOX.value
        play = replace(read(self.text(), language).play, name=asked["name"])
        return _in_a_row(play) if by_hand else play


def _in_a_row(play: PlayValue) -> PlayValue:
    """Everybody but the thrower near half court, where nobody takes it for a formation."""
    y = court(play.court).half_y - 1.0
    row = iter(Point(APART * (n - 1.5), y) for n in range(4))
    free = play.thrower or play.ball
    starts = tuple(
        start if start.role == free else replace(start, at=next(row)) for start in play.starts
    )
    return replace(play, starts=starts, formation=FormationValue.OTHER)
