"""Held reps and possessions, each with the form that puts it right: what is gone is chosen anew."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any, ClassVar, Final, Generic, TypeVar

from django import forms
from django.utils import timezone
from django.utils.translation import gettext as _

from plays.core.play import ROLES
from plays.values import play_value, read_ahead
from practice.core.reps.called import CalledPlay, Take
from practice.core.reps.log import Run
from practice.core.reps.rep import Rep, Undo, as_cast
from practice.core.reps.tap_file import read_taps
from practice.models import Game, HeldRep, ModeChoice, Practice, SlipChoice
from practice.reps.called import NEAR
from practice.reps.called_words import (
    defence_told,
    look_chosen,
    look_of,
    looks_to_choose,
    result_told,
)
from practice.reps.rows import around
from practice.reps.store import waiting_for_decision
from practice.reps.surroundings import is_far
from roster.cast.changes import package_with_cast
from roster.models import PackagePlay, Team
from shared.core.finding import Finding
from shared.core.language import ENGLISH, Language
from shared.fields import check_season, season
from shared.forms import ClearForm
from shared.said import day_said

MOST_SHOWN: Final = 20  # at a time: each is a form with seven lists of choices
Choices = list[tuple[str, str]]
R = TypeVar("R", Rep, CalledPlay)


@dataclass(frozen=True, slots=True)
class Choosing:
    """What may be chosen anew: practices and games with their starts, plays and people."""

    practices: Choices
    practice_starts: dict[str, str]
    games: Choices
    game_starts: dict[str, str]
    players: Choices
    entries: Sequence[PackagePlay]

    @property
    def plays(self) -> Choices:
        return [(str(entry.pk), entry.spoken()) for entry in self.entries]

    def looks(self, play: str) -> Choices:
        """What could be taken in one of the plays."""
        entry = next((each for each in self.entries if str(each.pk) == play), None)
        return looks_to_choose(None if entry is None else play_value(entry.revision))


class HeldRunForm(ClearForm, Generic[R]):
    """One held rep or possession. What is gone shows as an empty choice."""

    against: tuple[Finding, ...] = ()

    def __init__(self, *args: Any, row: HeldRep, run: R, **kwargs: Any) -> None:
        super().__init__(*args, prefix=str(row.pk), initial=_initial(run), **kwargs)
        self.row = row
        self.run: R = run

    def choose(self, name: str, label: str, choices: Choices, *, required: bool = True) -> None:
        """Add a field with these choices, and an empty one for what is gone."""
        self.fields[name] = forms.ChoiceField(
            choices=[("", "–"), *choices], label=label, required=required
        )

    def choose_five(self, choices: Choices, *, required: bool = True) -> None:
        for role in ROLES:
            label = _("Role %(role)s") % {"role": role}
            self.choose(f"role-{role}", label, choices, required=required)

    def ask_when(self, start: str | None) -> None:
        """Ask for the time where the phone's clock was wrong; the start is proposed."""
        self.fields["at"] = forms.DateTimeField(
            label=_("When it was run"),
            validators=[check_season],
            widget=forms.DateTimeInput(attrs={"type": "datetime-local"}, format="%Y-%m-%dT%H:%M"),
        )
        self.initial["at"] = start

    def put_right(self) -> list[forms.BoundField]:
        """The fields in the order in which a page shows them."""
        return [self[name] for name in self.fields]

    def shown(self, found: R, language: Language) -> R | None:
        """What the form makes of it; None, with errors at the fields, where that is no good."""
        for finding in around(self.row.team, [found]).against(found, language):
            name = finding.place.strip("/").replace("cast/", "role-")
            self.add_error(name if name in self.fields else None, finding.sentence)
        return None if self.errors else found


