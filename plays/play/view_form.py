"""A play as somebody wants to see it: moved, on another court, with names. Nothing is stored.

Everything is in the address, so a view can be kept as a link, and the server holds no state.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, cast
from urllib.parse import urlencode

from django import forms
from django.utils.formats import number_format
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from plays.core.calls import by_name
from plays.core.court.courts import court
from plays.core.drawing.frame import Crop
from plays.core.drawing.options import Drawing, LabelKind
from plays.core.moves.moves import OffTheLineError, mirror, slide, turn
from plays.core.moves.off_court import off_court, pull_in, texts_to_reread
from plays.core.moves.origins import step_words, steps
from plays.core.moves.other_court import on_court
from plays.core.moves.variants import expanded
from plays.core.play import ROLES, Defender, Play, Role, RuleSet, Stance
from plays.ports import Carrier
from shared.core.language import Language
from shared.forms import ClearForm
from shared.speech import language_now

CROPS = [("half", _("half court")), ("full", _("full court")), ("action", _("around the action"))]
LABELS = [("both", _("number and name")), ("name", _("name")), ("number", _("number"))]
COURTS = {
    RuleSet.FIBA: "FIBA",
    RuleSet.NFHS: _("NFHS, 84 ft"),
    RuleSet.NFHS_94: _("NFHS, 94 ft"),
    RuleSet.NCAA: "NCAA",
    RuleSet.NBA: "NBA",
    RuleSet.WNBA: "WNBA",
}


def drawn(play: Play, drawing: Drawing) -> Play:
    """The play as it is drawn: with defenders, nobody goes without one.

    Whom the coach drew no defender for is guarded from between man and basket.
    """
    if not drawing.defenders:
        return play
    guarded = {defender.guards for defender in play.defenders}
    others = (Defender(role, stance=Stance.BETWEEN) for role in ROLES if role not in guarded)
    return replace(play, defenders=(*play.defenders, *others))


@dataclass(frozen=True, slots=True)
class Moved:
    """A play after the moves asked for: what was done, what does not fit, what to read again."""

    play: Play
    moves: tuple[str, ...]
    off: tuple[str, ...]
    reread: tuple[str, ...]
    called: str = ""  # the call of the variant that is shown

    @property
    def is_moved(self) -> bool:
        """Whether this is another play, to be kept as one; a variant belongs to its own."""
        return bool(self.moves) and not self.called


class ViewForm(ClearForm):
    """The switches of a play page. Bound to the address; every field may be left out."""

    defenders = forms.BooleanField(label=_("Defenders"), required=False)
    crop = forms.ChoiceField(label=_("Floor"), required=False, choices=CROPS)
    team = forms.ChoiceField(label=_("Names of"), required=False)
    called = forms.ChoiceField(label=_("Call"), required=False)
    label = forms.ChoiceField(label=_("People as"), required=False, choices=LABELS)
    mirror = forms.BooleanField(label=_("Mirrored"), required=False)
    turn = forms.BooleanField(required=False)
    along = forms.FloatField(label=_("Thrown in at, in metres"), required=False, min_value=0)
    court = forms.ChoiceField(label=_("Court"), required=False)
    pull_in = forms.BooleanField(label=_("Pull in what left the court"), required=False)

    def __init__(self, *args: Any, play: Play, teams: Sequence[Carrier], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.play = play
        self.carriers = {str(each.team): each for each in teams if each.names}
        self._offer("team", [("", _("nobody")), *((k, c.name) for k, c in self.carriers.items())])
        drawn = _("as drawn (%(court)s)") % {"court": COURTS[play.court]}
        others = [(each.value, name) for each, name in COURTS.items() if each != play.court]
        self._offer("court", [("", drawn), *others])
        typed = (play.call, *(each.call for each in play.variants))
        calls = [by_name(call, self._names(), language_now()) for call in typed]
        variants = [(str(n), call) for n, call in enumerate(calls[1:], start=1)]
        self._offer("called", [("", calls[0] or _("the first one")), *variants])
        if not variants:
            del self.fields["called"]
        if not self.carriers:
            del self.fields["team"], self.fields["label"]
        if play.spot is None:
            del self.fields["turn"], self.fields["along"]
        else:
            to_baseline = play.spot.edge == "sideline"
            self.fields["turn"].label = (
                _("From the baseline") if to_baseline else _("From the sideline")
            )
            if play.spot.far:  # up the whole court: such a throw-in is not turned
                del self.fields["turn"]
            self.fields["along"].widget.attrs.update(
                {"step": "0.1", "inputmode": "decimal", "placeholder": f"{play.spot.along:g}"}
            )

    def _names(self) -> Mapping[Role, str]:
        """Who is called by name: the first players of the team that the address names."""
        carrier = self.carriers.get(self.data.get("team", ""))
        return carrier.names if carrier else {}

    def _offer(self, name: str, choices: list[tuple[str, Any]]) -> None:
        cast("forms.ChoiceField", self.fields[name]).choices = choices

    def clean(self) -> dict[str, Any]:
        """Try the moves, so that a spot off its line is told at its field."""
        cleaned = super().clean() or self.cleaned_data
        try:
            _moved_play(self.play, cleaned)
        except OffTheLineError:
            self.add_error("along", _off_the_line(self.play, cleaned))
        return cleaned

    def drawing(self) -> Drawing:
        """How to draw, with what cannot be read left out."""
        self.is_valid()
        asked = self.cleaned_data
        carrier = self.carriers.get(asked.get("team", ""))
        return Drawing(
            defenders=bool(asked.get("defenders")),
            crop=cast("Crop", asked.get("crop") or "half"),
            label=cast("LabelKind", asked.get("label") or "both") if carrier else "number",
            names=carrier.names if carrier else {},
        )

    def carrier(self) -> Carrier | None:
        """The team whose names are shown."""
        self.is_valid()
        return self.carriers.get(self.cleaned_data.get("team", ""))

    def moved(self, language: Language) -> Moved:
        """The play after the moves; as it is where they cannot be made."""
        if not self.is_valid():
            return Moved(self.play, (), (), ())
        moved = _moved_play(self.play, self.cleaned_data)
        if moved == self.play:
            return Moved(self.play, (), (), ())
        # Without the play's own origin the moves of this view alone are told.
        done = steps(_moved_play(replace(self.play, origin=None), self.cleaned_data))
        return Moved(
            moved,
            tuple(step_words(step, language) for step in done),
            tuple(dict.fromkeys(found.sentence(language) for found in off_court(moved))),
            self._reread(),
            by_name(moved.call, self._names(), language) if self.cleaned_data.get("called") else "",
        )

    def _reread(self) -> tuple[str, ...]:
        asked = self.cleaned_data
        said = texts_to_reread(self.play, "mirror") if asked.get("mirror") else ()
        if asked.get("turn"):
            said += texts_to_reread(self.play, "turn")
        return tuple(dict.fromkeys(said))

    def query(self) -> str:
        """The address's own words for this view, without what is left at its default."""
        return urlencode(self.kept())

    def kept(self) -> list[tuple[str, str]]:
        """Names and values of the fields that say something, as they were given."""
        given = [(name, str(self.data.get(name, ""))) for name in self.fields]
        return [(name, value) for name, value in given if value and name not in self.errors]


def _moved_play(play: Play, asked: Mapping[str, Any]) -> Play:
    """The variant, then the moves in a fixed order. Raises OffTheLineError."""
    if asked.get("called"):
        play = expanded(play, play.variants[int(asked["called"]) - 1])
    if asked.get("court"):
        play = on_court(play, RuleSet(asked["court"]))
    if asked.get("mirror"):
        play = mirror(play)
    along = asked.get("along")
    if asked.get("turn"):
        play = turn(play, along)
    elif along is not None:
        play = slide(play, along)
    return pull_in(play) if asked.get("pull_in") else play


def _off_the_line(play: Play, asked: Mapping[str, Any]) -> str:
    floor = court(RuleSet(asked["court"])) if asked.get("court") else court(play.court)
    on_sideline = (play.spot is not None and play.spot.edge == "sideline") != bool(
        asked.get("turn")
    )
    if on_sideline:
        return gettext("The sideline runs from 0 to %(most)s m.") % {
            "most": number_format(floor.length, 2)
        }
    return gettext("The baseline runs from 0, behind the basket, to %(most)s m.") % {
        "most": number_format(floor.half_width, 2)
    }
