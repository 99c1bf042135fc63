"""What the rule books say about throw-ins and screens, as numbers with their articles.

Every value carries its book, edition, article and a flag: V read in a copy or translation of
the book, M from memory. No text of a book is quoted. Rule books change every year and leagues
alter them: a value is what that edition says, and the local book comes first.

Metres and seconds. What a book leaves to judgement (a normal step) has no number here.

Long since it is one table: a value is read beside its neighbours in the other books.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType
from typing import Final, Generic, Literal, TypeVar

from plays.core.court.courts import feet
from plays.core.play import RuleSet
from shared.core.language import N_, Language

T = TypeVar("T")

READ: Final = N_("{book}, {article}")
REMEMBERED: Final = N_("{book}, {article}; from memory, not checked in the book")
NO_ARTICLE: Final = N_("{book}")
NO_ARTICLE_REMEMBERED: Final = N_("{book}; from memory, not checked in the book")


@dataclass(frozen=True, slots=True)
class Article:
    """Where a rule stands: book with edition, article ("" where none is known), and the flag."""

    book: str
    article: str
    flag: Literal["V", "M"] = "V"

    def cited(self, language: Language) -> str:
        """For people: "NFHS Basketball Rules Book 2025-26, 7-6-5"."""
        if not self.article:
            template = NO_ARTICLE if self.flag == "V" else NO_ARTICLE_REMEMBERED
            return language.say(template, book=self.book)
        template = READ if self.flag == "V" else REMEMBERED
        return language.say(template, book=self.book, article=self.article)


@dataclass(frozen=True, slots=True)
class Ruled(Generic[T]):
    """A value and where it stands."""

    value: T
    article: Article


class Sideways(StrEnum):
    """How a book limits the thrower's way along the line on a spot throw-in."""

    TOTAL = "total"  # so many metres in all, in one or both directions
    WIDTH = "width"  # a strip so wide, in which one foot stays until the release
    STEP = "step"  # one step to either side: no number


class ClosedLines(StrEnum):
    """Along which lines team-mates may not close up side by side."""

    NONE = "none"
    ALL = "all"
    BASELINE = "baseline"


class Backcourt(StrEnum):
    """Whether a frontcourt throw-in may be passed straight into the backcourt."""

    ALLOWED = "allowed"
    LATE_ONLY = "late_only"  # in the last two minutes of the fourth period and of overtime


@dataclass(frozen=True, slots=True)
class ThrowInRules:
    """The throw-in in one rule set. The limits are those of a spot throw-in."""

    rule_set: RuleSet
    count: Ruled[float]  # seconds from the ball at the thrower's disposal to the release
    count_from_control: bool  # the count starts when the thrower has received the ball
    sideways: Ruled[Sideways]
    sideways_limit: float | None  # metres; None where it is one step
    adjacent: Ruled[ClosedLines]  # team-mates side by side, parallel to the line
    adjacent_within: float | None  # metres from the line; None where the book has no distance
    one_out_of_bounds: Ruled[bool]  # team-mates may not be out of bounds beside the thrower
    run_after_goal: Ruled[bool]  # after a goal the whole baseline, also with a pass behind it
    hand_in: Ruled[bool]  # may the ball be handed to a player on the court?
    backcourt: Ruled[Backcourt]
    behind_board: Ruled[bool]  # may the spot be right behind the backboard?
    defender_room: Ruled[float | None]  # metres a defender keeps off the line where room is short


@dataclass(frozen=True, slots=True)
class ScreenRules:
    """The screen in one rule set; the steps are normal steps, which are a judgement."""

    rule_set: RuleSet
    stationary: Ruled[bool]  # still at the contact
    inside: Ruled[bool]  # the screener stays inside the boundary lines
    blind_steps: Ruled[int]  # steps to leave behind a stationary opponent who does not see it
    moving_steps: Ruled[tuple[int, int]]  # steps to leave a moving opponent, from, to


@dataclass(frozen=True, slots=True)
class LiveRules:
    """What is counted once the ball is in play."""

    rule_set: RuleSet
    lane: Ruled[float]  # seconds in the lane while the team controls the ball in its frontcourt
    backcourt: Ruled[float]  # seconds to bring the ball over, from the first touch in play


FIBA_BOOK: Final = "FIBA Official Basketball Rules 2022"
FIBA_INTERPRETED: Final = "FIBA Official Interpretations, June 2023"
FIBA_2010: Final = "FIBA Official Basketball Rules 2010"
NFHS_BOOK: Final = "NFHS Basketball Rules Book 2025-26"
NCAA_2013: Final = "NCAA Men's Basketball Rules 2013-15"
NCAA_BOOK: Final = "NCAA Men's Basketball Rules"
NBA_BOOK: Final = "NBA Official Rules, copy of August 2025"
WNBA_BOOK: Final = "WNBA Official Rules"


def throw_in_rules(rule_set: RuleSet) -> ThrowInRules:
    """The throw-in in a rule set."""
    return THROW_INS[rule_set]


def live_rules(rule_set: RuleSet) -> LiveRules:
    """What is counted in play in a rule set."""
    return LIVE[rule_set]


