"""The formations of the trade as small pictures, to begin with one of them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, Final

from django.utils.safestring import SafeString, mark_safe

from plays.core.drawing.options import Drawing
from plays.core.drawing.phase import diagram
from plays.core.play import Formation as FormationValue
from plays.core.shorthand.read import read
from plays.core.shorthand.skeleton import skeleton
from plays.play.page import svg_of
from plays.starts.form import in_a_row
from shared.core.language import Language
from shared.pieces import LIBRARY, kept

if TYPE_CHECKING:
    from plays.core.shorthand.skeleton import Edge, Side

WIDTH: Final = 190.0  # points


@dataclass(frozen=True, slots=True)
class StartPicture:
    """A formation to choose: its value in the form, its name, what it looks like."""

    value: str
    label: Any
    picture: SafeString
    is_chosen: bool


def start_pictures(
    choices: list[tuple[str, Any]], chosen: str, edge: Edge, side: Side, language: Language
) -> tuple[StartPicture, ...]:
    """Every formation of the form, drawn for this throw-in and side."""
    return tuple(
        StartPicture(value, label, formation_picture(value, edge, side, language), value == chosen)
        for value, label in choices
    )


def formation_picture(value: str, edge: Edge, side: Side, language: Language) -> SafeString:
    """Where the five stand, small; drawn once and then kept."""

    def draw() -> bytes:
        by_hand = value == FormationValue.OTHER
        text = skeleton(FormationValue.BOX if by_hand else FormationValue(value), edge, side)
        play = read(text, language).play
        play = in_a_row(play) if by_hand else play
        drawing = replace(Drawing(scheme="page", language=language), width=WIDTH)
        return svg_of(diagram(play, play.phases[0].id, drawing), f"start-{value}").encode()

    data = kept(LIBRARY, ("start", value, edge, side, language.code), draw)
    return mark_safe(data.decode())  # noqa: S308 - what svg_of has written
