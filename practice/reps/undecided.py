"""Held reps with the form that puts each right: practice, play and people to choose anew."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, ClassVar, Final, cast

from django import forms
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from plays.core.play import ROLES
from practice.core.reps.rep import Rep
from practice.core.reps.tap_file import read_taps
from practice.models import HeldRep, ModeChoice, SlipChoice
from practice.reps.store import waiting_for_decision
from practice.reps.surroundings import surroundings
from roster.cast.changes import package_with_cast
from roster.models import Team
from shared.core.finding import Finding
from shared.core.language import ENGLISH, Language
from shared.fields import check_season, season
from shared.forms import ClearForm

MOST_SHOWN: Final = 20  # at a time: each is a form with seven lists of choices
Choices = list[tuple[str, str]]


class HeldForm(ClearForm):
    """One held rep. What is gone shows as an empty choice."""

    practice = forms.ChoiceField()
    play = forms.ChoiceField()

    def __init__(
        self, *args: Any, row: HeldRep, rep: Rep, choices: Mapping[str, Choices], **kwargs: Any
    ) -> None:
        super().__init__(*args, prefix=str(row.pk), initial=_initial(rep), **kwargs)
        self.row, self.rep = row, rep
        self.against: tuple[Finding, ...] = ()
        empty = [("", "–")]
        for name, label in (("practice", _("Practice")), ("play", _("Play"))):
            field = cast("forms.ChoiceField", self.fields[name])
            field.choices, field.label = empty + choices[name], label
        for role in ROLES:
            self.fields[f"role-{role}"] = forms.ChoiceField(
                choices=empty + choices["player"], label=_("Role %(role)s") % {"role": role}
            )
        if rep.at.date() not in season():
            self.fields["at"] = forms.DateTimeField(
                label=_("When it was run"),
                validators=[check_season],
                widget=forms.DateTimeInput(
                    attrs={"type": "datetime-local"}, format="%Y-%m-%dT%H:%M"
                ),
            )
            self.initial["at"] = dict(choices["start"]).get(str(rep.practice))

    def when(self) -> forms.BoundField | None:
        """The field for the time, where the phone's clock was wrong."""
        return self["at"] if "at" in self.fields else None

    def roles(self) -> list[forms.BoundField]:
        return [self[f"role-{role}"] for role in ROLES]

    def about(self) -> str:
        """When it was logged, how it was run, and how it went."""
        rep = self.rep
        at = date_format(timezone.localtime(rep.at), "j M, H:i")
        result = _("clean") if rep.clean else _("error")
        slip = f" {rep.erred or ''} {SlipChoice(rep.slip.value).label}" if rep.slip else ""
        return f"{at} · {ModeChoice(rep.mode.value).label} · {result}{slip}"

    def mended(self, language: Language) -> Rep | None:
        """The rep as the form now says; None, with errors at the fields, where that is no good."""
        data = self.cleaned_data
        same_play = int(data["play"]) == self.rep.play
        rep = replace(
            self.rep,
            at=data.get("at", self.rep.at),
            practice=int(data["practice"]),
            play=int(data["play"]),
            revision=self.rep.revision if same_play else None,
            call=self.rep.call if same_play else None,
            cast=tuple((role, int(data[f"role-{role}"])) for role in ROLES),
        )
        for finding in surroundings(self.row.team, [rep]).against(rep, language):
            self._show(finding)
        return None if self.errors else rep

    def _show(self, finding: Finding) -> None:
        name = finding.place.strip("/").replace("cast/", "role-")
        self.add_error(name if name in self.fields else None, finding.sentence)


@dataclass(frozen=True, slots=True)
class UnreadableRep:
    """A held row that no edition of the reader makes a rep of: it can only be set aside."""

    row: HeldRep
    about: str

    unreadable: ClassVar[bool] = True


def forms_of_held(team: Team, language: Language) -> tuple[list[HeldForm | UnreadableRep], int]:
    """The first reps that wait, with what speaks against them now, and how many wait behind."""
    waiting = waiting_for_decision(team)
    rows, behind = waiting[:MOST_SHOWN], len(waiting[MOST_SHOWN:])
    if not rows:
        return [], 0
    choices = _choices(team)
    reps = [(row, _rep(row)) for row in rows]
    around = surroundings(team, [rep for _row, rep in reps if rep])
    made: list[HeldForm | UnreadableRep] = []
    for row, rep in reps:
        if rep is None:
            made.append(UnreadableRep(row, _("A rep that cannot be read")))
        else:
            form = HeldForm(row=row, rep=rep, choices=choices)
            form.against = around.against(rep, language)
            made.append(form)
    return made, behind


def held_form(
    row: HeldRep, team: Team, language: Language, data: Mapping[str, Any] | None = None
) -> HeldForm | None:
    """One held rep with what was sent for it; None for a row that cannot be read."""
    rep = _rep(row)
    if rep is None:
        return None
    form = HeldForm(data, row=row, rep=rep, choices=_choices(team))
    form.against = surroundings(team, [form.rep]).against(form.rep, language)
    return form


def _rep(row: HeldRep) -> Rep | None:
    read = read_taps({"taps": [row.tap]}, ENGLISH)
    return next((tap for tap in read.taps if isinstance(tap, Rep)), None)


def _initial(rep: Rep) -> dict[str, str]:
    roles = {f"role-{role}": str(who) for role, who in rep.cast}
    return {"practice": str(rep.practice), "play": str(rep.play), **roles}


def _choices(team: Team) -> dict[str, Choices]:
    return {
        "practice": [(str(p.pk), str(p)) for p in team.practices.order_by("-date", "-start")],
        "start": [(str(p.pk), f"{p.date}T{p.start:%H:%M}") for p in team.practices.all()],
        "play": [(str(e.pk), e.spoken()) for e in package_with_cast(team)],
        "player": [(str(p.pk), str(p)) for p in team.players.present()],
    }
