"""Two plays side by side, for one team: starts, looks, count, findings, minutes, and who fits."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Final

from django import forms
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext_lazy as _

from plays.check.looks import LOOK_MARKS
from plays.check.page import MARKS
from plays.core.check.check import Report
from plays.core.check.setting import checked, staged
from plays.core.court.courts import court
from plays.core.court.spoken import describe
from plays.core.defence.words import WORDS
from plays.core.document.form import problems
from plays.core.drawing.options import Drawing
from plays.core.drawing.phase import diagram
from plays.core.play import ROLES, AgeGroup, Role
from plays.core.play import Play as PlayValue
from plays.core.words.terms import look_words
from plays.models import Play
from plays.play.page import svg_of
from plays.values import play_value
from practice.choosing.asked import AskedPackage
from practice.choosing.judging import setting_of
from practice.core.choosing.learning import shared_starts
from practice.core.choosing.question import Candidate
from roster.core.cast import Cast
from roster.core.fit import fit
from roster.core.people import Player as PlayerValue
from shared.core.finding import SEVERITIES
from shared.core.language import Language
from shared.forms import ClearForm
from shared.pieces import LIBRARY, kept

WIDTH: Final = 300.0  # points


class TwoPlaysForm(ClearForm):
    """Which two plays; what cannot be read is left out."""

    one = forms.ChoiceField(label=_("One play"), required=False)
    other = forms.ChoiceField(label=_("The other"), required=False)

    def __init__(self, *args: Any, asked: AskedPackage, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        plays = sorted((row.play for row in asked.rows), key=lambda play: play.name.casefold())
        choices = [("", _("choose")), *((str(play.pk), play.name) for play in plays)]
        for field in self.fields.values():
            assert isinstance(field, forms.ChoiceField)
            field.choices = choices

    def chosen(self) -> tuple[int, ...]:
        """The plays that are named, each once."""
        self.is_valid()
        said = (self.cleaned_data.get(name) for name in self.fields)
        return tuple(dict.fromkeys(int(each) for each in said if each))


@dataclass(frozen=True, slots=True)
class BesideLook:
    """A look as one line: what, when its turn is, and what it is worth then."""

    text: str
    turn: float
    margin: float
    mark: str
    word: str


@dataclass(frozen=True, slots=True)
class BesideRole:
    """Who would play a role first and second, by name, with the fit of 100 where it is known."""

    role: Role
    start: str
    first: str
    fit: int | None
    second: str


@dataclass(frozen=True, slots=True)
class BesidePlay:
    """One of the two; without ``sound`` it cannot be drawn or checked."""

    play: Play
    one: Candidate
    value: PlayValue
    fit: int
    sound: bool
    picture: SafeString
    roles: tuple[BesideRole, ...]
    looks: tuple[BesideLook, ...]
    findings: tuple[tuple[str, str, str], ...]  # mark, word, sentence

    @property
    def first_turn(self) -> float | None:
        return min((look.turn for look in self.looks), default=None)

    @property
    def last_turn(self) -> float | None:
        return max((look.turn for look in self.looks), default=None)


def beside(
    asked: AskedPackage, plays: tuple[int, ...], language: Language
) -> tuple[BesidePlay, ...]:
    """The plays as the page shows them, in the order asked for; unknown ones are left out."""
    by_play = {row.play.pk: row.play for row in asked.rows}
    return tuple(_beside(asked, by_play[pk], language) for pk in plays if pk in by_play)


def starts_in_common(two: tuple[BesidePlay, ...]) -> int | None:
    """How many of five start in the same place in both; None without two."""
    return shared_starts(two[0].value, two[1].value) if len(two) == 2 else None


def _beside(asked: AskedPackage, play: Play, language: Language) -> BesidePlay:
    setting = setting_of(asked.team)
    value = play_value(play.published())
    sound = not problems(value) and not problems(staged(value, setting))
    shown = staged(value, setting) if sound else value
    report = checked(value, setting, language=language) if sound else None
    return BesidePlay(
        play=play,
        one=asked.question.by_id[play.pk],
        value=value,
        fit=round(100 * asked.fits[play.pk]),
        sound=sound,
        picture=_picture(shown, play.pk, language) if sound else mark_safe(""),
        roles=tuple(_role(asked, play, shown, role, language) for role in ROLES),
        looks=_looks(report, language) if report else (),
        findings=_findings(report, language) if report else (),
    )


def _picture(play: PlayValue, pk: int, language: Language) -> SafeString:
    """The first phase; drawn once and then kept."""

    def draw() -> bytes:
        drawing = replace(Drawing(scheme="page", language=language), width=WIDTH)
        return svg_of(diagram(play, play.phases[0].id, drawing), f"beside-{pk}").encode()

    data = kept(LIBRARY, ("beside", pk, play, language.code), draw)
    return mark_safe(data.decode())  # noqa: S308 - what svg_of has written


def _role(
    asked: AskedPackage, play: Play, value: PlayValue, role: Role, language: Language
) -> BesideRole:
    people: Mapping[Any, PlayerValue] = asked.people
    cast: Cast = asked.cast
    first, second = (*cast.who(play.pk, role), None, None)[:2]
    level = AgeGroup(asked.team.age_group)
    known = None if first is None else fit(value.needs, people[first], role, level)
    starts = {start.role: start.at for start in value.starts}
    return BesideRole(
        role=role,
        start=describe(court(value.court), starts[role], language) if role in starts else "",
        first="" if first is None else asked.names[first],
        fit=None if known is None else known.hundredths,
        second="" if second is None else asked.names[second],
    )


def _looks(report: Report, language: Language) -> tuple[BesideLook, ...]:
    return tuple(
        BesideLook(
            text=look_words(verdict.window.look, {}, language),
            turn=verdict.turn,
            margin=verdict.margin,
            mark=LOOK_MARKS[verdict.word],
            word=language.say(WORDS[verdict.word]),
        )
        for verdict in report.verdicts
    )


def _findings(report: Report, language: Language) -> tuple[tuple[str, str, str], ...]:
    return tuple(
        (MARKS[each.severity], language.say(SEVERITIES[each.severity]), each.sentence)
        for each in report.findings
    )
