"""What is wrong with a practice plan, and what the coach should know before it is run.

Errors stop a save; warnings and notes never do.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

from plays.core.play import AgeGroup
from practice.core.instants import minutes_between
from practice.core.plan.load import ACTIVITY_SOURCE, LONGEST_ACTIVITY, check_practice_length
from practice.core.plan.plan import Block, BlockKind, PracticePlan
from practice.core.reps.rep import Id, Mode
from shared.core.finding import Finding, Severity
from shared.core.language import N_, Language

# A warm-up, a cool-down and free text are no single activity.
ACTIVITIES: Final = (
    BlockKind.SKILL,
    BlockKind.INSTALL,
    BlockKind.WALK_THROUGH,
    BlockKind.LIVE,
    BlockKind.SHOOTING,
)

TOO_LONG: Final = N_(
    "The blocks take {minutes} minutes, but the hall is booked until {closes}: "
    "{over} minutes too long."
)
TOO_EARLY: Final = N_("Practice starts at {starts}, but the hall opens at {opens}.")
BOOKING_BACKWARDS: Final = N_("The hall booking ends at {closes}, before it begins at {opens}.")
NO_MINUTES: Final = N_("A block needs more than 0 minutes.")
NO_PLAY: Final = N_("An install block says which play it is for.")
NO_MODE: Final = N_("An install block says how the play is run: walk-through, half speed or live.")
GAME_BLOCK: Final = N_("A practice has no block in game mode.")
UNKNOWN_PLAY: Final = N_("This play is not in the team's package any more.")
UNKNOWN_UNIT: Final = N_("This unit does not exist any more.")
LONG_ACTIVITY: Final = N_(
    "{minutes} minutes on one activity: 7 to 10 are suggested before a change or a break."
)
LEFT_OUT: Final = N_(
    "Leave out of this live block: {players}. Local rules and licensed advice come first."
)
NO_BLOCKS: Final = N_("The plan has no blocks yet.")


@dataclass(frozen=True, slots=True)
class PlanSquad:
    """What a plan is checked against. ``plays`` and ``units`` None: they are not checked."""

    age_group: AgeGroup
    names: Mapping[Id, str] = field(default_factory=dict)
    limited: frozenset[Id] = frozenset()
    out: frozenset[Id] = frozenset()
    plays: frozenset[Id] | None = None
    units: frozenset[Id] | None = None


def check_plan(plan: PracticePlan, squad: PlanSquad, language: Language) -> tuple[Finding, ...]:
    """Every finding of the plan: the hall first, then block by block, then the load."""
    found = _check_hall(plan, language)
    if not plan.blocks:
        found.append(Finding("no_blocks", Severity.NOTE, "/blocks", language.say(NO_BLOCKS)))
    for index, block in enumerate(plan.blocks):
        found += _check_block(block, f"/blocks/{index}", squad, language)
    return (*found, *check_practice_length(plan.minutes, squad.age_group, language))


def left_out(block: Block, squad: PlanSquad) -> tuple[Id, ...]:
    """Who stays out of a live or contact block, in the order of the names."""
    if not block.is_live:
        return ()
    return tuple(who for who in squad.names if who in squad.limited | squad.out)


def _check_hall(plan: PracticePlan, language: Language) -> list[Finding]:
    booking = plan.booking
    if booking is None:
        return []
    opens, closes = f"{booking.opens:%H:%M}", f"{booking.closes:%H:%M}"
    if booking.minutes <= 0:
        sentence = language.say(BOOKING_BACKWARDS, opens=opens, closes=closes)
        return [Finding("booking_backwards", Severity.SERIOUS, "/booking/closes", sentence)]
    found = []
    if minutes_between(booking.opens, plan.starts) < 0:
        sentence = language.say(TOO_EARLY, starts=f"{plan.starts:%H:%M}", opens=opens)
        found.append(Finding("too_early", Severity.SERIOUS, "/starts", sentence))
    over = minutes_between(booking.closes, plan.ends)
    if over > 0:
        sentence = language.say(
            TOO_LONG,
            minutes=language.number(plan.minutes),
            closes=closes,
            over=language.number(over),
        )
        found.append(Finding("too_long", Severity.SERIOUS, "/blocks", sentence))
    return found


def _check_block(block: Block, place: str, squad: PlanSquad, language: Language) -> list[Finding]:
    def found(
        code: str, severity: Severity, field_: str, sentence: str, source: str = ""
    ) -> Finding:
        return Finding(code, severity, f"{place}/{field_}", sentence, source)

    errors = [
        found(code, Severity.SERIOUS, field_, language.say(template))
        for code, field_, template in _block_errors(block, squad)
    ]
    if block.kind in ACTIVITIES and block.minutes > LONGEST_ACTIVITY:
        sentence = language.say(LONG_ACTIVITY, minutes=language.number(block.minutes))
        errors.append(
            found("long_activity", Severity.WARNING, "minutes", sentence, ACTIVITY_SOURCE)
        )
    out = left_out(block, squad)
    if out:
        players = language.all_of([squad.names[who] for who in out])
        sentence = language.say(LEFT_OUT, players=players)
        errors.append(found("left_out", Severity.WARNING, "unit", sentence))
    return errors


def _block_errors(block: Block, squad: PlanSquad) -> list[tuple[str, str, str]]:
    faults = []
    if not block.minutes > 0:
        faults.append(("no_minutes", "minutes", NO_MINUTES))
    if block.mode is Mode.GAME:
        faults.append(("game_block", "mode", GAME_BLOCK))
    if block.kind is BlockKind.INSTALL:
        if block.play is None:
            faults.append(("no_play", "play", NO_PLAY))
        if block.mode is None:
            faults.append(("no_mode", "mode", NO_MODE))
    if block.play is not None and squad.plays is not None and block.play not in squad.plays:
        faults.append(("unknown_play", "play", UNKNOWN_PLAY))
    if block.unit is not None and squad.units is not None and block.unit not in squad.units:
        faults.append(("unknown_unit", "unit", UNKNOWN_UNIT))
    return faults
