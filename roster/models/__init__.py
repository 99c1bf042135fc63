"""Teams, their people, the plays they carry and who plays which role: one file a subject."""

from roster.models.casting import CastBan, CastLock, CastProposal, CastStep, KeptApart
from roster.models.package import (
    Casting,
    GotIt,
    Lesson,
    PackagePlay,
    PackageQuerySet,
    Printing,
    Priority,
    ShelfPrinting,
)
from roster.models.players import (
    ONE_TO_FIVE,
    Availability,
    Player,
    PlayerLink,
    PlayerQuerySet,
    Unit,
)
from roster.models.quiz import QuizAnswer
from roster.models.team import Duty, RuleSet, Staff, Team
from roster.models.wrong_links import WrongLinks

__all__ = [
    "ONE_TO_FIVE",
    "Availability",
    "CastBan",
    "CastLock",
    "CastProposal",
    "CastStep",
    "Casting",
    "Duty",
    "GotIt",
    "KeptApart",
    "Lesson",
    "PackagePlay",
    "PackageQuerySet",
    "Player",
    "PlayerLink",
    "PlayerQuerySet",
    "Printing",
    "Priority",
    "QuizAnswer",
    "RuleSet",
    "ShelfPrinting",
    "Staff",
    "Team",
    "Unit",
    "WrongLinks",
]
