"""Practices, games, and what was run in them: one file a subject."""

from practice.models.choosing import PackageSearch, PackageWishes
from practice.models.clearing import Clearing
from practice.models.dates import (
    PRACTICE_MODES,
    Absence,
    Attendance,
    Block,
    DaysOff,
    FeedLink,
    Game,
    KindChoice,
    ModeChoice,
    PlanPattern,
    Practice,
    Presence,
    Series,
)
from practice.models.drills import Drill
from practice.models.film import LONGEST_FILM, LONGEST_LINK, FilmLink
from practice.models.games import (
    DEFENCE_CHOICES,
    CalledPlay,
    CalledPlayQuerySet,
    CalledRole,
    CallResultChoice,
    SquadMark,
    TakenChoice,
)
from practice.models.install import (
    Calibrating,
    Improvement,
    InstallPlan,
    LessonInPlan,
    ReadinessSettings,
)
from practice.models.opponents import MOST_SEEN, Observation, Opponent
from practice.models.reps import HeldRep, Rep, RepQuerySet, RepRole, RepSum, SlipChoice, Undo

__all__ = [
    "DEFENCE_CHOICES",
    "LONGEST_FILM",
    "LONGEST_LINK",
    "MOST_SEEN",
    "PRACTICE_MODES",
    "Absence",
    "Attendance",
    "Block",
    "Calibrating",
    "CallResultChoice",
    "CalledPlay",
    "CalledPlayQuerySet",
    "CalledRole",
    "Clearing",
    "DaysOff",
    "Drill",
    "FeedLink",
    "FilmLink",
    "Game",
    "HeldRep",
    "Improvement",
    "InstallPlan",
    "KindChoice",
    "LessonInPlan",
    "ModeChoice",
    "Observation",
    "Opponent",
    "PackageSearch",
    "PackageWishes",
    "PlanPattern",
    "Practice",
    "Presence",
    "ReadinessSettings",
    "Rep",
    "RepQuerySet",
    "RepRole",
    "RepSum",
    "Series",
    "SlipChoice",
    "SquadMark",
    "TakenChoice",
    "Undo",
]
