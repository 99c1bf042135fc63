"""What a player sees behind their own link: an index of their plays, and one play a screen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, cast

from plays.core.drawing.facing import AT_BASKET, quarters
from plays.core.moves.translated import told_in
from plays.core.play import Role
from plays.core.words.difference import difference
from plays.core.words.variants import OtherCall
from plays.values import play_value
from roster.core.cast import PlayerId
from roster.core.paper.sheet import Sheet, SheetPart
from roster.models import GotIt, PackagePlay, Player
from roster.player.counters import MyCounter, my_counters
from roster.sheets.page import SheetView, sheet_view
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
    counters = my_counters(part, view.counters, language, turn)
    return MyPlay(view, counters, language.say(TURNED[turn]) if own_eyes else "")
