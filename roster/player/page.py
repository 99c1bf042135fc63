"""What a player sees behind their own link: an index of their plays, and one play a screen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from plays.core.drawing.facing import AT_BASKET, quarters
from plays.core.play import Role
from plays.core.words.variants import OtherCall
from roster.core.cast import PlayerId
from roster.core.paper.sheet import Sheet, SheetPart
from roster.player.counters import MyCounter, my_counters
from roster.player.news import News, Place
from roster.sheets.page import SheetView, sheet_view
from shared.core.language import N_, Language

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
    news: tuple[str, ...] | None  # None where the revision carried is the one confirmed, or none is
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
    fresh: News,
) -> list[IndexLine]:
    """The player's plays in the order of the sheet.

    ``said`` holds the revision that the player confirmed last, ``current`` the one carried,
    ``waiting`` how many questions are due, ``fresh`` what is new since the one confirmed.
    """
    lines = []
    for part in sheet.parts:
        place = (part.carried.id, part.role)
        lines.append(
            IndexLine(
                entry=part.carried.id,
                role=part.role,
                call=part.call,
                play=part.carried.play.name,
                signal=part.carried.signal,
                depth=part.depth,
                got=said.get(place) == current[part.carried.id],
                news=fresh.get(place),
                due=waiting.get(place, 0),
                others=part.others,
            )
        )
    return lines


def my_play(part: SheetPart, language: Language, *, own_eyes: bool = False) -> MyPlay:
    """One part with its diagrams, each counter as a picture beside the plain one.

    With ``own_eyes`` what the player looks at as the play starts is at the top.
    """
    turn = quarters(part.carried.play, part.role) if own_eyes else AT_BASKET
    view = sheet_view(part, language, turn)
    counters = my_counters(part, view.counters, language, turn)
    return MyPlay(view, counters, language.say(TURNED[turn]) if own_eyes else "")
