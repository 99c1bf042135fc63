"""What the defence does, and what a look is worth against it.

Man-to-man, five defenders. Each stands by a stance (between man and basket, denying,
fronting), follows their man a reaction late, and is held up by a set screen in the way;
or they switch, jump to the ball, sag, trap. Who guards the thrower helps at the rim. Where
the coach drew defenders, they begin there. All of it is a script of ours, to compare plays
by; it leaves out skill, deception and contact, and promises nothing.

Numbers here are choices of ours, unless a source stands beside them. Metres and seconds.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from plays.core.defence.march import Marking, Script, march
from plays.core.defence.margin import Margins, margins
from plays.core.defence.stance import Seen, Tactic, script, seen
from plays.core.motion.timeline import Timeline, Window
from plays.core.play import Role

OPEN = 0.3  # seconds of margin from which on a look counts as open
CONTESTED = 0.1  # from here on a defender bothers the catch
WIDTH = 0.2  # seconds: standard deviation of the logistic; 0.15 to 0.2 for hands in basketball


class Word(StrEnum):
    """What a margin is called."""

    OPEN = "open"
    CONTESTED = "contested"
    COVERED = "covered"
    NOT_YET = "not there yet"


@dataclass(frozen=True, slots=True)
class Verdict:
    """One look against one defence.

    ``releases`` and ``margins`` are the whole window; ``best`` the release with the greatest
    margin, ``margin`` that margin, ``low`` to ``high`` its band when reaction changes by 0.1 s
    or reach by 0.2 m. ``chance`` is a logistic of the margin, an ordering of looks rather
    than a forecast. ``stopper`` guards the role named and gets there first.
    """

    look: str
    tactic: Tactic
    window: Window
    releases: tuple[float, ...]
    margins: tuple[float, ...]
    best: float
    margin: float
    low: float
    high: float
    word: Word
    chance: float
    chance_low: float
    chance_high: float
    stopper: Role

    @property
    def there(self) -> bool:
        """Whether the look is worth a pass at all."""
        return self.word in (Word.OPEN, Word.CONTESTED)


def word_for(margin: float) -> Word:
    """Open, contested or covered."""
    if margin >= OPEN - 1e-9:
        return Word.OPEN
    return Word.CONTESTED if margin >= CONTESTED - 1e-9 else Word.COVERED


def chance(margin: float) -> float:
    """A logistic of the margin with standard deviation ``WIDTH``: 0.5 where ball and hand meet."""
    steep = math.pi / (math.sqrt(3.0) * WIDTH)
    return 1.0 / (1.0 + math.exp(-max(min(steep * margin, 700.0), -700.0)))


def against(
    lines: Sequence[Timeline], tactics: Sequence[Tactic], step: float = 0.04
) -> list[tuple[Verdict, ...]]:
    """The verdicts on all looks of each timeline against the tactic that goes with it.

    Many at once cost little more than one: they are marched together.
    """
    scripts: list[Script] = []
    places: list[tuple[int, bool]] = []
    views: dict[tuple[int, bool], Seen] = {}
    for index, (line, tactic) in enumerate(zip(lines, tactics, strict=True)):
        for still_out in sorted({window.counted for window in line.windows}):
            key = (id(line), still_out)
            if key not in views:
                until = horizon(line, still_out=still_out)
                views[key] = seen(line, still_out=still_out, step=step, until=until)
            scripts.append(script(line, tactic, still_out=still_out, view=views[key]))
            places.append((index, still_out))
    followed = dict(zip(places, march(scripts), strict=True))
    return [
        tuple(
            verdict(window, tactic, followed[index, window.counted], line)
            for window in line.windows
        )
        for index, (line, tactic) in enumerate(zip(lines, tactics, strict=True))
    ]


def horizon(line: Timeline, *, still_out: bool) -> float:
    """How long the defence has to be followed: to the last release and what comes of it."""
    last = [max(w.latest, w.earliest) for w in line.windows if w.counted == still_out]
    return max(last) + line.pace.choose + 0.3


def marked(line: Timeline, tactic: Tactic, *, still_out: bool = False) -> Marking:
    """Where the defenders go against a play, to show them or to measure against."""
    (marking,) = march([script(line, tactic, still_out=still_out)])
    return marking


def verdict(window: Window, tactic: Tactic, marking: Marking, line: Timeline) -> Verdict:
    """One look against defenders who move as marked."""
    found = margins(window, marking, line.pace)
    index = int(np.argmax(found.base))
    low, high = found.band(index)
    margin = float(found.base[index])
    return Verdict(
        look=window.look.id,
        tactic=tactic,
        window=window,
        releases=tuple(float(release) for release in found.releases),
        margins=tuple(float(value) for value in found.base),
        best=float(found.releases[index]),
        margin=margin,
        low=low,
        high=high,
        word=word_for(margin) if window.opens else Word.NOT_YET,
        chance=chance(margin),
        chance_low=chance(low),
        chance_high=chance(high),
        stopper=found.stopper(index),
    )


__all__ = [
    "Margins",
    "Tactic",
    "Verdict",
    "Word",
    "against",
    "chance",
    "marked",
    "verdict",
    "word_for",
]