def screen_rules(rule_set: RuleSet) -> ScreenRules:
    """The screen in a rule set."""
    return SCREENS[rule_set]


_FIBA: Final = ThrowInRules(
    rule_set=RuleSet.FIBA,
    count=Ruled(5.0, Article(FIBA_BOOK, "17.3.1")),
    count_from_control=False,  # 17.1.2 V
    sideways=Ruled(Sideways.TOTAL, Article(FIBA_BOOK, "17.3.1")),
    sideways_limit=1.0,  # in one or both directions; backwards is free
    adjacent=Ruled(ClosedLines.NONE, Article(FIBA_BOOK, "17")),  # V by absence
    adjacent_within=None,
    one_out_of_bounds=Ruled(True, Article(FIBA_BOOK, "17.3.2")),
    run_after_goal=Ruled(True, Article(FIBA_BOOK, "17.2.10")),
    hand_in=Ruled(False, Article(FIBA_INTERPRETED, "17-8")),
    backcourt=Ruled(Backcourt.ALLOWED, Article(FIBA_BOOK, "30", "M")),
    behind_board=Ruled(False, Article(FIBA_BOOK, "17.2.2")),
    defender_room=Ruled(1.0, Article(FIBA_BOOK, "17.3.2")),  # under 2 m of clear space
)


def _nfhs(rule_set: RuleSet) -> ThrowInRules:
    return ThrowInRules(
        rule_set=rule_set,
        count=Ruled(5.0, Article(NFHS_BOOK, "7-6-2, 9-2-4")),
        count_from_control=False,  # 4-42-3 V
        sideways=Ruled(Sideways.WIDTH, Article(NFHS_BOOK, "4-42-6")),
        sideways_limit=feet(3),  # no limit of depth
        adjacent=Ruled(ClosedLines.ALL, Article(NFHS_BOOK, "7-6-5")),
        adjacent_within=feet(3),
        one_out_of_bounds=Ruled(True, Article(NFHS_BOOK, "9-2-11")),
        run_after_goal=Ruled(True, Article(NFHS_BOOK, "7-5-7")),
        hand_in=Ruled(False, Article(NFHS_BOOK, "9-2-2")),
        backcourt=Ruled(Backcourt.ALLOWED, Article(NFHS_BOOK, "9-9 note")),
        behind_board=Ruled(False, Article(NFHS_BOOK, "7-5-5")),
        defender_room=Ruled(feet(3), Article(NFHS_BOOK, "7-6-4")),
    )


_NCAA: Final = ThrowInRules(
    rule_set=RuleSet.NCAA,
    count=Ruled(5.0, Article(NCAA_2013, "7-6.5")),
    count_from_control=False,  # V
    sideways=Ruled(Sideways.WIDTH, Article(NCAA_BOOK, "7-6", "M")),
    sideways_limit=feet(3),  # M
    adjacent=Ruled(ClosedLines.ALL, Article(NCAA_BOOK, "7-6", "M")),
    adjacent_within=feet(3),  # M
    one_out_of_bounds=Ruled(True, Article(NCAA_BOOK, "7-6", "M")),
    run_after_goal=Ruled(True, Article(NCAA_2013, "7-4.6")),
    hand_in=Ruled(False, Article(NCAA_BOOK, "")),
    backcourt=Ruled(Backcourt.ALLOWED, Article(NCAA_BOOK, "9-12", "M")),
    behind_board=Ruled(False, Article(NCAA_BOOK, "7-5", "M")),
    defender_room=Ruled(feet(3), Article(NCAA_BOOK, "7-6", "M")),
)

_NBA: Final = ThrowInRules(
    rule_set=RuleSet.NBA,
    count=Ruled(5.0, Article(NBA_BOOK, "Rule 8-III, 10-III")),
    count_from_control=True,  # V
    sideways=Ruled(Sideways.STEP, Article(NBA_BOOK, "Rule 10-III(4)")),
    sideways_limit=None,
    adjacent=Ruled(ClosedLines.BASELINE, Article(NBA_BOOK, "Rule 8-III")),
    adjacent_within=None,
    one_out_of_bounds=Ruled(True, Article(NBA_BOOK, "Rule 8-III")),
    run_after_goal=Ruled(True, Article(NBA_BOOK, "Rule 8-III-c")),
    hand_in=Ruled(False, Article(NBA_BOOK, "Rule 10-III(9)")),
    backcourt=Ruled(Backcourt.LATE_ONLY, Article(NBA_BOOK, "Rule 8-III-e")),
    # not nearer the baseline than the free-throw line extended, V
    behind_board=Ruled(False, Article(NBA_BOOK, "Rule 6-I")),
    defender_room=Ruled(None, Article(NBA_BOOK, "Rule 8-III")),  # not over the line
)

