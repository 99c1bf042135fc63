"""How a play is checked: age group, effort, defence, rule set and a team's own pace.

One setting, whoever asks: a page, the table of the library, or a command.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Final

from plays.core.check.bands import Band, bands
from plays.core.check.check import Report, check
from plays.core.defence.verdict import Scheme, Tactic
from plays.core.defence.words import TACTICS
from plays.core.motion.clock import timeline
from plays.core.motion.pace import EFFORT
from plays.core.motion.team_pace import TeamPace
from plays.core.motion.timeline import Timeline
from plays.core.moves.other_court import on_court
from plays.core.play import AgeGroup, Play, Role, RuleSet
from plays.core.words.terms import on
from shared.core.language import ENGLISH, N_, Language

DRAWN: Final = "drawn"
"""The defence as the coach drew it, who then chase; the others begin by their stance alone."""

AS_DRAWN: Final = N_("as drawn, then chase")
DEFENCES: Final = (DRAWN, *(tactic.value for tactic in Tactic))


@dataclass(frozen=True, slots=True)
class Setting:
    """``defence`` is one of ``DEFENCES``, by the defenders of the roles in ``whose`` or by all.

    Without a rule set the play's own court is taken.
    """

    age: AgeGroup
    effort: float = EFFORT
    defence: str = Tactic.CHASE.value
    rule_set: RuleSet | None = None
    pace: TeamPace = field(default_factory=TeamPace)
    whose: tuple[Role, ...] = ()

    @property
    def scheme(self) -> Scheme:
        return Scheme(Tactic.CHASE if self.defence == DRAWN else Tactic(self.defence), self.whose)


def usual_defence(play: Play) -> str:
    """As drawn where anybody is drawn, else a plain chase."""
    return DRAWN if play.defenders else Tactic.CHASE.value


def defence_words(defence: str, language: Language, whose: Sequence[Role] = ()) -> str:
    """What the other five do, for a sentence. Raises ValueError for none of ``DEFENCES``."""
    said = language.say(AS_DRAWN if defence == DRAWN else TACTICS[Tactic(defence)])
    return on(said, whose, language)


def staged(play: Play, setting: Setting) -> Play:
    """The play on the court of the rule set, with the drawn defenders only where asked for."""
    if setting.rule_set is not None:
        play = on_court(play, setting.rule_set)
    return play if setting.defence == DRAWN else replace(play, defenders=())


def line_of(play: Play, setting: Setting) -> Timeline:
    """The timeline alone, which costs a fraction of the check."""
    base = setting.pace.base(setting.age, setting.effort)
    return timeline(staged(play, setting), base, setting.pace.paces(setting.age, setting.effort))


def banded(play: Play, setting: Setting) -> tuple[Band, ...]:
    """How sure the check is of each look: takes a second or two.

    Looks in a rotation that is kept for another look than the first come last.
    """
    run, base = staged(play, setting), setting.pace.base(setting.age, setting.effort)
    paces = setting.pace.paces(setting.age, setting.effort)
    return bands(run, setting.scheme, base, paces)


def checked(
    play: Play,
    setting: Setting,
    *,
    language: Language = ENGLISH,
    names: Mapping[Role, str] | None = None,
) -> Report:
    """The check of a play that ``problems`` has no objection to; raises as ``check`` does."""
    return check(
        staged(play, setting),
        age=setting.age,
        effort=setting.effort,
        defence=setting.scheme,
        rule_set=setting.rule_set,
        base=setting.pace.base(setting.age, setting.effort),
        paces=setting.pace.paces(setting.age, setting.effort),
        language=language,
        names=names,
    )
