"""Planned load held against the published participation guideline: warnings, never blocks.

NBA and USA Basketball youth guidelines 2016; DiFiori et al., Sports Med 2018;48(9):2053-2065,
doi 10.1007/s40279-018-0950-0 (PMC6096539, Table 4 for the maxima). The guideline speaks of
organised basketball: games, practices and coach-led training, not of play with friends.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Final

from plays.core.play import AgeGroup
from shared.core.finding import Finding, Severity
from shared.core.language import N_, Language

SOURCE: Final = (
    "NBA and USA Basketball youth guidelines 2016; DiFiori et al., Sports Med 2018;48:2053-2065"
)
LONGEST_ACTIVITY: Final = 10.0  # minutes
ACTIVITY_SOURCE: Final = "FIBA/WABC coaches manual, level 1, 2.1.5 (7-10 minutes suggested)"


@dataclass(frozen=True, slots=True)
class Guideline:
    """One row: minutes and counts, each (from, to); ``rest_days`` is the least per week."""

    ages: str
    game_minutes: tuple[int, int]
    games_per_week: tuple[int, int]
    practice_minutes: tuple[int, int]
    practices_per_week: tuple[int, int]
    games_per_day: int
    hours_per_week: int
    rest_days: int
    months_per_year: tuple[int, int]
    sleep_hours: tuple[int, int]


AGES_7_8: Final = Guideline("7-8", (20, 28), (1, 1), (30, 60), (1, 1), 1, 3, 2, (4, 4), (9, 12))
AGES_9_11: Final = Guideline("9-11", (24, 32), (1, 2), (45, 75), (2, 2), 2, 5, 2, (5, 5), (9, 12))
AGES_12_14: Final = Guideline(
    "12-14", (28, 32), (2, 2), (60, 90), (2, 4), 2, 10, 1, (7, 7), (8, 10)
)
GRADES_9_12: Final = Guideline(
    "grades 9-12", (32, 36), (2, 3), (90, 120), (3, 4), 2, 14, 1, (9, 10), (8, 10)
)
# Which row an age group is read in is our choice; a group that spans two rows gets the
# younger one, except U16, whose players are in grades 9 and 10 (from memory).
ROWS: Final[dict[AgeGroup, Guideline | None]] = {
    AgeGroup.U10: AGES_7_8,
    AgeGroup.U12: AGES_9_11,
    AgeGroup.U14: AGES_12_14,
    AgeGroup.U16: GRADES_9_12,
    AgeGroup.U18: GRADES_9_12,
    AgeGroup.ADULT: None,
}

PRACTICE_LONG: Final = N_(
    "This practice has {minutes} minutes; the 2016 guideline for ages {ages} says up to {most}."
)
HOURS: Final = N_(
    "The week of {day} has {hours} hours of basketball; "
    "the 2016 guideline for ages {ages} says at most {most}."
)
PRACTICES: Final = N_(
    "The week of {day} has {count} practices; the 2016 guideline for ages {ages} says up to {most}."
)
GAMES_WEEK: Final = N_(
    "The week of {day} has {count} games; the 2016 guideline for ages {ages} says up to {most}."
)
GAMES_DAY: Final = N_(
    "{day} has {count} games; the 2016 guideline for ages {ages} says at most {most}."
)
TWO_GAMES_DAY: Final = N_(
    "{day} has {count} games; the 2016 guideline for ages {ages} asks for caution "
    "with more than one game a day."
)
REST: Final = N_(
    "The week of {day} leaves {count} days without basketball; "
    "the 2016 guideline for ages {ages} asks for at least {least}."
)


@dataclass(frozen=True, slots=True)
class Session:
    """A practice or game of one team or one player, on the local calendar."""

    starts: datetime
    minutes: float
    is_game: bool = False

    @property
    def day(self) -> date:
        return self.starts.date()


def guideline(age_group: AgeGroup) -> Guideline | None:
    """The row for an age group; None for adults, for whom there is none."""
    return ROWS[age_group]


def check_practice_length(
    minutes: float, age_group: AgeGroup, language: Language
) -> tuple[Finding, ...]:
    """A warning where one practice is longer than the guideline's range."""
    row = guideline(age_group)
    if row is None or minutes <= row.practice_minutes[1]:
        return ()
    sentence = language.say(
        PRACTICE_LONG,
        minutes=language.number(minutes, 0),
        ages=row.ages,
        most=row.practice_minutes[1],
    )
    return (_warning("practice_long", "/minutes", sentence),)


def check_weeks(
    sessions: Sequence[Session], age_group: AgeGroup, language: Language
) -> tuple[Finding, ...]:
    """Warnings for every week from Monday to Sunday that has sessions, in order."""
    row = guideline(age_group)
    if row is None:
        return ()
    weeks: dict[date, list[Session]] = {}
    for session in sorted(sessions, key=lambda session: session.day):
        weeks.setdefault(_monday(session.day), []).append(session)
    return tuple(
        found
        for monday, week in weeks.items()
        for found in _check_week(monday, week, row, language)
    )


@dataclass(frozen=True, slots=True)
class WeekLoad:
    """What one week holds. ``rest_days`` are days of the week without a session."""

    monday: date
    hours: float
    practices: int
    games: int
    rest_days: int
    games_by_day: tuple[tuple[date, int], ...]


def week_load(monday: date, sessions: Iterable[Session]) -> WeekLoad:
    """Count the sessions that fall into the week that begins on ``monday``."""
    week = [s for s in sessions if monday <= s.day < monday + timedelta(days=7)]
    game_days = sorted({s.day for s in week if s.is_game})
    return WeekLoad(
        monday,
        sum(s.minutes for s in week) / 60,
        sum(not s.is_game for s in week),
        sum(s.is_game for s in week),
        7 - len({s.day for s in week}),
        tuple((day, sum(s.is_game and s.day == day for s in week)) for day in game_days),
    )


def _check_week(
    monday: date, week: list[Session], row: Guideline, language: Language
) -> list[Finding]:
    load = week_load(monday, week)
    over = (
        ("hours", HOURS, load.hours, row.hours_per_week),
        ("practices", PRACTICES, load.practices, row.practices_per_week[1]),
        ("games_week", GAMES_WEEK, load.games, row.games_per_week[1]),
    )
    slots = {"day": monday.isoformat(), "ages": row.ages}
    found = []
    for code, template, value, most in over:
        if value > most:
            shown = language.number(value)
            sentence = language.say(template, hours=shown, count=shown, most=most, **slots)
            found.append(_warning(code, f"/weeks/{monday.isoformat()}", sentence))
    if load.rest_days < row.rest_days:
        sentence = language.say(REST, count=load.rest_days, least=row.rest_days, **slots)
        found.append(_warning("rest", f"/weeks/{monday.isoformat()}", sentence))
    for day, count in load.games_by_day:
        found += _check_game_day(day, count, row, language)
    return found


def _check_game_day(day: date, count: int, row: Guideline, language: Language) -> list[Finding]:
    if count <= 1:
        return []
    template = GAMES_DAY if count > row.games_per_day else TWO_GAMES_DAY
    sentence = language.say(
        template, day=day.isoformat(), count=count, ages=row.ages, most=row.games_per_day
    )
    return [_warning("games_day", f"/days/{day.isoformat()}", sentence)]


def _monday(day: date) -> date:
    return day - timedelta(days=day.weekday())


def _warning(code: str, place: str, sentence: str) -> Finding:
    return Finding(code, Severity.WARNING, place, sentence, SOURCE)
