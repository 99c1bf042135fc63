"""What there is to print of a team, and the file of each: kept by all that it shows."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Final
from urllib.parse import urlencode

from django.urls import reverse
from django.utils import timezone

from plays.core.calls import CallName, call_for
from plays.core.play import ROLES, Role
from plays.core.words.variants import OtherCall, other_calls
from roster.core.cast import Cast, PlayerId
from roster.core.coverage.stand_in import first_five
from roster.core.names import Names
from roster.core.paper.cards_pdf import write_pocket_cards, write_wrist_cards
from roster.core.paper.leaf import PAPERS, Edge, as_of
from roster.core.paper.playbook_pdf import write_playbook
from roster.core.paper.sheet import CarriedPlay, Sheet
from roster.core.paper.sheet_pdf import write_sheets
from roster.core.paper.team_pdf import CallLine, PlayHandout, write_call_card, write_handouts
from roster.models import Team
from roster.ports import coming
from roster.sheets.load import TeamSheets, team_sheets
from roster.sheets.single import file_name, player_pdf
from shared.core.language import N_, Language
from shared.models import Club
from shared.pieces import is_kept, kept

Tell = Callable[[int], object]
EVERYBODY: Final = 0


@dataclass(frozen=True, slots=True)
class Order:
    """What somebody wants printed; ``due`` leaves out plays that are to be ready after the game."""

    kind: str
    paper: str
    due: bool

    def file(self, team: Team, tell: Tell = lambda _: None) -> bytes:
        """The file. Raises NothingToPrintError where nobody has a role, or there is no play."""
        return _Printer(self, team).file(tell)

    def is_ready(self, team: Team) -> bool:
        """Whether the file was made before, from what is there now."""
        printer = _Printer(self, team)
        return is_kept(team.pk, printer.facts())

    @property
    def takes_long(self) -> bool:
        """Whether it is made beside the requests: seconds of drawing."""
        return self.kind in TAKES_LONG

    @property
    def query(self) -> str:
        """What asks for it, behind the address."""
        return urlencode({"paper": self.paper, "plays": "due" if self.due else "all"})

    def address(self, team: Team) -> str:
        """Where the file is."""
        is_zip = self.kind == "each"
        args = [team.pk] if is_zip else [team.pk, self.kind]
        return f"{reverse('sheets-zip' if is_zip else 'paper', args=args)}?{self.query}"


class NothingToPrintError(ValueError):
    """There is no play with somebody in it."""


def order_of(kind: str, given: Mapping[str, str]) -> Order:
    """An order out of an address or a form; what is not known falls back. KeyError by kind."""
    if kind not in KINDS:
        raise KeyError(kind)
    paper = given.get("paper", "")
    return Order(kind, paper if paper in PAPERS else "a4", given.get("plays") == "due")


def club_name() -> str:
    return str(Club.objects.first() or "")


def next_game(team: Team) -> date | None:
    """The day of the team's next game."""
    return next((each.day for each in coming(team) if each.is_game), None)


def due_only(loaded: TeamSheets, day: date | None) -> TeamSheets:
    """Without plays that are to be ready only after this day."""
    late = set(
        loaded.team.package.filter(ready_by__gt=day).values_list("pk", flat=True) if day else ()
    )
    pairs = zip(loaded.package, loaded.contents, strict=True)
    left = [(each, content) for each, content in pairs if each.id not in late]
    cast = Cast(tuple(a for a in loaded.cast.assignments if a.play not in late))
    return replace(
        loaded,
        package=tuple(each for each, _ in left),
        contents=tuple(content for _, content in left),
        cast=cast,
    )


