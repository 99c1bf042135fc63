"""Who speaks to whom: a reader's role, the cast's names, the language, the words for places."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from math import dist
from types import MappingProxyType
from typing import Final

from plays.core.calls import with_role
from plays.core.court.courts import Court, court
from plays.core.court.spoken import describe, spot_name
from plays.core.court.spots import Side, named_spots, nearest
from plays.core.motion.timeline import Window
from plays.core.play import Play, Point, Role, Spot
from plays.core.words.directions import toward
from plays.core.words.facts import Toward
from shared.core.language import ENGLISH, N_, Language, Meetings, Phrase, Slot, sentence

UNNAMED: Final = N_("the {role}")

SPLIT_SECOND: Final = N_("a split second")
HALF_SECOND: Final = N_("about half a second")
ONE_SECOND: Final = N_("about one second")
ONE_AND_A_HALF: Final = N_("about one and a half seconds")
SECONDS: Final = N_("about {n} seconds")
SECONDS_AND_A_HALF: Final = N_("about {n} and a half seconds")
_HALVES: Final = {0: SPLIT_SECOND, 1: HALF_SECOND, 2: ONE_SECOND, 3: ONE_AND_A_HALF}

# Where two ends of a short way have one name: half a step, a step, from where one is.
NUDGES: Final[Mapping[str, tuple[str, str]]] = MappingProxyType(
    {
        "baseline": (N_("half a step nearer the baseline"), N_("a step nearer the baseline")),
        "half": (N_("half a step nearer half court"), N_("a step nearer half court")),
        "own": (
            N_("half a step nearer our own baseline"),
            N_("a step nearer our own baseline"),
        ),
        "left": (N_("half a step to the left"), N_("a step to the left")),
        "right": (N_("half a step to the right"), N_("a step to the right")),
        "near": (N_("half a step to the ball side"), N_("a step to the ball side")),
        "far": (N_("half a step to the far side"), N_("a step to the far side")),
    }
)
# One posts up a step to the left, neither at nor to it.
BEFORE_NUDGE: Final[Mapping[str, Meetings]] = MappingProxyType(
    {
        "en": ((re.compile(r"(?<=[)\d]) at $"), ", "), (re.compile(r"\b(?:at|to) $"), "")),
        "es": ((re.compile(r"(?<=[)\d]) en $"), ", "), (re.compile(r"\b(?:en|hasta) $"), "")),
    }
)
THERE: Final = N_("there")
BEFORE_THERE: Final[Mapping[str, Meetings]] = MappingProxyType(
    {"en": ((re.compile(r"\bat $"), ""),), "es": ((re.compile(r"\ben $"), ""),)}
)

LOOK: Final = N_("look {n} from {passer} to {receiver}")

HARDLY: Final = 0.3  # metres: a shorter way keeps the name of the place
CLOSE: Final = 0.6  # metres from a named place: a run goes to the place itself
IN_SIGHT: Final = 1.2  # metres: toward a place this near one runs without counting steps
BEHIND_BASKET: Final = 0.5  # metres from the basket's line that still count as behind it


@dataclass(frozen=True, slots=True)
class Speaker:
    """Puts people, places and seconds into the reader's words.

    ``near`` is the side that counts as near: that of the throw-in, all through the play, so
    that one place keeps one name. Without it places are left and right.
    """

    reader: Role
    court: Court
    language: Language
    names: Mapping[Role, str] = field(default_factory=dict)
    near: Side | None = None

    def person(self, role: Role) -> str:
        return person(role, self.names, self.language)

    def people(self, roles: tuple[Role, ...]) -> str:
        return self.language.all_of([self.person(role) for role in roles])

    def place(self, point: Point, *, exact: bool = True) -> str:
        """Where somebody stands, to the step; of others one way from a named place is enough."""
        return describe(self.court, point, self.language, ball_side=self.near, exact=exact)

    def goal(self, point: Point, *, exact: bool = True) -> str:
        """Where a run or a pass goes: the named place itself, if that is close."""
        key = nearest(self.court, point).key
        spot = named_spots(self.court).get(key)
        if spot is not None and dist(spot, point) < CLOSE:
            return spot_name(key, self.language, self.near)
        return self.place(point, exact=exact)

    def nearest_place(self, point: Point) -> str:
        """The named place nearest to a point, without steps."""
        return spot_name(nearest(self.court, point).key, self.language, self.near)

    def landmark(self, point: Point) -> str:
        """The named place by which one runs, if it is within sight of the way."""
        spot = named_spots(self.court).get(nearest(self.court, point).key)
        seen = spot is not None and dist(spot, point) < IN_SIGHT
        return self.nearest_place(point) if seen else self.place(point, exact=False)

    def aim(self, began: Point | None, end: Point, name: str) -> str:
        """``name`` for the end of a way; where it began has that name too, how far from there."""
        if began is None or dist(began, end) < HARDLY or name not in self._names(began):
            return name
        nearer = toward(began, end, self.court.half_y)
        half_step, step = NUDGES[self.side_word(nearer)]
        said = self.say(half_step if dist(began, end) < CLOSE else step)
        return Phrase(said, BEFORE_NUDGE.get(self.language.code, ()))

    def there(self) -> str:
        """A place that the sentence before has said."""
        return Phrase(self.say(THERE), BEFORE_THERE.get(self.language.code, ()))

    def _names(self, point: Point) -> tuple[str, str]:
        return self.place(point), self.goal(point)

    def side_word(self, way: Toward) -> str:
        """Left and right as near and far, where there is a near side."""
        if self.near is None or way not in ("left", "right"):
            return way
        return "near" if way == self.near else "far"

    def fixed_place(self, point: Point) -> str:
        """The place by left and right: where the throw-in is, which says what near means."""
        return describe(self.court, point, self.language)

    def say(self, template: str, /, **slots: str | int) -> str:
        return self.language.say(template, **slots)


@dataclass(frozen=True, slots=True)
class Voice:
    """Tells the staff of people, looks and numbers, in sentences that begin with a capital."""

    language: Language = ENGLISH
    names: Mapping[Role, str] = field(default_factory=dict)

    def who(self, role: Role) -> str:
        return person(role, self.names, self.language)

    def look(self, window: Window) -> str:
        look = window.look
        passer, receiver = self.who(look.passer), self.who(look.receiver)
        return self.language.say(LOOK, n=window.index + 1, passer=passer, receiver=receiver)

    def number(self, value: float, digits: int = 1) -> str:
        return self.language.number(value, digits)

    def say(self, template: str, /, **slots: Slot) -> str:
        return sentence(self.language.say(template, **slots))


def person(role: Role, names: Mapping[Role, str], language: Language) -> str:
    """ "Ida (5)", or "the 5" where nobody is cast: how a sentence names somebody."""
    name = names.get(role, "").strip()
    if name:
        return with_role(name, role, language)
    return language.say(UNNAMED, role=role)


def label(role: Role, names: Mapping[Role, str], language: Language) -> str:
    """ "Ida (5)", or the bare role where nobody is cast: for lists, tables and choices."""
    return person(role, names, language) if names.get(role, "").strip() else role


def speaker(play: Play, reader: Role, names: Mapping[Role, str], language: Language) -> Speaker:
    """The speaker for a role's part of a play."""
    return Speaker(reader, court(play.court), language, names, near_side(play.spot))


def near_side(spot: Spot | None) -> Side | None:
    """The side of the throw-in; none from behind the basket, or without a throw-in."""
    if spot is None or (spot.edge == "baseline" and spot.along < BEHIND_BASKET):
        return None
    return spot.side


def seconds_in_words(seconds: float, language: Language) -> str:
    """Seconds as a person counts them, to the nearest half, ties upwards."""
    halves = int(2 * seconds + 0.5)
    if halves in _HALVES:
        return language.say(_HALVES[halves])
    template = SECONDS_AND_A_HALF if halves % 2 else SECONDS
    return language.say(template, n=language.count(halves // 2))
