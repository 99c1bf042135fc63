"""Which teams carry a play, and what games say of the check's index, asked of whoever knows.

The library stands below the teams and imports nothing of theirs. The app that keeps them
says here, when it is loaded, how to ask it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from plays.core.motion.team_pace import TeamPace
from plays.core.play import AgeGroup, Role, RuleSet
from plays.models import Play
from shared.models import User


@dataclass(frozen=True, slots=True)
class Carrier:
    """A team that the asker may see, and what the play is to it.

    ``names`` holds the call name of the first player in each role, ``revision`` the number of
    the revision carried; without a call the team does not carry the play. ``address`` leads to
    the cast, or to taking the play up; empty for who may not. ``pace`` is what the team has
    measured of itself, with the people cast in this play; ``pace_address`` leads to it.
    """

    team: int
    name: str
    rule_set: RuleSet
    call: str
    names: Mapping[Role, str]
    revision: int | None
    address: str
    age: AgeGroup = AgeGroup.U14
    pace: TeamPace = field(default_factory=TeamPace)
    pace_address: str = ""

    @property
    def carries(self) -> bool:
        return self.revision is not None


Asked = Callable[[User, Play], tuple[Carrier, ...]]

_known: list[Asked] = []


def answer_with(asked: Asked) -> None:
    """Have this function asked about carriers. Once each, however often it is said."""
    if asked not in _known:
        _known.append(asked)


@dataclass(frozen=True, slots=True)
class GamesIndex:
    """What the club's games say of the index: a sentence, empty where nobody has held it against
    them yet; ``there`` gives how often a look with an index is there, 0 to 1, once that is
    proven."""

    sentence: str
    there: Callable[[float], float] | None = None


IndexAsked = Callable[[User, Play, Carrier | None], GamesIndex | None]

_index: list[IndexAsked] = []


def index_with(asked: IndexAsked) -> None:
    """Have this function asked about the index in games; the first one said is the one."""
    if not _index:
        _index.append(asked)


def games_index(user: User, play: Play, carrier: Carrier | None) -> GamesIndex | None:
    """What games say of the index to this person; None where they say nothing."""
    return _index[0](user, play, carrier) if _index else None


def carriers(user: User, play: Play) -> tuple[Carrier, ...]:
    """Every team that this person may see, by name."""
    return tuple(carrier for asked in _known for carrier in asked(user, play))