class _Printer:
    """Makes the file of an order for a team as it stands."""

    def __init__(self, order: Order, team: Team) -> None:
        self.order, self.today, self.club = order, timezone.localdate(), club_name()
        loaded = team_sheets(team)
        self.loaded = due_only(loaded, next_game(team)) if order.due else loaded
        self.language: Language = team.speech()

    def facts(self) -> tuple[object, ...]:
        order, loaded = self.order, self.loaded
        return (order.kind, order.paper, self.club, self.today, *loaded.facts(EVERYBODY))

    def file(self, tell: Tell) -> bytes:
        if not (self.loaded.package if self.order.kind in UNCAST else self.people()):
            raise NothingToPrintError
        return kept(self.loaded.team.pk, self.facts(), lambda: self._make(tell))

    def people(self) -> tuple[PlayerId, ...]:
        """Everybody with a role: nobody gets an empty sheet."""
        return tuple(who for who in self.loaded.players if self.loaded.cast.of(who))

    def _make(self, tell: Tell) -> bytes:
        out = io.BytesIO()
        KINDS[self.order.kind](self, out, tell)
        return out.getvalue()

    def sheets(self) -> list[Sheet]:
        return [self.loaded.sheet(who, self.today, self.language) for who in self.people()]

    def booklets(self, out: io.BytesIO, tell: Tell) -> None:
        write_sheets(
            self.sheets(),
            out,
            paper=self.order.paper,
            club=self.club,
            language=self.language,
            tell=tell,
        )

    def each(self, out: io.BytesIO, tell: Tell) -> None:
        """One file for each in a zip."""
        with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
            for done, who in enumerate(self.people(), start=1):
                player = self.loaded.players[who]
                data = player_pdf(self.loaded, player, self.order.paper, self.club)
                archive.writestr(file_name(player), data)
                tell(done)

    def pocket(self, out: io.BytesIO, _: Tell) -> None:
        write_pocket_cards(
            self.sheets(), out, paper=self.order.paper, club=self.club, language=self.language
        )

    def wrist(self, out: io.BytesIO, _: Tell) -> None:
        write_wrist_cards(
            self.sheets(), out, paper=self.order.paper, club=self.club, language=self.language
        )

    def handouts(self, out: io.BytesIO, _: Tell) -> None:
        edge = Edge(str(self.loaded.team), self.today, self.club)
        made = [self._handout(each.told_in(self.language)) for each in self.loaded.package]
        write_handouts(made, out, edge, paper=self.order.paper, language=self.language)

    def playbook(self, out: io.BytesIO, tell: Tell) -> None:
        edge = Edge(str(self.loaded.team), self.today, self.club)
        made = [self._handout(each.told_in(self.language)) for each in self.loaded.package]
        write_playbook(made, out, edge, paper=self.order.paper, language=self.language, tell=tell)

    def calls(self, out: io.BytesIO, _: Tell) -> None:
        told = (carried.told_in(self.language) for carried in self.loaded.package)
        lines = [line for carried in told for line in self._call_lines(carried)]
        write_call_card(
            lines,
            out,
            team=str(self.loaded.team),
            made_on=self.today,
            club=self.club,
            paper=self.order.paper,
            language=self.language,
        )

    def _call_lines(self, carried: CarriedPlay) -> Iterator[CallLine]:
        """A line for every call of a play."""
        play, day = carried.play.name, as_of(carried.published, self.today, self.language)
        yield CallLine(self._call(carried), carried.signal, play, day)
        for other in self._others(carried):
            yield CallLine(other.call, other.sign, play, day)

    def _call(self, carried: CarriedPlay) -> str:
        return call_for(carried.call, self._first_names(carried), self.language)

    def _others(self, carried: CarriedPlay) -> tuple[OtherCall, ...]:
        return other_calls(carried.play, self._first_names(carried), self.language)

    def _first_names(self, carried: CarriedPlay) -> dict[Role, CallName]:
        five = first_five(self.loaded.cast, carried.id, self.loaded.out)
        return {role: self.loaded.players[who].call_name for role, who in five.items()}

    def _handout(self, carried: CarriedPlay) -> PlayHandout:
        loaded = self.loaded
        people = {pk: each.call_name for pk, each in loaded.players.items()}
        names = Names.of(people, language=self.language)
        five = first_five(loaded.cast, carried.id, loaded.out)
        places = {
            role: ", ".join(names.player(who) for who in loaded.cast.who(carried.id, role))
            for role in ROLES
        }
        shown = {role: names.player(who) for role, who in five.items()}
        return PlayHandout(carried, self._call(carried), shown, places, self._others(carried))


KINDS: Final[Mapping[str, Callable[[_Printer, io.BytesIO, Tell], None]]] = {
    "booklets": _Printer.booklets,
    "each": _Printer.each,
    "pocket": _Printer.pocket,
    "wrist": _Printer.wrist,
    "handouts": _Printer.handouts,
    "calls": _Printer.calls,
    "playbook": _Printer.playbook,
}
UNCAST: Final = frozenset({"playbook"})  # what is no less without a cast
# What is drawn beside the requests, with its name.
TAKES_LONG: Final[Mapping[str, str]] = {
    "booklets": N_("Booklets for all players"),
    "each": N_("One file for each player (zip)"),
    "pocket": N_("Pocket cards"),
    "wrist": N_("Wristband cards"),
    "handouts": N_("A handout for each play"),
    "playbook": N_("Playbook"),
}
