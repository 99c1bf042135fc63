"""The limits of a tuning, as a coach sets them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Final, cast

from django import forms
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from plays.check.form import EFFORTS
from plays.core.motion.pace import EFFORT, Pace
from plays.core.motion.team_pace import TeamPace
from plays.core.play import ROLES, AgeGroup, Play, Role
from plays.core.tune.limits import TuningLimits
from plays.core.tune.tune import TuningQuestion
from plays.models import AgeGroup as AgeGroups
from plays.ports import Carrier
from shared.forms import ClearForm

FAR: Final = [
    ("0", _("not at all")),
    ("0.25", _("a quarter of a metre")),
    ("0.5", _("half a metre")),
    ("0.75", _("three quarters of a metre")),
    ("1.0", _("one metre")),
    ("1.5", _("one and a half metres")),
]
LONGER: Final = [
    ("0", _("not at all")),
    ("0.5", _("half a second")),
    ("1.0", _("one second")),
    ("2.0", _("two seconds")),
]


class LimitsForm(ClearForm):
    """What may be changed, for whom, and which looks it is for."""

    start = forms.ChoiceField(
        label=_("A start may move by up to"), choices=FAR, initial="0.5", required=False
    )
    screen = forms.ChoiceField(
        label=_("A screen may move by up to"), choices=FAR, initial="0.5", required=False
    )
    wait = forms.ChoiceField(
        label=_("A wait may grow by up to"), choices=LONGER, initial="0.5", required=False
    )
    reads = forms.BooleanField(
        label=_("Somebody may wait for another moment than before"), initial=True, required=False
    )
    team = forms.ChoiceField(label=_("Team"), required=False)
    age = forms.ChoiceField(label=_("Age group"), required=False)
    effort = forms.ChoiceField(label=_("Effort"), required=False, choices=EFFORTS)
    fixed = forms.MultipleChoiceField(
        label=_("Whose part stays as it is"), required=False, widget=forms.CheckboxSelectMultiple
    )
    looks = forms.MultipleChoiceField(
        label=_("Looks that count (none ticked: all)"),
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )

    def __init__(
        self,
        *args: Any,
        play: Play,
        teams: Sequence[Carrier],
        looks: Mapping[str, str],
        call: int = 0,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.play, self.call = play, call
        self.carriers = {str(each.team): each for each in teams}
        usual = gettext("the play's level, %(age)s") % {"age": AgeGroups(play.level).label}
        self._offer("team", [("", _("no team")), *((k, c.name) for k, c in self.carriers.items())])
        self._offer("age", [("", usual), *AgeGroups.choices])
        self._offer("fixed", [(role, role) for role in ROLES])
        self._offer("looks", list(looks.items()))
        if not self.carriers:
            del self.fields["team"]

    def _offer(self, name: str, choices: list[tuple[str, Any]]) -> None:
        cast("forms.ChoiceField", self.fields[name]).choices = choices

    @property
    def groups(self) -> list[forms.BoundField]:
        """The fields of boxes to tick."""
        return [self["fixed"], self["looks"]]

    @property
    def carrier(self) -> Carrier | None:
        return self.carriers.get(self.cleaned_data.get("team", ""))

    def question(self) -> TuningQuestion:
        said = self.cleaned_data
        limits = TuningLimits(
            start=float(said["start"] or 0.0),
            screen=float(said["screen"] or 0.0),
            wait=float(said["wait"] or 0.0),
            reads=said["reads"],
            fixed=frozenset(said["fixed"]),
        )
        return TuningQuestion(limits, self._age(), tuple(said["looks"]), self.call)

    def paces(self) -> tuple[Pace, dict[Role, Pace]]:
        """How fast the team is, or the age group, and whoever of them was timed."""
        pace = self.carrier.pace if self.carrier else TeamPace()
        effort = float(self.cleaned_data["effort"] or EFFORT)
        return pace.base(self._age(), effort), pace.paces(self._age(), effort)

    def _age(self) -> AgeGroup:
        usual = self.carrier.age if self.carrier else self.play.level
        return AgeGroup(self.cleaned_data["age"] or usual)
