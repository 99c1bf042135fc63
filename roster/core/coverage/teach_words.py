"""Why a lesson is worth teaching, in words."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from roster.core.cast import Lesson, PlayerId, PlayId
from roster.core.coverage.squad import Squad
from roster.core.coverage.teach import Teaching
from roster.core.names import Names
from shared.core.language import N_, NN_, sentence

TEACH: Final = N_("Teach {player} role {role} of {play}")
TEACH_THROW: Final = N_("Teach {player} to throw in (role {role}) in {play}")
ONLY_TOGETHER: Final = N_("{lessons}: these help only together")
NOBODY: Final = N_("nobody knows role {role} of {play}")
NOBODY_THROWS: Final = N_("nobody can throw in in {play}")
ONLY: Final = N_("only {player} knows role {role} of {play}")
ONLY_THROWS: Final = N_("only {player} can throw in in {plays}")
ONLY_THROWS_IN_MANY: Final = N_("only {player} can throw in in {count} of the plays")
SO_FAR = NN_(
    "only one player knows role {role} of {play}",
    "{n} players know role {role} of {play}, often not together with the rest",
)
GAIN: Final = N_("{play} can then be run in {percent} % more of game time.")

_MOST_LISTED: Final = 3


def lesson_in_words(squad: Squad, teaching: Teaching, names: Names) -> str:
    """What to teach: "Teach Noor to throw in (role 1) in Lantern"."""
    said = [_teach(squad, lesson, names) for lesson in teaching.lessons]
    if len(said) == 1:
        return said[0]
    return names.language.say(ONLY_TOGETHER, lessons="; ".join(said))


def reason_in_words(squad: Squad, teaching: Teaching, names: Names) -> str:
    """Why: "Only Ida can throw in in Lantern and Harbour"; one phrase for each role lacking."""
    phrases = dict.fromkeys(_reason(squad, lesson, names) for lesson in teaching.lessons)
    return sentence("; ".join(phrases)) + "."


def gain_in_words(teaching: Teaching, names: Names) -> str:
    """How much: "Lantern can then be run in 12 % more of game time."."""
    percent = names.language.number(
        100 * teaching.play_gain, 0 if teaching.play_gain >= 0.01 else 1
    )
    return names.language.say(GAIN, play=names.play(teaching.play), percent=percent)


def _teach(squad: Squad, lesson: Lesson, names: Names) -> str:
    throws = squad.throwers.get(lesson.play) == lesson.role
    return names.language.say(
        TEACH_THROW if throws else TEACH,
        player=names.player(lesson.player),
        role=lesson.role,
        play=names.play(lesson.play),
    )


def _reason(squad: Squad, lesson: Lesson, names: Names) -> str:
    who = squad.who_knows(lesson.play, lesson.role)
    throws = squad.throwers.get(lesson.play) == lesson.role
    play, say = names.play(lesson.play), names.language.say
    if not who:
        return say(NOBODY_THROWS if throws else NOBODY, role=lesson.role, play=play)
    if len(who) > 1:
        one, many = SO_FAR
        return names.language.say_n(one, many, len(who), role=lesson.role, play=play)
    if throws:
        return _only_throws(squad, who[0], names)
    return say(ONLY, player=names.player(who[0]), role=lesson.role, play=play)


def _only_throws(squad: Squad, player: PlayerId, names: Names) -> str:
    plays = list(_thrown_by_only(squad, player))
    if len(plays) > _MOST_LISTED:
        return names.language.say(
            ONLY_THROWS_IN_MANY, player=names.player(player), count=len(plays)
        )
    return names.language.say(
        ONLY_THROWS, player=names.player(player), plays=names.all_plays(plays)
    )


def _thrown_by_only(squad: Squad, player: PlayerId) -> Iterator[PlayId]:
    for play, role in squad.throwers.items():
        if play in squad.plays and squad.who_knows(play, role) == (player,):
            yield play
