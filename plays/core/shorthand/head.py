"""What a shorthand says of the play as a whole: its names, throw-in, starts, needs, texts."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from enum import StrEnum
from functools import partial
from typing import Final, Literal, Protocol, TypeVar, cast

from plays.core.court.courts import Court
from plays.core.play import (
    AgeGroup,
    Conditions,
    Defender,
    Formation,
    Need,
    Origin,
    Phase,
    Play,
    Point,
    Quality,
    Role,
    RuleSet,
    Situation,
    Spacing,
    Spot,
    Stance,
    Start,
    Swap,
    Translation,
    Variant,
)
from plays.core.shorthand.clauses import NO_ROLE, place, split
from plays.core.shorthand.naming import slug
from plays.core.shorthand.sheet import IN_LANGUAGE, TextLine, TextSheet
from plays.core.shorthand.texts import LineError, text_of, translation_of
from plays.core.shorthand.typed import typed
from plays.core.shorthand.vocabulary import OTHER_SIDE, STAYING
from shared.core.language import N_

E = TypeVar("E", bound=StrEnum)
T = TypeVar("T")

ONE_OF: Final = N_("“{found}” is not known here. Known are: {known}.")
NO_THROW_IN: Final = N_(
    "Write the throw-in as “1, right sideline at 8.3” or “1, left baseline at 1.2”."
)
NO_START: Final = N_("Write a start as “5 at the left block”.")
NO_NEED: Final = N_("Write a need as “5 needs finishing 4, weight 2”.")
NO_SPACING: Final = N_("Write a distance as “2 and 3, 3 to 5 m”.")
NO_DEFENDER: Final = N_("Write a defender as “on 5 front” or “on 5 at the left block”.")
NO_CONDITION: Final = N_("Write conditions as “at most 5 s left, margin at least -3”.")
NO_VARIANT: Final = N_("Write a variant as {example}. At its end it may say “{mirror}”.")

VARIANT_EXAMPLE: Final = 'call "Tide {3}", sign "two fists", 2 and 3 swap'

_SPOT: Final = re.compile(r"(left|right) (own )?(sideline|baseline) at (\d{1,3}(?:\.\d{1,3})?)")
_START: Final = re.compile(r"([1-5]) at (\S.*?)( with the ball)?")
_NEED: Final = re.compile(r"([1-5]) needs ([a-z]+) (\d)(?:, weight (\d))?")
_SPACING: Final = re.compile(r"([1-5]) and ([1-5]), (\d{1,2}(?:\.\d+)?) to (\d{1,2}(?:\.\d+)?) m")
_DEFENDER: Final = re.compile(r"on ([1-5])(?: (between|deny|front|behind))?(?: at (\S.*))?")
_SWAP: Final = re.compile(rf"([1-5]) and ([1-5]) swap( {STAYING})?")
_LEFT: Final = re.compile(r"(at least|at most) (\d{1,4}(?:\.\d{1,20})?) s left")
_MARGIN: Final = re.compile(r"margin (at least|at most) (-?\d{1,3})")


class Trying(Protocol):
    """Reads a line, or notes its fault and gives None."""

    def __call__(self, line: TextLine, reader: Callable[[str], T]) -> T | None: ...


def rule_set(sheet: TextSheet) -> RuleSet:
    """The court that a text is written for; FIBA where it says none, or none that is known."""
    said = sheet.head.get("court")
    known = {_value(each.value): each for each in RuleSet}
    return known.get(_value(said.text), RuleSet.FIBA) if said else RuleSet.FIBA


def play_of(
    sheet: TextSheet,
    floor: Court,
    phases: tuple[Phase, ...],
    trying: Trying,
    lines: dict[tuple[str | int, ...], int],
) -> Play:
    """The play without its looks and counters; ``lines`` learns which line says what."""
    reader = _Head(sheet, trying, lines)
    thrower, spot = reader.value("throw-in", _throw_in) or (None, None)
    starts = reader.rows("starts", partial(_start, floor=floor))
    starts += _thrower_start(starts, thrower, spot, floor)
    name = reader.value("play", text_of) or ""
    reader.value("court", lambda text: _one_of(RuleSet, text))
    return Play(
        key=reader.value("key", text_of) or slug(name, (), "play"),
        name=name,
        situation=reader.value("situation", lambda text: _one_of(Situation, text)) or _usual(spot),
        formation=reader.value("formation", lambda text: _one_of(Formation, text))
        or Formation.OTHER,
        court=floor.rule_set,
        ball=reader.value("ball", _role) or thrower or _holder(sheet) or "1",
        starts=starts,
        phases=phases,
        spot=spot,
        thrower=thrower,
        series=reader.value("series", text_of) or "",
        level=reader.value("level", lambda text: _one_of(AgeGroup, text)) or AgeGroup.U12,
        call=reader.value("call", text_of) or "",
        needs=reader.rows("needs", _need),
        spacing=reader.rows("spacing", _spacing),
        variants=reader.rows("variants", _variant),
        defenders=reader.rows("defenders", lambda text: _defender(text, floor)),
        use=reader.value("use", text_of) or "",
        teach=reader.rows("teach", text_of),
        errors=reader.rows("errors", text_of),
        cautions=reader.rows("cautions", text_of),
        conditions=reader.value("conditions", _conditions),
        origin=reader.value("origin", _origin),
        translations=reader.translations(),
    )


class _Head:
    """Reads single values and rows, and remembers their lines."""

    FIELDS: Final = {"play": "name", "throw-in": "spot"}

    def __init__(
        self,
        sheet: TextSheet,
        trying: Trying,
        lines: dict[tuple[str | int, ...], int],
    ) -> None:
        self.sheet = sheet
        self.trying = trying
        self.lines = lines

    def value(self, heading: str, reader: Callable[[str], T]) -> T | None:
        line = self.sheet.head.get(heading)
        if line is None:
            return None
        self.lines[self.FIELDS.get(heading, heading),] = line.number
        if heading == "throw-in":
            self.lines["thrower",] = line.number
        return self.trying(line, reader)

    def translations(self) -> tuple[Translation, ...]:
        """What stands under the headings of languages, language by language."""
        made: list[Translation] = []
        for section in sorted(self.sheet.sections):
            if not section.startswith(IN_LANGUAGE):
                continue
            reader = partial(translation_of, language=section.removeprefix(IN_LANGUAGE))
            for line in self.sheet.section(section):
                each = self.trying(line, reader)
                if each is not None:
                    self.lines["translations", len(made)] = line.number
                    made.append(each)
        return tuple(made)

    def rows(self, section: str, reader: Callable[[str], T]) -> tuple[T, ...]:
        made: list[T] = []
        for line in self.sheet.section(section):
            row = self.trying(line, reader)
            if row is not None:
                self.lines[section, len(made)] = line.number
                made.append(row)
        return tuple(made)


def _usual(spot: Spot | None) -> Situation:
    if spot is None:
        return Situation.HALF_COURT
    return Situation.SIDELINE if spot.edge == "sideline" else Situation.BASELINE


def _thrower_start(
    starts: tuple[Start, ...], thrower: Role | None, spot: Spot | None, floor: Court
) -> tuple[Start, ...]:
    """The start of a thrower for whom none is written: at the throw-in spot."""
    if thrower is None or spot is None or thrower in {start.role for start in starts}:
        return ()
    at = floor.spot_place(spot)
    return (Start(thrower, Point(round(at.x, 3), round(at.y, 3))),)


def _throw_in(text: str) -> tuple[Role | None, Spot | None]:
    who, *rest = split(typed(text))
    role = None if who == "nobody" else _role(who)
    if not rest:
        return role, None
    found = _SPOT.fullmatch(rest[0])
    if found is None or len(rest) > 1:
        raise LineError(NO_THROW_IN)
    side = cast("Literal['left', 'right']", found[1])
    edge = cast("Literal['sideline', 'baseline']", found[3])
    return role, Spot(edge, side, float(found[4]), bool(found[2]))


def _start(text: str, floor: Court) -> Start:
    found = _START.fullmatch(typed(text))
    if found is None:
        raise LineError(NO_START)
    return Start(_role(found[1]), place(found[2], floor))


def _holder(sheet: TextSheet) -> Role | None:
    """Who starts "with the ball", by the list of starts."""
    said = (_START.fullmatch(typed(line.text)) for line in sheet.section("starts"))
    return next((_role(found[1]) for found in said if found is not None and found[3]), None)


def _need(text: str) -> Need:
    found = _NEED.fullmatch(typed(text))
    if found is None:
        raise LineError(NO_NEED)
    return Need(_role(found[1]), _one_of(Quality, found[2]), int(found[3]), int(found[4] or 1))


def _spacing(text: str) -> Spacing:
    found = _SPACING.fullmatch(typed(text))
    if found is None:
        raise LineError(NO_SPACING)
    return Spacing(_role(found[1]), _role(found[2]), float(found[3]), float(found[4]))


def _variant(text: str) -> Variant:
    call, sign, swaps, mirror = "", "", [], False
    for clause in split(typed(text)):
        if clause.startswith("call "):
            call = text_of(clause.removeprefix("call "))
        elif clause.startswith("sign "):
            sign = text_of(clause.removeprefix("sign "))
        elif found := _SWAP.fullmatch(clause):
            swaps.append(Swap(_role(found[1]), _role(found[2]), bool(found[3])))
        elif clause == OTHER_SIDE:
            mirror = True
        else:
            raise LineError(NO_VARIANT, example=VARIANT_EXAMPLE, mirror=OTHER_SIDE)
    return Variant(call, sign, tuple(swaps), mirror)


def _defender(text: str, floor: Court) -> Defender:
    found = _DEFENDER.fullmatch(typed(text))
    if found is None:
        raise LineError(NO_DEFENDER)
    at = None if found[3] is None else place(found[3], floor)
    return Defender(_role(found[1]), at, Stance(found[2]) if found[2] else None)


def _conditions(text: str) -> Conditions:
    limits: dict[str, float | int] = {}
    for clause in () if text == "none" else split(typed(text)):
        if found := _LEFT.fullmatch(clause):
            limits[f"seconds_left_{_end(found[1])}"] = float(found[2])
        elif found := _MARGIN.fullmatch(clause):
            limits[f"margin_{_end(found[1])}"] = int(found[2])
        else:
            raise LineError(NO_CONDITION)
    return Conditions(**limits)  # type: ignore[arg-type]


def _end(bound: str) -> str:
    return "from" if bound == "at least" else "to"


def _origin(text: str) -> Origin:
    move, _, content = text.partition(" | ")
    return Origin(text_of(content), text_of(move))


def _one_of(kind: type[E], text: str) -> E:
    known = {_value(each.value): each for each in kind}
    found = known.get(_value(text))
    if found is None:
        raise LineError(ONE_OF, found=text, known=", ".join(_names(kind)))
    return found


def _names(kind: Iterable[StrEnum]) -> list[str]:
    return [each.value.replace("_", " ") for each in kind]


def _value(text: str) -> str:
    return text.strip().lower().replace("_", " ")


def _role(text: str) -> Role:
    if text not in {"1", "2", "3", "4", "5"}:
        raise LineError(NO_ROLE, found=text)
    return cast("Role", text)
