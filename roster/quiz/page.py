"""A question on a phone: the court to tap, the choices, and after a wrong answer the way."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from django.utils.safestring import SafeString

from plays.core.court.courts import court
from plays.core.court.spoken import spot_name
from plays.core.drawing.court_lines import court_shapes
from plays.core.drawing.frame import Frame, frame, places_of
from plays.core.drawing.inks import inks
from plays.core.drawing.options import Drawing, on_page
from plays.core.drawing.phase import diagram
from plays.core.play import Play, Point, Role
from plays.core.sequence.course import lanes, scenes
from plays.core.words.speaker import near_side
from plays.play.page import svg_of
from roster.core.paper.sheet import SheetPart
from roster.core.quiz.question import Judged, RoleQuestion, played
from shared.core.drawing.picture import Circle, Paint, Picture, Shape
from shared.core.language import N_, Language

WIDTH: Final = 280.0
"""Points, and CSS pixels: the narrowest phone has room for it, and a tap tells the place."""

TITLE: Final = N_("The court; the ball is where the dot is.")
TITLE_ALONE: Final = N_("The court.")
OFF: Final = N_("You pointed {n} m from there.")
OFF_AND_NEARER: Final = N_("You pointed {n} m from there, nearer to {place}.")


@dataclass(frozen=True, slots=True)
class TapFloor:
    """The court beneath a clear image that sends where it was tapped, without script."""

    drawn: SafeString
    width: int
    height: int
    shows_ball: bool


def floor(play: Play, role: Role, question: RoleQuestion, language: Language) -> TapFloor:
    play = played(play, question)
    window = _window(play)
    shapes: list[Shape] = [court_shapes(court(play.court), window)]
    gives_away = role == play.ball and question.at == play.start_of(role)
    if not gives_away:
        at = window.to(play.start_of(play.ball))
        shapes.append(Circle(at, 6.0, Paint(stroke="ink", fill="own", width=1.5)))
    picture = Picture(
        window.width,
        window.height,
        tuple(shapes),
        language.say(TITLE_ALONE if gives_away else TITLE),
        "",
        inks("light"),
        by_class=True,
        lang=language.code,
    )
    drawn = svg_of(picture, "floor", lean=True)
    return TapFloor(drawn, round(window.width), round(window.height), not gives_away)


def place_tapped(play: Play, across: float, down: float) -> Point:
    """The place on the floor that was tapped, from the image's own pixels."""
    window = _window(play)
    return Point(window.left + across / window.scale, window.top + down / window.scale)


def way(part: SheetPart, question: RoleQuestion, language: Language) -> SafeString:
    """The diagram that shows the true answer, the player's own path heavy."""
    shown = Drawing(emphasis=part.role, names=part.names, label="number", crop="action")
    drawing = on_page(shown, language)
    play = played(part.carried.play, question)
    return svg_of(
        diagram(play, question.phase, drawing, counter=question.counter), "way", lean=True
    )


def how_far(play: Play, judged: Judged, language: Language) -> str:
    """How far off a tap was, in a sentence; empty for a choice."""
    if judged.metres is None:
        return ""
    metres = language.number(judged.metres, 1)
    if judged.nearer is None:
        return language.say(OFF, n=metres)
    place = spot_name(judged.nearer, language, near_side(play.spot))
    return language.say(OFF_AND_NEARER, n=metres, place=place)


def _window(play: Play) -> Frame:
    scene = scenes(play)
    places = places_of(play, scene, lanes(play, scene))
    return frame(court(play.court), places, "half", WIDTH)
