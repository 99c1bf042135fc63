"""What the record of changes tells of players and teams, their package, cast and links.

The slots of a sentence are told in ``shared.verbs``.
"""

from __future__ import annotations

from typing import Final

from shared.core.language import N_
from shared.verbs import Told

VERBS: Final[Told] = {
    "cast": {
        "took up": N_("{who} took {subject} up into the package."),
        "renamed": N_("{who} changed the call or the signal of {subject}."),
        "dropped": N_("{who} took {subject} out of the package."),
        "went to revision": N_("{who} went over to a newer version of {subject}."),
        "cast": N_("{who} changed the cast of {subject}."),
        "kept the cast": N_("{who} let the cast of {subject} stand for its new version."),
        "locked": N_("{who} locked a place in the cast: {subject}."),
        "unlocked": N_("{who} took the lock off a place in the cast: {subject}."),
        "made lock": N_("{who} wants in every cast: {subject}."),
        "made ban": N_("{who} wants in no cast: {subject}."),
        "lifted": N_("{who} lifted a lock or a ban: {subject}."),
        "set minutes": N_("{who} set the expected minutes of {after}."),
        "keeps apart": N_("{who} keeps two players apart: {subject}."),
        "no longer keeps apart": N_("{who} no longer keeps two players apart: {subject}."),
        "wished lesson": N_("{who} put a lesson on the list: {subject}."),
        "struck off lesson": N_("{who} struck a lesson off the list: {subject}."),
    },
    "players": {
        "added player": N_("{who} entered the player {subject}."),
        "saved player": N_("{who} changed the data of {subject}."),
        "brought in players": N_("{who} brought players in from a file: {after}."),
        "changed players by a file": N_("{who} changed players by a file: {after}."),
        "rated players": N_("{who} changed the ratings of {after}."),
        "set availability": N_("{who} set the availability of {subject} from {before} to {after}."),
        "left the team": N_("{who} took {subject} off the roster."),
        "saved unit": N_("{who} saved the unit {subject}."),
        "dissolved unit": N_("{who} dissolved the unit {subject}."),
    },
    "links": {
        "made personal links": N_("{who} made personal links for {after}."),
        "made a personal link": N_("{who} made a new personal link for {subject}."),
        "made a guardian's copy": N_("{who} made a guardian's copy of a link for {subject}."),
        "withdrew the personal link": N_("{who} closed the personal link of {subject}."),
        "withdrew the guardian's copy": N_("{who} closed the guardian's copy for {subject}."),
        "withdrew all personal links": N_("{who} closed all personal links of {subject}: {after}."),
    },
    "team": {
        "made team": N_("{who} made the team {subject}."),
        "changed team": N_("{who} changed the settings of {subject}."),
        "changed pace": N_("{who} changed how fast {subject} is."),
    },
    "data": {
        "took the roster": N_("{who} saved the roster of {subject} as a file."),
    },
}
