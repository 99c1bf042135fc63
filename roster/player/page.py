"""What a player sees behind their own link: an index of their plays, and one play a screen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, cast

from django.utils.safestring import SafeString

from plays.core.drawing.facing import AT_BASKET, quarters
from plays.core.drawing.options import Drawing, on_page
from plays.core.drawing.phase import diagram
from plays.core.moves.translated import told_in
from plays.core.play import Play, Role
from plays.core.words.difference import difference
from plays.core.words.role_part import CounterPart
from plays.core.words.variants import OtherCall
from plays.play.page import changed_phases, svg_of
from plays.values import play_value
from roster.core.cast import PlayerId
from roster.core.paper.sheet import Sheet, SheetPart
from roster.models import GotIt, PackagePlay, Player
from roster.sheets.page import SheetView, sheet_view
from shared.core.drawing.turning import turned
from shared.core.language import N_, Language

Place = tuple[PlayerId, Role]  # an entry of the package, and a role of it


# By quarters clockwise: what the words mean where the picture is turned.
TURNED: Final = (
    N_("You look at the basket here: up in the pictures is where you look."),
    N_("Up in the pictures is where you look as the play starts. The basket is on your right."),
    N_(
        "Up in the pictures is where you look as the play starts. The basket is behind you: what "
        "the words call left is on your right, and right on your left."
    ),
    N_("Up in the pictures is where you look as the play starts. The basket is on your left."),
)


@dataclass(frozen=True, slots=True)
class IndexLine:
    """A play in the index: what is shouted and shown, and where the player stands with it."""

    entry: PlayerId
    role: Role
    call: str
    play: str
    signal: str
    depth: int
    got: bool
    changed: bool
    due: int
    others: tuple[OtherCall, ...]


@dataclass(frozen=True, slots=True)
class CounterPicture:
    """A diagram of the play as it is, beside the same when the defence answers."""

    title: str
    plain: SafeString
    changed: SafeString


@dataclass(frozen=True, slots=True)
class MyCounter:
    part: CounterPart
    pictures: tuple[CounterPicture, ...]


@dataclass(frozen=True, slots=True)
class MyPlay:
    """One role of one play on a screen of its own."""

    sheet: SheetView
    counters: tuple[MyCounter, ...]
    turned: str = ""


def index_of(
    sheet: Sheet,
    said: Mapping[Place, int],
    current: Mapping[PlayerId, int],
    waiting: Mapping[Place, int],
) -> list[IndexLine]:
    """The player's plays in the order of the sheet.

    ``said`` holds the revision that the player confirmed last, ``current`` the one carried,
    ``waiting`` how many questions are due.
    """
    lines = []
    for part in sheet.parts:
        place = (part.carried.id, part.role)
        got = said.get(place) == current[part.carried.id]
        lines.append(
            IndexLine(
                entry=part.carried.id,
                role=part.role,
                call=part.call,
                play=part.carried.play.name,
                signal=part.carried.signal,
                depth=part.depth,
                got=got,
                changed=place in said and not got,
                due=waiting.get(place, 0),
                others=part.others,
            )
        )
    return lines


def last_said(player: Player) -> dict[Place, int]:
    """The revision of each play and role that a player confirmed last, by primary key."""
    rows = GotIt.objects.filter(player=player).order_by("pk")
    return {
        (entry, cast("Role", role)): revision
        for entry, role, revision in rows.values_list("entry_id", "role", "revision_id")
    }


def changes_since(entry: PackagePlay, role: Role, seen: int, language: Language) -> list[str]:
    """What is new for a role since the revision that the player confirmed, in sentences."""
    old = entry.play.revisions.defer("document").filter(pk=seen).first()
    if old is None or old.pk == entry.revision_id:
        return []
    before, now = (told_in(play_value(each), language.code) for each in (old, entry.revision))
    found = difference(before, now, language)
    return [change.sentence for change in found if change.role in (None, role)]


def my_play(part: SheetPart, language: Language, *, own_eyes: bool = False) -> MyPlay:
    """One part with its diagrams, each counter as a picture beside the plain one.

    With ``own_eyes`` what the player looks at as the play starts is at the top.
    """
    turn = quarters(part.carried.play, part.role) if own_eyes else AT_BASKET
    view = sheet_view(part, language, turn)
    pictures = {counter.id: counter for counter in part.carried.play.counters}
    counters = tuple(
        MyCounter(each, _pictures(part, each.id, language, turn))
        for each in view.counters
        if each.id in pictures
    )
    return MyPlay(view, counters, language.say(TURNED[turn]) if own_eyes else "")


def _pictures(
    part: SheetPart, counter: str, language: Language, turn: int
) -> tuple[CounterPicture, ...]:
    play: Play = part.carried.play
    found = next(each for each in play.counters if each.id == counter)
    shown = Drawing(emphasis=part.role, names=part.names, label="number", crop="action")
    drawing = on_page(shown, language)
    made = []
    for number in changed_phases(play, found):
        phase, name = play.phases[number - 1], f"{play.key}-{counter}-{number}"
        made.append(
            CounterPicture(
                phase.title,
                svg_of(turned(diagram(play, phase.id, drawing), turn), f"{name}-plain", lean=True),
                svg_of(
                    turned(diagram(play, phase.id, drawing, counter=found), turn), name, lean=True
                ),
            )
        )
    return tuple(made)
