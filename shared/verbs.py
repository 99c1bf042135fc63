"""Every kind of change that the record keeps, and the sentence that tells it to a reader.

Slots: ``who`` changed, the ``subject`` it was done to, what it was ``before`` and is ``after``, and
``count``, how many things that means, ``others``, how many of them somebody else had made. Of a
revision ``name`` is the play. Verbs stand in rows for good: none is renamed
or taken out.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from shared.core.language import N_


class Matter(StrEnum):
    """What a change is about, as a reader asks for it."""

    PLAYS = "plays"
    CAST = "cast"
    PLANS = "plans"
    REPS = "reps"
    PLAYERS = "players"
    LINKS = "links"
    RIGHTS = "rights"
    TEAM = "team"
    DATA = "data"


@dataclass(frozen=True, slots=True)
class ToldVerb:
    matter: Matter
    said: str


TOOK_BACK: Final = "took back reps"
_PLAYS: Final = {
    "published": N_("{who} published {name}."),
    "began a draft": N_("{who} began a draft of {subject}."),
    "went on with a draft": N_("{who} went on with the draft of {subject} by {before}."),
    "discarded": N_("{who} discarded the draft of {name}."),
    "put away": N_("{who} put the play {subject} away."),
    "brought back": N_("{who} brought {subject} back."),
    "took a copy": N_("{who} saved a copy of {name}."),
    "brought in plays": N_("{who} brought plays into the library: {count}."),
}
_CAST: Final = {
    "took up": N_("{who} took {subject} up into the package."),
    "renamed": N_("{who} changed the call or the signal of {subject}."),
    "dropped": N_("{who} took {subject} out of the package."),
    "went to revision": N_("{who} took up a newer state of {subject}."),
    "cast": N_("{who} changed the cast of {subject}."),
    "kept the cast": N_("{who} let the cast of {subject} stand for its new revision."),
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
    "wants in the package": N_("{who} wants in the package: {subject}."),
    "wants out of the package": N_("{who} wants out of the package: {subject}."),
    "leaves to the choice": N_("{who} leaves to the choice of plays: {subject}."),
    "set what a package is for": N_("{who} changed what the plays are chosen for."),
}
_PLANS: Final = {
    "added practice": N_("{who} entered the practice of {subject}."),
    "changed practice": N_("{who} changed the practice of {before}: now {subject}."),
    "repeated": N_("{who} entered practices that repeat: {after}."),
    "cancelled": N_("{who} cancelled the practice of {subject}."),
    "brought a practice back": N_("{who} brought the practice of {subject} back."),
    "added game": N_("{who} entered the game {subject}."),
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
    "took over drills": N_("{who} took drills over from another team: {after}."),
    "noted days off": N_("{who} noted days off: {subject}."),
    "took out days off": N_("{who} took days off out again: {subject}."),
    "noted an absence": N_("{who} noted an absence: {subject}."),
    "took out an absence": N_("{who} took an absence out again: {subject}."),
}
_REPS: Final = {
    TOOK_BACK: N_("{who} took reps back: {count}, {others} of them logged by somebody else."),
    "counted a held rep": N_("{who} let a rep count that had waited for a decision."),
    "set a held rep aside": N_("{who} set a rep aside that had waited for a decision."),
    "changed a possession": N_(
        "{who} changed a possession of the game {subject}: {before}, now {after}."
    ),
    "brought in reps": N_("{who} brought reps in from a file: {after}."),
}
_PLAYERS: Final = {
    "added player": N_("{who} entered the player {subject}."),
    "saved player": N_("{who} changed the data of {subject}."),
    "brought in players": N_("{who} brought players in from a file: {after}."),
    "changed players by a file": N_("{who} changed players by a file: {after}."),
    "rated players": N_("{who} changed the ratings of {after}."),
    "set availability": N_("{who} set the availability of {subject} from {before} to {after}."),
    "left the team": N_("{who} took {subject} off the squad."),
    "moved player": N_("{who} brought {subject} over from another team of the club."),
    "took back the move of": N_("{who} took the move of {subject} back."),
    "saved unit": N_("{who} saved the unit {subject}."),
    "dissolved unit": N_("{who} dissolved the unit {subject}."),
}
_LINKS: Final = {
    "made personal links": N_("{who} made personal links for {after}."),
    "made a personal link": N_("{who} made a new personal link for {subject}."),
    "made a guardian's copy": N_("{who} made a guardian's copy of a link for {subject}."),
    "withdrew the personal link": N_("{who} closed the personal link of {subject}."),
    "withdrew the guardian's copy": N_("{who} closed the guardian's copy for {subject}."),
    "withdrew all personal links": N_("{who} closed all personal links of {subject}: {after}."),
    "made a calendar address": N_("{who} made a secret calendar address for {subject}."),
    "withdrew a calendar address": N_("{who} withdrew the secret calendar address of {subject}."),
    "shared": N_("{who} made a link by which anybody reads {subject}."),
    "withdrew shared": N_("{who} withdrew a link by which anybody read {subject}."),
    "made sign-in link": N_("{who} made a sign-in link for {subject}."),
    "mailed sign-in link": N_("{who} mailed a sign-in link to {subject}."),
    "withdrew sign-in link": N_("{who} withdrew the sign-in link of {subject}."),
}
_RIGHTS: Final = {
    "founded": N_("{who} founded {subject}."),
    "invited": N_("{who} invited {subject} by a link: {after}."),
    "chose a password": N_("{who} chose a new password."),
    "set mail address": N_("{who} gave a mail address."),
    "took mail address away": N_("{who} took the own mail address out."),
    "switched on codes": N_("{who} switched one-time codes on."),
    "switched off codes": N_("{who} switched one-time codes off for {subject}."),
    "made recovery codes": N_("{who} made new recovery codes."),
    "used recovery code": N_("{who} signed in with a recovery code."),
    "added passkey": N_("{who} added a passkey: {after}."),
    "removed passkey": N_("{who} removed a passkey of {subject}: {before}."),
    "removed passkeys": N_("{who} removed all passkeys of {subject}."),
    "set who needs a second step": N_(
        "{who} set of whom a second step to sign in is asked: {after}."
    ),
    "gave duty": N_("{who} gave {subject} a place on the staff of the team: {after}."),
    "took from team": N_("{who} took {subject} off the staff of the team."),
    "gave rights": N_("{who} changed the rights of {subject} in the club: {after}."),
    "removed person": N_("{who} closed the account of {subject}."),
    "brought back person": N_("{who} opened the account of {subject} again."),
}
_TEAM: Final = {
    "made team": N_("{who} made the team {subject}."),
    "changed team": N_("{who} changed the settings of {subject}."),
    "changed pace": N_("{who} changed how fast {subject} is."),
    "set": N_("{who} changed the numbers that readiness is computed with."),
    "asked for calibration": N_("{who} had readiness fitted to the reps of the club."),
    "began a season": N_("{who} began the season {subject} from {before}."),
    "put a season away": N_("{who} put {subject} away, and closed its links and calendars."),
    "brought a season back": N_("{who} let {subject} be changed again."),
}
_DATA: Final = {
    "took a player's data": N_("{who} saved all that is held about {subject} as a file."),
    "took the roster": N_("{who} saved the roster of {subject} as a file."),
    "erased a player": N_("{who} erased a person, who is {subject} from now on."),
    "deleted a team": N_("{who} deleted the team {subject} with all that it held."),
}
_BY_MATTER: Final = (
    (Matter.PLAYS, _PLAYS),
    (Matter.CAST, _CAST),
    (Matter.PLANS, _PLANS),
    (Matter.REPS, _REPS),
    (Matter.PLAYERS, _PLAYERS),
    (Matter.LINKS, _LINKS),
    (Matter.RIGHTS, _RIGHTS),
    (Matter.TEAM, _TEAM),
    (Matter.DATA, _DATA),
)
VERBS: Final[Mapping[str, ToldVerb]] = {
    verb: ToldVerb(matter, said) for matter, told in _BY_MATTER for verb, said in told.items()
}


def verbs_of(matter: Matter) -> list[str]:
    """The verbs that tell of this matter."""
    return [verb for verb, told in VERBS.items() if told.matter is matter]
