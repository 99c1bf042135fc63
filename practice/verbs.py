"""What the record of changes tells of practices, games and reps, plans and seasons.

The slots of a sentence are told in ``shared.verbs``.
"""

from __future__ import annotations

from typing import Final

from shared.core.language import N_
from shared.verbs import Told

TOOK_BACK: Final = "took back reps"
TOOK_OWN_BACK: Final = N_("{who} took reps back: {count}.")  # none of them somebody else's

VERBS: Final[Told] = {
    "cast": {
        "wants in the package": N_("{who} wants in the package: {subject}."),
        "wants out of the package": N_("{who} wants out of the package: {subject}."),
        "leaves to the choice": N_("{who} leaves to the choice of plays: {subject}."),
        "set what a package is for": N_("{who} changed what the plays are chosen for."),
    },
    "plans": {
        "added practice": N_("{who} entered the practice of {subject}."),
        "changed practice": N_("{who} changed the practice of {before}: now {subject}."),
        "repeated": N_("{who} entered practices that repeat: {after}."),
        "cancelled": N_("{who} cancelled the practice of {subject}."),
        "brought a practice back": N_("{who} brought the practice of {subject} back."),
        "added game": N_("{who} entered the game {subject}."),
        "deleted game": N_("{who} deleted the game {subject}."),
        "deleted practice": N_("{who} deleted {after} of the practices from {subject} on."),
        "deleted a pattern": N_("{who} deleted the pattern {subject}."),
        "changed game": N_("{who} changed the game {before}: now {subject}."),
        "saved opponent": N_("{who} saved what is known of the opponent {subject}."),
        "deleted opponent": N_("{who} deleted the opponent {subject}."),
        "noted what was seen": N_("{who} noted what {subject} did on defence."),
        "took out what was seen": N_("{who} took out something noted about {subject}."),
        "noted film": N_("{who} noted a film of {subject}."),
        "took out film": N_("{who} took a film of {subject} out."),
        "set the squad": N_("{who} set the squad of the game {subject}: {after} in it."),
        "planned": N_("{who} planned the practice of {subject}: {after}."),
        "took out a block": N_("{who} took a block out of the practice of {subject}: {before}."),
        "put blocks in order": N_("{who} ordered the blocks of the practice of {subject} anew."),
        "began a plan": N_("{who} began the plan of the practice of {subject} from another one."),
        "kept a pattern": N_("{who} kept a plan as a pattern: {subject}."),
        "proposed the install plan": N_("{who} had an install plan made for {subject}."),
        "changed the install plan": N_("{who} changed the install plan for {subject}."),
        "accepted the install plan": N_("{who} accepted the install plan for {subject}."),
        "put a lesson into the install plan": N_(
            "{who} put into the install plan for {subject} what a game showed: {after}."
        ),
        "took a lesson out of the install plan": N_(
            "{who} took out of the install plan for {subject} what a game had shown: {before}."
        ),
        "saved drill": N_("{who} saved the drill {subject}."),
        "deleted drill": N_("{who} deleted the drill {subject}."),
        "took over drills": N_("{who} copied drills from another team: {after}."),
        "noted days off": N_("{who} noted days off: {subject}."),
        "took out days off": N_("{who} took days off out again: {subject}."),
        "noted an absence": N_("{who} noted an absence: {subject}."),
        "took out an absence": N_("{who} took an absence out again: {subject}."),
    },
    "reps": {
        TOOK_BACK: N_("{who} took reps back: {count}, {others} of them logged by somebody else."),
        "counted a held rep": N_("{who} let a rep count that had waited for a decision."),
        "set a held rep aside": N_("{who} set a rep aside that had waited for a decision."),
        "changed a possession": N_(
            "{who} changed a possession of the game {subject}: {before}, now {after}."
        ),
        "brought in reps": N_("{who} brought reps in from a file: {after}."),
    },
    "players": {
        "moved player": N_("{who} brought {subject} over from another team of the club."),
        "took back the move of": N_("{who} took the move of {subject} back."),
    },
    "links": {
        "made a calendar address": N_("{who} made a secret calendar address for {subject}."),
        "withdrew a calendar address": N_(
            "{who} withdrew the secret calendar address of {subject}."
        ),
    },
    "team": {
        "set": N_("{who} changed the numbers that readiness is computed with."),
        "asked for calibration": N_("{who} had readiness fitted to the reps of the club."),
        "began a season": N_("{who} began the season {subject} from {before}."),
        "put a season away": N_("{who} put {subject} away, and closed its links and calendars."),
        "brought a season back": N_("{who} let {subject} be changed again."),
    },
    "data": {
        "took a player's data": N_("{who} saved all that is held about {subject} as a file."),
        "erased a player": N_("{who} erased a person, who is {subject} from now on."),
        "deleted a team": N_("{who} deleted the team {subject} with all that it held."),
    },
}