class HeldForm(HeldRunForm[Rep]):
    """One held rep."""

    def __init__(self, *args: Any, choosing: Choosing, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        practice = self.data.get(self.add_prefix("practice")) or str(self.run.practice)
        start = choosing.practice_starts.get(str(practice))
        if self.run.at.date() not in season() or _far_from_practice(self.run, start):
            self.ask_when(start)
        self.choose("practice", _("Practice"), choosing.practices)
        self.choose("play", _("Play"), choosing.plays)
        self.choose_five(choosing.players)

    def about(self) -> str:
        """When it was logged, how it was run, and how it went."""
        rep = self.run
        at = day_said(timezone.localtime(rep.at), "j M Y, H:i")
        result = _("clean") if rep.clean else _("error")
        slip = f" {rep.erred or ''} {SlipChoice(rep.slip.value).label}" if rep.slip else ""
        return f"{at} · {ModeChoice(rep.mode.value).label} · {result}{slip}"

    def mended(self, language: Language) -> Rep | None:
        """The rep as the form now says; None, with errors at the fields, where that is no good."""
        data = self.cleaned_data
        same_play = int(data["play"]) == self.run.play
        rep = replace(
            self.run,
            at=data.get("at", self.run.at),
            practice=int(data["practice"]),
            play=int(data["play"]),
            revision=self.run.revision if same_play else None,
            call=self.run.call if same_play else None,
            cast=tuple((role, int(data[f"role-{role}"])) for role in ROLES),
        )
        return self.shown(rep, language)


class HeldCalledForm(HeldRunForm[CalledPlay]):
    """One held possession: game, play and look to choose anew; the five may stay out."""

    def __init__(self, *args: Any, choosing: Choosing, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        called = self.run
        game = self.data.get(self.add_prefix("game")) or str(called.game)
        start = choosing.game_starts.get(str(game))
        if called.at.date() not in season() or _far(called, start):
            self.ask_when(start)
        self.choose("game", _("Game"), choosing.games)
        self.choose("play", _("Play"), choosing.plays)
        play = self.data.get(self.add_prefix("play")) or str(called.play)
        self.choose("look", _("Look"), choosing.looks(str(play)))
        self.initial["look"] = look_chosen(called.taken, called.look)
        self.choose_five(choosing.players, required=False)

    def about(self) -> str:
        """When it was logged, against what, and how it ended."""
        called = self.run
        at = day_said(timezone.localtime(called.at), "j M Y, H:i")
        said = [at, result_told(called.result, called.points)]
        if called.defence is not None:
            said.insert(1, defence_told(called.defence))
        return " · ".join(said)

    def mended(self, language: Language) -> CalledPlay | None:
        """The possession as the form now says; None, with errors, where that is no good."""
        data = self.cleaned_data
        same_play = int(data["play"]) == self.run.play
        taken, look = look_of(data["look"])
        roles = {role: data.get(f"role-{role}") for role in ROLES}
        called = replace(
            self.run,
            at=data.get("at", self.run.at),
            game=int(data["game"]),
            play=int(data["play"]),
            # The looks to choose from are those of the state that is carried now.
            revision=self.run.revision if same_play and look == self.run.look else None,
            call=self.run.call if same_play else None,
            taken=taken,
            look=look,
            erred=self.run.erred if taken is Take.BROKEN else None,
            cast=as_cast({role: int(who) for role, who in roles.items() if who}),
        )
        return self.shown(called, language)


AnyHeldForm = HeldForm | HeldCalledForm


@dataclass(frozen=True, slots=True)
class UnreadableRep:
    """A held row that no edition of the reader makes a rep of: it can only be set aside."""

    row: HeldRep
    about: str

    unreadable: ClassVar[bool] = True


def forms_of_held(team: Team, language: Language) -> tuple[list[AnyHeldForm | UnreadableRep], int]:
    """The first reps that wait, with what speaks against them now, and how many wait behind."""
    waiting = waiting_for_decision(team)
    rows, behind = waiting[:MOST_SHOWN], len(waiting[MOST_SHOWN:])
    if not rows:
        return [], 0
    choosing = _choosing(team)
    runs = [(row, _run(row)) for row in rows]
    where = around(team, [run for _row, run in runs if run])
    made: list[AnyHeldForm | UnreadableRep] = []
    for row, run in runs:
        if run is None:
            made.append(UnreadableRep(row, _("A rep that cannot be read")))
        else:
            form = _form(None, row, run, choosing)
            form.against = where.against(run, language)
            made.append(form)
    return made, behind


def held_form(
    row: HeldRep, team: Team, language: Language, data: Mapping[str, Any] | None = None
) -> AnyHeldForm | None:
    """One held row with what was sent for it; None for a row that cannot be read."""
    run = _run(row)
    if run is None:
        return None
    form = _form(data, row, run, _choosing(team))
    form.against = around(team, [run]).against(run, language)
    return form


def _form(
    data: Mapping[str, Any] | None, row: HeldRep, run: Run, choosing: Choosing
) -> AnyHeldForm:
    if isinstance(run, CalledPlay):
        return HeldCalledForm(data, row=row, run=run, choosing=choosing)
    return HeldForm(data, row=row, run=run, choosing=choosing)


def _run(row: HeldRep) -> Run | None:
    read = read_taps({"taps": [row.tap]}, ENGLISH)
    return next((tap for tap in read.taps if not isinstance(tap, Undo)), None)


def _initial(run: Run) -> dict[str, str]:
    roles = {f"role-{role}": str(who) for role, who in run.cast}
    if isinstance(run, CalledPlay):
        return {"game": str(run.game), "play": str(run.play), **roles}
    return {"practice": str(run.practice), "play": str(run.play), **roles}


def _far_from_practice(rep: Rep, start: str | None) -> bool:
    if start is None:
        return False
    begins = timezone.make_aware(datetime.fromisoformat(start))
    return is_far(rep, begins, timezone.now())


def _far(called: CalledPlay, start: str | None) -> bool:
    """Whether it was logged on another day than the game."""
    if start is None:
        return False
    begins = timezone.make_aware(datetime.fromisoformat(start))
    return abs(called.at - begins) > NEAR


def _choosing(team: Team) -> Choosing:
    entries = list(package_with_cast(team))
    read_ahead(entry.revision for entry in entries)
    practices = list(team.practices.order_by("-date", "-start"))
    games = list(team.games.order_by("-date", "-start"))
    return Choosing(
        practices=[(str(each.pk), f"{_day(each)}, {each.start:%H:%M}") for each in practices],
        practice_starts={str(each.pk): _start(each) for each in practices},
        games=[(str(each.pk), f"{_day(each)}, {each.opponent}") for each in games],
        game_starts={str(each.pk): _start(each) for each in games},
        players=[(str(player.pk), str(player)) for player in team.players.present()],
        entries=entries,
    )


def _day(each: Practice | Game) -> str:
    """Its day in words."""
    return day_said(each.date, "j M Y")


def _start(each: Practice | Game) -> str:
    return f"{each.date}T{each.start:%H:%M}"
