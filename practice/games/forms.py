"""Forms of a game: one possession put right or entered by hand, and the squad."""

from __future__ import annotations

import re
import uuid
from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any, Final

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from plays.core.defence.stance import Tactic
from plays.core.play import ROLES, Play, role_of
from practice.core.reps.called import (
    LAST_PERIOD,
    LONGEST_CLOCK,
    MOST_POINTS,
    CalledPlay,
    CallResult,
    Take,
)
from practice.core.reps.rep import as_cast
from practice.models import DEFENCE_CHOICES, CallResultChoice, Game
from practice.reps.called_words import (
    look_chosen,
    look_of,
    looks_to_choose,
    result_told,
)
from roster.models import Availability, PackagePlay, Player
from shared.core.finding import Finding
from shared.forms import CellsForm, ClearForm

CLOCK: Final = re.compile(r"(\d{1,2}):([0-5]\d)")


def clock_told(seconds: int | None) -> str:
    """Minutes and seconds left, as the table shows them."""
    return "" if seconds is None else f"{seconds // 60}:{seconds % 60:02d}"


class ClockField(forms.CharField):
    """Time left of the period, as minutes and seconds."""

    def prepare_value(self, value: Any) -> Any:
        return clock_told(value) if isinstance(value, int) else value

    def to_python(self, value: Any) -> Any:
        """Seconds. Raises ValidationError for what is no time left."""
        text = str(super().to_python(value)).strip()
        if not text:
            return None
        found = CLOCK.fullmatch(text)
        seconds = int(found[1]) * 60 + int(found[2]) if found else LONGEST_CLOCK + 1
        if seconds > LONGEST_CLOCK:
            raise forms.ValidationError(_("Write minutes and seconds, as in 4:30."))
        return seconds


class CalledForm(CellsForm):
    """One possession: defence, look, result, and where it is known the clock and the five.

    ``id`` is made with the form, so that sending it twice is one possession.
    """

    id = forms.UUIDField(widget=forms.HiddenInput)
    defence = forms.ChoiceField(
        label=gettext_lazy("Defence"), choices=[("", "–"), *DEFENCE_CHOICES], required=False
    )
    look = forms.ChoiceField(label=gettext_lazy("What was taken"))
    ending = forms.ChoiceField(label=gettext_lazy("Result"))
    period = forms.IntegerField(
        label=gettext_lazy("Period"), required=False, min_value=1, max_value=LAST_PERIOD
    )
    clock = ClockField(label=gettext_lazy("Clock"), required=False)
    erred = forms.ChoiceField(
        label=gettext_lazy("Who erred, where it broke"),
        choices=[("", "–"), *((role, role) for role in ROLES)],
        required=False,
    )

    def __init__(
        self, *args: Any, play: Play, squad: Sequence[Player], was: CalledPlay | None, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        choices = looks_to_choose(play)
        if was is not None and look_chosen(was.taken, was.look) not in dict(choices):
            choices.insert(0, (look_chosen(was.taken, was.look), was.look or ""))
        self._choose("look", [("", "–"), *choices] if was is None else choices)
        self._choose("ending", [("", "–"), *endings()] if was is None else endings())
        people = [("", "–"), *((str(player.pk), str(player)) for player in squad)]
        for role in ROLES:
            self.fields[f"role-{role}"] = forms.ChoiceField(
                choices=people, required=False, label=_("Role %(role)s") % {"role": role}
            )
        for name, field in self.fields.items():
            if isinstance(field, forms.ChoiceField):
                self.initial[name] = ""
        self.initial.update({"id": uuid.uuid4()} if was is None else _initial(was))
        self.carry_what_is_shown()
        self.fields["id"].show_hidden_initial = False

    def _choose(self, name: str, choices: list[tuple[str, str]]) -> None:
        field = self.fields[name]
        assert isinstance(field, forms.ChoiceField)
        field.choices = choices

    def told(self) -> list[forms.BoundField]:
        """What happened, in the order of the page."""
        return [self[name] for name in ("defence", "look", "ending", "period", "clock", "erred")]

    def roles(self) -> list[forms.BoundField]:
        return [self[f"role-{role}"] for role in ROLES]

    def value(
        self, game: Game, entry: PackagePlay, at: datetime, was: CalledPlay | None
    ) -> CalledPlay:
        """The possession as the form says it; its time, call and state stay as they were."""
        data = self.cleaned_data
        taken, look = look_of(data["look"])
        result, points = _ending_of(data["ending"])
        roles = {role: data.get(f"role-{role}") for role in ROLES}
        return CalledPlay(
            id=was.id if was else str(data["id"]),
            game=game.pk,
            play=entry.pk,
            at=was.at if was else at,
            taken=taken,
            result=result,
            defence=Tactic(data["defence"]) if data["defence"] else None,
            look=look,
            points=points,
            cast=as_cast({role: int(who) for role, who in roles.items() if who}),
            erred=role_of(data["erred"]) if taken is Take.BROKEN else None,
            period=data["period"],
            clock=data["clock"],
            revision=was.revision if was else entry.revision_id,
            call=was.call if was else None,
        )

    def show(self, findings: Iterable[Finding], was: CalledPlay | None) -> None:
        """Put what speaks against it at the fields. What stood there before is no news."""
        for finding in findings:
            name = finding.place.strip("/").replace("cast/", "role-")
            if was is None or name in self.changed_data:
                self.add_error(name if name in self.fields else None, finding.sentence)


def endings() -> list[tuple[str, str]]:
    """Every result to choose: the shots by their points, a foul with and without them."""
    shots = [
        (f"{result.value}-{points}", result_told(result, points))
        for result in (CallResult.POINTS, CallResult.FOUL)
        for points in range(MOST_POINTS + 1)
    ]
    others = [
        (value, str(label))
        for value, label in CallResultChoice.choices
        if value != CallResult.POINTS.value
    ]
    return shots[: MOST_POINTS + 1] + others[:1] + shots[MOST_POINTS + 1 :] + others[1:]


def _ending_of(chosen: str) -> tuple[CallResult, int | None]:
    result, _dash, points = chosen.partition("-")
    return CallResult(result), int(points) if points else None


def _initial(was: CalledPlay) -> dict[str, Any]:
    counts = was.result in (CallResult.POINTS, CallResult.FOUL) and was.points is not None
    return {
        "id": was.id,
        "defence": was.defence.value if was.defence else "",
        "look": look_chosen(was.taken, was.look),
        "ending": f"{was.result.value}-{was.points}" if counts else was.result.value,
        "period": was.period,
        "clock": was.clock,
        "erred": was.erred or "",
        **{f"role-{role}": str(who) for role, who in was.cast},
    }


class SquadForm(ClearForm):
    """Who is in the squad of a game."""

    def __init__(
        self, *args: Any, players: Sequence[Player], out: Mapping[int, bool], **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.players = players
        for player in players:
            may = player.availability != Availability.OUT
            self.fields[f"in-{player.pk}"] = forms.BooleanField(
                label=str(player),
                required=False,
                initial=may and not out.get(player.pk, False),
                disabled=not may,
            )

    def lines(self) -> list[tuple[Player, forms.BoundField]]:
        return [(player, self[f"in-{player.pk}"]) for player in self.players]

    def out(self) -> dict[int, bool]:
        """By player, whether they are out; of who is out until cleared nothing is marked."""
        return {
            player.pk: not self.cleaned_data[f"in-{player.pk}"]
            for player in self.players
            if player.availability != Availability.OUT
        }
