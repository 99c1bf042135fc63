"""A check as somebody wants to see it: for whom, how hard, against whom, by which rules.

Everything is in the address, beside the moves of the play page, so a check can be sent as a link.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Final, cast

from django import forms
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from plays.core.check.after import further_ways
from plays.core.check.setting import AS_DRAWN, DRAWN, Setting, usual_defence
from plays.core.defence.verdict import Tactic
from plays.core.defence.words import TACTICS
from plays.core.motion.pace import EFFORT
from plays.core.motion.team_pace import TeamPace
from plays.core.play import AgeGroup, Counter, Play, RuleSet
from plays.core.sequence.after_look import after, way_with
from plays.core.sequence.course import with_counter
from plays.core.words.terms import answered, look_words
from plays.models import AgeGroup as AgeGroups
from plays.play.view_form import COURTS
from plays.ports import Carrier
from shared.forms import ClearForm
from shared.speech import language_now

EFFORTS: Final = [
    ("", _("game, 75 %")),
    ("1.0", _("all out, 100 %")),
    ("0.9", _("90 %, the hardest runs")),
    ("0.6", _("60 %, an even pace")),
    ("0.5", _("half speed, 50 %")),
]

AFTER: Final = "after-look-"
"""Begins the value by which the address names the look after which the play is to go on."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What is to be checked, and how: the play, a counter of it, or how it goes after a look."""

    setting: Setting
    counter: Counter | None
    carrier: Carrier | None
    after: str = ""

    def run(self, play: Play) -> Play:
        """The play as it is to be run; the play itself where nothing is said."""
        if self.counter is not None:
            return way_with(with_counter(play, self.counter), self.counter.from_phase)
        return after(play, self.after) if self.after else play


class CheckForm(ClearForm):
    """The switches of a check page. Bound to the address; every field may be left out."""

    team = forms.ChoiceField(label=_("Team"), required=False)
    age = forms.ChoiceField(label=_("Age group"), required=False)
    effort = forms.ChoiceField(label=_("Effort"), required=False, choices=EFFORTS)
    defence = forms.ChoiceField(label=_("Defence"), required=False)
    rules = forms.ChoiceField(label=_("Rules and court"), required=False)
    counter = forms.ChoiceField(label=_("Run"), required=False)

    def __init__(self, *args: Any, play: Play, teams: Sequence[Carrier], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.play = play
        self.carriers = {str(each.team): each for each in teams}
        self.counters = {counter.id: counter for counter in play.counters}
        names = [(key, carrier.name) for key, carrier in self.carriers.items()]
        self._offer("team", [("", _("no team")), *names])
        self._offer("age", [("", self._usual_age()), *AgeGroups.choices])
        self._offer("defence", self._defences())
        self._offer(
            "rules", [("", self._usual_rules()), *((r.value, c) for r, c in COURTS.items())]
        )
        answers = [(each.id, answered(each, language_now())) for each in play.counters]
        self.afters = dict(self._afters())
        ways = [(key, words) for key, (_look, words) in self.afters.items()]
        self._offer("counter", [("", _("the play itself")), *ways, *answers])
        if not self.carriers:
            del self.fields["team"]
        if not (self.counters or self.afters):
            del self.fields["counter"]

    def _afters(self) -> Iterator[tuple[str, tuple[str, str]]]:
        """The looks after which the play goes on in another way than after the first."""
        further = [way.play for way in further_ways(self.play)]
        for n, look in enumerate(self.play.looks, start=1):
            if after(self.play, look.id) in further:
                said = {"look": f"{n}, {look_words(look, {}, language_now())}"}
                yield f"{AFTER}{look.id}", (look.id, gettext("after look %(look)s") % said)

    def _offer(self, name: str, choices: list[tuple[str, Any]]) -> None:
        cast("forms.ChoiceField", self.fields[name]).choices = choices

    def _usual_age(self) -> str:
        team = self.carriers.get(self.data.get("team", ""))
        age = AgeGroups(team.age if team else self.play.level).label
        if team:
            return gettext("the team's, %(age)s") % {"age": age}
        return gettext("the play's level, %(age)s") % {"age": age}

    def _usual_rules(self) -> str:
        team = self.carriers.get(self.data.get("team", ""))
        rules = COURTS[team.rule_set if team else self.play.court]
        if team:
            return gettext("the team's, %(rules)s") % {"rules": rules}
        return gettext("as drawn, %(rules)s") % {"rules": rules}

    def _defences(self) -> list[tuple[str, Any]]:
        """What is usual stands first, under no name: for a counter the defence it answers."""
        plain = [(tactic.value, _(name)) for tactic, name in TACTICS.items()]
        counter = self.counters.get(self.data.get("counter", ""))
        if counter is not None:
            usual = gettext(TACTICS[Tactic(counter.defence.value)])
            return [("", _("what it answers: %(defence)s") % {"defence": usual}), *plain]
        if usual_defence(self.play) == DRAWN:
            return [("", _(AS_DRAWN)), *plain]
        return [("", plain[0][1]), *plain[1:]]

    def _usual_defence(self, counter: Counter | None) -> str:
        return usual_defence(self.play) if counter is None else counter.defence.value

    def chosen(self) -> dict[str, str]:
        """What is asked for, by field; what cannot be read is left out rather than refused."""
        self.is_valid()
        return {name: value for name, value in self.cleaned_data.items() if value}

    def asked(self) -> Asked:
        said = self.chosen()
        carrier = self.carriers.get(said.get("team", ""))
        counter = self.counters.get(said.get("counter", ""))
        usual_rules = carrier.rule_set if carrier else self.play.court
        setting = Setting(
            age=AgeGroup(said.get("age") or (carrier.age if carrier else self.play.level)),
            effort=float(said.get("effort") or EFFORT),
            defence=said.get("defence") or self._usual_defence(counter),
            rule_set=RuleSet(said.get("rules") or usual_rules),
            pace=carrier.pace if carrier else TeamPace(),
            whose=counter.whose if counter and "defence" not in said else (),
        )
        look, _words = self.afters.get(said.get("counter", ""), ("", ""))
        return Asked(setting, counter, carrier, look)
