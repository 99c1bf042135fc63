"""The table of the whole library: which plays suit whom, and what a defence takes away."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from plays.check.looks import LOOK_MARKS
from plays.check.results import AGES, DEFENCES, ShelfRow, missing
from plays.core.defence.verdict import Tactic, Word
from plays.core.defence.words import WORDS
from plays.core.play import Defence
from plays.core.words.terms import they
from plays.models import AgeGroup, CheckResult, Play
from shared.forms import ClearForm
from shared.speech import language_now


@dataclass(frozen=True, slots=True)
class Cell:
    """One result in words: ``mark`` is good, warn, bad, or empty while it is not known."""

    label: str
    mark: str
    text: str
    margin: float | None = None


@dataclass(frozen=True, slots=True)
class AgeLine:
    play: Play
    ages: tuple[Cell, ...]
    defences: tuple[Cell, ...]
    worst: float | None


class TableForm(ClearForm):
    """Whom the margins are for; what cannot be read is left out."""

    age = forms.ChoiceField(
        label=gettext_lazy("Margins for"), required=False, choices=AgeGroup.choices
    )

    def chosen(self) -> str:
        self.is_valid()
        return self.cleaned_data.get("age") or AgeGroup.U14.value


def table(rows: Sequence[ShelfRow], age: str) -> dict[str, Any]:
    """The lines, worst margin first, and how much is still to be reckoned."""
    lines = [line_of(row, age) for row in rows]
    lines.sort(key=lambda line: (line.worst is None, line.worst or 0.0, line.play.name))
    labels = dict(AgeGroup.choices)
    return {
        "lines": lines,
        "ages": [labels[each.value] for each in AGES],
        "age_label": labels[age],
        "defences": [_heading(tactic) for tactic in DEFENCES],
        "left": len(missing(rows)),
    }


def line_of(row: ShelfRow, age: str) -> AgeLine:
    labels = dict(AgeGroup.choices)
    return AgeLine(
        row.play,
        tuple(suits(row.of(each.value, "chase"), str(labels[each.value])) for each in AGES),
        tuple(survives(row.of(age, t.value), _heading(t)) for t in DEFENCES),
        row.worst(age),
    )


def suits(result: CheckResult | None, label: str) -> Cell:
    """Whether an age group can run the play at all, against a plain chase."""
    if result is None:
        return Cell(label, "", _("being checked"))
    if not result.suits:
        return Cell(label, "bad", _("no"))
    if result.warnings:
        return Cell(label, "warn", _("with care"))
    return Cell(label, "good", _("yes"))


def survives(result: CheckResult | None, label: str) -> Cell:
    """What the best look in time is worth against a defence."""
    if result is None:
        return Cell(label, "", _("being checked"))
    if result.margin is None or not result.word:
        return Cell(label, "bad", _("no look in time"))
    word = Word(result.word)
    return Cell(label, LOOK_MARKS[word], language_now().say(WORDS[word]), result.margin)


def _heading(tactic: Tactic) -> str:
    return they(Defence(tactic.value), language_now())
