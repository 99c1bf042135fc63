"""What the defence does, and what a look is worth against it.

Man-to-man, five defenders. Each stands by a stance (weights of man, ball and basket, denying,
fronting), follows their man late, and is held up by a set screen in the way; or they switch,
jump to the ball, sag, trap. Who guards the thrower helps at the rim. Where the coach drew
defenders, they begin there. All of it is a script of ours, to compare plays by; it leaves out
skill, deception and contact, and promises nothing.

A look is judged at its turn: when the passer, having passed up the looks before it, can throw
it. Its best moment stands beside that. Metres and seconds.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

import numpy as np

from plays.core.defence.guarding import STANDARD, Guarding
from plays.core.defence.march import STEP, Marking, Script, march
from plays.core.defence.margin import POINTS, Parts, curve, judged, releases_of
from plays.core.defence.stance import Scheme, Sight, Tactic, script, sight
from plays.core.motion.timeline import Timeline, Window
from plays.core.play import Role

OPEN: Final = 0.3  # seconds of margin from which on a look counts as open; ours
CONTESTED: Final = 0.1  # from here on a defender bothers the catch; ours
# The share of such passes that professionals threw, by the margin: a logistic fitted to eleven
# classes of 5,191 passes thrown and 20,583 not, at the same moments. Seconds for the last two.
MOST: Final = 0.71
MIDDLE: Final = 0.30
STEEP: Final = 0.17
ALL: Final = 1_000_000  # lines
LATER: Final = 0.05  # seconds past its latest release by which a look may come; ours


Scene = tuple[bool, str | None]


class Word(StrEnum):
    """What a look is called."""

    OPEN = "open"
    CONTESTED = "contested"
    COVERED = "covered"
    PAST = "gone by its turn"
    NOT_YET = "not there yet"


@dataclass(frozen=True, slots=True)
class Held:
    """A screener who has held the defender up, and for how long."""

    screener: Role
    seconds: float


@dataclass(frozen=True, slots=True)
class Verdict:
    """One look against one defence.

    ``margin`` is that of a throw at ``turn``, ``parts`` what it is made of and ``held`` who
    held that defender up until then. ``releases`` and ``margins`` are the whole window,
    ``best`` the release with the greatest margin. ``index`` is the share of such passes that
    professionals threw, 0 to 1: an ordering of looks, and no share of successes.
    """

    look: str
    tactic: Tactic
    window: Window
    turn: float
    margin: float
    word: Word
    parts: Parts
    held: tuple[Held, ...]
    releases: tuple[float, ...]
    margins: tuple[float, ...]

    @property
    def there(self) -> bool:
        """Whether the look is worth a pass at all."""
        return self.word in (Word.OPEN, Word.CONTESTED)

    @property
    def in_time(self) -> bool:
        """Whether there is any moment for it when its turn comes."""
        return self.word not in (Word.PAST, Word.NOT_YET)

    @property
    def stopper(self) -> Role:
        """Whose defender gets there first."""
        return self.parts.stopper

    @property
    def index(self) -> float:
        return index(self.margin)

    @property
    def best(self) -> float:
        """The release in the window that leaves most."""
        if not self.margins:
            return self.turn
        return max(zip(self.margins, self.releases, strict=True))[1]

    @property
    def best_margin(self) -> float:
        return max((self.margin, *self.margins))


def word_for(margin: float) -> Word:
    """Open, contested or covered."""
    if margin >= OPEN - 1e-9:
        return Word.OPEN
    return Word.CONTESTED if margin >= CONTESTED - 1e-9 else Word.COVERED


def index(margin: float) -> float:
    """The share of passes with this margin that adult professionals threw: what they dared.

    Measured, 2015-16, in plays mostly that ended in a score; it says nothing on success.
    """
    steps = (margin - MIDDLE) / STEEP
    return MOST / (1.0 + math.exp(-max(min(steps, 700.0), -700.0)))


@dataclass(frozen=True, slots=True)
class How:
    """How finely the defence is reckoned, and for how many lines the curves are wanted too."""

    step: float = STEP
    points: int = POINTS
    curves: int = ALL


def against(
    lines: Sequence[Timeline],
    tactics: Sequence[Tactic | Scheme],
    guardings: Sequence[Guarding] | None = None,
    how: How | None = None,
) -> list[tuple[Verdict, ...]]:
    """The verdicts on all looks of each timeline against the tactic that goes with it.

    A look with a read is judged against the defence that it reads, whatever the tactic.
    Many at once cost little more than one: they are marched together.
    """
    how, guards = how or How(), guardings or [STANDARD] * len(lines)
    schemes = [scheme_of(tactic) for tactic in tactics]
    scripts: list[Script] = []
    places: list[tuple[int, Scene, Scheme]] = []
    views: dict[tuple[int, Scene, bool], Sight] = {}
    for k, (line, scheme, guarding) in enumerate(zip(lines, schemes, guards, strict=True)):
        for scene, act in dict.fromkeys((scene_of(w), _met(w, scheme)) for w in line.windows):
            curved = k < how.curves
            key, (still_out, given) = (id(line), scene, curved), scene
            if key not in views:
                until = horizon(line, scene, curved=curved)
                views[key] = sight(
                    line, still_out=still_out, step=how.step, until=until, given=given
                )
            scripts.append(
                script(line, act, still_out=still_out, seen=views[key], guarding=guarding)
            )
            places.append((k, scene, act))
    followed = dict(zip(places, march(scripts), strict=True))
    return [
        tuple(
            verdict(each, act.tactic, followed[k, scene_of(each), act], how, curved=k < how.curves)
            for each, act in ((window, _met(window, scheme)) for window in line.windows)
        )
        for k, (line, scheme) in enumerate(zip(lines, schemes, strict=True))
    ]


def _met(window: Window, scheme: Scheme) -> Scheme:
    """The defence that a look meets: what it reads, else what all looks meet."""
    read = window.look.read
    return scheme if read is None else Scheme(Tactic(read.defence.value), read.whose)


def scene_of(window: Window) -> Scene:
    """What the defence sees when a look is thrown: a ball still out, or by which look it came."""
    return window.counted, window.given


def horizon(line: Timeline, scene: Scene, *, curved: bool = True) -> float:
    """How long the defence has to be followed: to the last release and what comes of it.

    Where no curve over the windows is wanted, the last release is the last turn.
    """
    seen = [window for window in line.windows if scene_of(window) == scene]
    last = [max(w.latest, w.earliest) if curved else turn_of(w) for w in seen]
    return max(last) + line.pace.choose + 0.3


def scheme_of(tactic: Tactic | Scheme) -> Scheme:
    """A tactic by itself is that of all five."""
    return tactic if isinstance(tactic, Scheme) else Scheme(tactic)


def marked(line: Timeline, tactic: Tactic | Scheme, *, still_out: bool = False) -> Marking:
    """Where the defenders go against a play, to show them or to measure against."""
    (marking,) = march([script(line, scheme_of(tactic), still_out=still_out)])
    return marking


def turn_of(window: Window) -> float:
    """The release at which a look is judged: its turn, or the last moment it has."""
    return min(window.in_turn, max(window.latest, window.earliest))


def verdict(
    window: Window,
    tactic: Tactic,
    marking: Marking,
    how: How | None = None,
    *,
    curved: bool = True,
) -> Verdict:
    """One look against defenders who move as marked."""
    how, turn = how or How(), turn_of(window)
    margin, parts = judged(window, marking, turn, how.points)
    releases = releases_of(window) if curved else np.empty(0)
    margins = curve(window, marking) if curved else releases
    cost = marking.cost(turn, parts.defender)
    return Verdict(
        look=window.look.id,
        tactic=tactic,
        window=window,
        turn=turn,
        margin=margin,
        word=word_of(window, margin),
        parts=parts,
        held=tuple(Held(each.screener, seconds) for each, seconds in cost),
        releases=tuple(float(release) for release in releases),
        margins=tuple(float(value) for value in margins),
    )


def word_of(window: Window, margin: float) -> Word:
    """The word for a look with this margin at its turn."""
    if not window.opens:
        return Word.NOT_YET
    return word_for(margin) if window.in_turn <= window.latest + LATER else Word.PAST


__all__ = [
    "Held",
    "How",
    "Parts",
    "Scheme",
    "Tactic",
    "Verdict",
    "Word",
    "against",
    "index",
    "marked",
    "verdict",
    "word_for",
]