_WNBA: Final = ThrowInRules(  # all as in the NBA, M: no book of a season was read
    rule_set=RuleSet.WNBA,
    count=Ruled(5.0, Article(WNBA_BOOK, "", "M")),
    count_from_control=True,
    sideways=Ruled(Sideways.STEP, Article(WNBA_BOOK, "", "M")),
    sideways_limit=None,
    adjacent=Ruled(ClosedLines.BASELINE, Article(WNBA_BOOK, "", "M")),
    adjacent_within=None,
    one_out_of_bounds=Ruled(True, Article(WNBA_BOOK, "", "M")),
    run_after_goal=Ruled(True, Article(WNBA_BOOK, "", "M")),
    hand_in=Ruled(False, Article(WNBA_BOOK, "", "M")),
    backcourt=Ruled(Backcourt.LATE_ONLY, Article(WNBA_BOOK, "", "M")),
    behind_board=Ruled(False, Article(WNBA_BOOK, "", "M")),
    defender_room=Ruled(None, Article(WNBA_BOOK, "", "M")),
)


def _screens(
    rule_set: RuleSet, still: Article, inside: Article, blind: Article, moving: Article
) -> ScreenRules:
    """All books agree on the values; they stand in different places."""
    return ScreenRules(
        rule_set, Ruled(True, still), Ruled(True, inside), Ruled(1, blind), Ruled((1, 2), moving)
    )


_FIBA_SCREEN: Final = Article(FIBA_2010, "33.7")
_NFHS_SCREEN: Final = Article(NFHS_BOOK, "4-40")
_NCAA_SCREEN: Final = Article(NCAA_BOOK, "4-35")
_NBA_SCREEN: Final = Article(NBA_BOOK, "Rule 12B-III")
_WNBA_SCREEN: Final = Article(WNBA_BOOK, "", "M")


def _nfhs_screens(rule_set: RuleSet) -> ScreenRules:
    inside = Article(NFHS_BOOK, "4-40-1")
    return _screens(rule_set, _NFHS_SCREEN, inside, _NFHS_SCREEN, _NFHS_SCREEN)


_NFHS_LANE: Final = Ruled(3.0, Article(NFHS_BOOK, "9-7"))
_NFHS_BACK: Final = Ruled(10.0, Article(NFHS_BOOK, "9-8"))
LIVE: Final[Mapping[RuleSet, LiveRules]] = MappingProxyType(
    {
        RuleSet.FIBA: LiveRules(
            RuleSet.FIBA,
            Ruled(3.0, Article(FIBA_BOOK, "26.1.1")),
            Ruled(8.0, Article(FIBA_BOOK, "28.1")),
        ),
        RuleSet.NFHS: LiveRules(RuleSet.NFHS, _NFHS_LANE, _NFHS_BACK),
        RuleSet.NFHS_94: LiveRules(RuleSet.NFHS_94, _NFHS_LANE, _NFHS_BACK),
        RuleSet.NCAA: LiveRules(
            RuleSet.NCAA,
            Ruled(3.0, Article(NCAA_BOOK, "9-7", "M")),
            Ruled(10.0, Article(NCAA_BOOK, "9-10", "M")),
        ),
        RuleSet.NBA: LiveRules(
            RuleSet.NBA,
            Ruled(3.0, Article(NBA_BOOK, "Rule 10-VI")),
            Ruled(8.0, Article(NBA_BOOK, "Rule 10-VIII")),
        ),
        RuleSet.WNBA: LiveRules(
            RuleSet.WNBA,
            Ruled(3.0, Article(WNBA_BOOK, "", "M")),
            Ruled(8.0, Article(WNBA_BOOK, "", "M")),
        ),
    }
)
THROW_INS: Final[Mapping[RuleSet, ThrowInRules]] = MappingProxyType(
    {
        RuleSet.FIBA: _FIBA,
        RuleSet.NFHS: _nfhs(RuleSet.NFHS),
        RuleSet.NFHS_94: _nfhs(RuleSet.NFHS_94),
        RuleSet.NCAA: _NCAA,
        RuleSet.NBA: _NBA,
        RuleSet.WNBA: _WNBA,
    }
)
SCREENS: Final[Mapping[RuleSet, ScreenRules]] = MappingProxyType(
    {
        RuleSet.FIBA: _screens(
            RuleSet.FIBA,
            _FIBA_SCREEN,
            Article(FIBA_2010, "33.7", "M"),
            _FIBA_SCREEN,
            _FIBA_SCREEN,
        ),
        RuleSet.NFHS: _nfhs_screens(RuleSet.NFHS),
        RuleSet.NFHS_94: _nfhs_screens(RuleSet.NFHS_94),
        RuleSet.NCAA: _screens(
            RuleSet.NCAA,
            Article(NCAA_BOOK, "4-35", "M"),
            _NCAA_SCREEN,
            _NCAA_SCREEN,
            _NCAA_SCREEN,
        ),
        RuleSet.NBA: _screens(
            RuleSet.NBA, _NBA_SCREEN, Article(NBA_BOOK, "Rule 10-XIV"), _NBA_SCREEN, _NBA_SCREEN
        ),
        RuleSet.WNBA: _screens(
            RuleSet.WNBA, _WNBA_SCREEN, _WNBA_SCREEN, _WNBA_SCREEN, _WNBA_SCREEN
        ),
    }
)
