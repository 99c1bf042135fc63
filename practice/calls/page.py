"""What the call sheet carries with it, so that it answers at once and without a signal.

The phone fills the roles of each play for any five and puts the plays in order, as
``practice.core.calls`` and ``roster.core.coverage`` do; ``tests/data/calls.json`` holds it to them.
"""

from __future__ import annotations

from datetime import UTC
from string import Formatter
from typing import Any, Final

from django.utils import timezone
from django.utils.translation import gettext as _

from plays.core.play import ROLES
from plays.values import play_value
from practice.calls.boards import board_of
from practice.calls.known import Calling, GameCalls
from practice.core.calls.looks import NOTHING_KNOWN, reason
from practice.core.calls.phone_words import PHONE_WORDS
from practice.core.choosing.words import OCCASIONS
from roster.core.cast import Lesson
from roster.models import PackagePlay
from shared.core.language import Language
from shared.core.numbers import hundredths

NEVER: Final = -1.0  # the chance of a look of which nothing is known


def sheet_data(calls: GameCalls) -> dict[str, Any]:
    """Plain values for the page's script: people, plays with their casts, what looks are worth."""
    names, players = calls.known.names, calls.known.players
    return {
        "game": calls.game.pk,
        "at": timezone.now().astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.%fZ"),
        "players": [
            {
                "id": pk,
                "name": names.player(pk),
                "called": players[pk].call_name.name,
                "number": players[pk].number,
            }
            for pk in calls.able
        ],
        "out": [names.player(pk) for pk in calls.known.reckoned if pk in calls.out],
        "apart": [list(pair) for pair in calls.known.apart],
        "units": [
            {"name": unit.name, "members": members}
            for unit in calls.units
            if (members := [m.pk for m in unit.members.all() if m.pk in calls.able])
            and len(members) == len(ROLES)
        ],
        "floor": list(calls.first_floor),
        "logged": calls.readiness is not None,
        "plays": [_play(calls, entry) for entry in calls.entries],
        "lines": [_line(calls, each) for each in calls.callings],
        "words": words(calls),
    }


def _play(calls: GameCalls, entry: PackagePlay) -> dict[str, Any]:
    """A carried play: who knows which role, who has it by the cast, and its looks."""
    play = play_value(entry.revision)
    looks = calls.looks.get(entry.pk, NOTHING_KNOWN)
    first = next(each.filling for each in calls.by_cast if each.play == entry.pk)
    return {
        "id": entry.pk,
        "name": entry.play.name,
        "cast": [
            [a.role, a.depth, a.player, *_ready(calls, a.lesson)]
            for a in calls.known.cast.assignments
            if a.play == entry.pk and a.player in calls.able
        ],
        "first": [first.get(role) for role in ROLES],
        "thrower": play.thrower,
        "chance": NEVER if looks.chance is None else round(looks.chance, 6),
        "why": reason(looks, play.looks, calls.known.language),
    }


def _ready(calls: GameCalls, lesson: Lesson) -> tuple[int, int]:
    """Whether somebody is ready for a role, and how ready in hundredths."""
    value = (calls.readiness or {}).get(lesson, 0.0)
    return int(value >= calls.bar), hundredths(value)


def _line(calls: GameCalls, calling: Calling) -> dict[str, Any]:
    """One call of a play under its occasion."""
    entry, play = calling.entry, play_value(calling.entry.revision)
    other = play.variants[calling.call - 1] if calling.call else None
    further = play.variants if other is None else ()
    board = board_of(entry, calling.call, calls.game.team, calls.known.language)
    return {
        "play": entry.pk,
        "occasion": calls.known.language.say(OCCASIONS[calling.occasion]),
        "call": other.call if other else entry.call,
        "log": other.call if other else "",
        "sign": other.sign if other else entry.signal,
        "further": [each.call for each in further if not each.mirror],
        "board": board.address(calls.game.pk),
    }


def words(calls: GameCalls) -> dict[str, str]:
    """The sentences that the script says; {n} and the like are filled there."""
    said = {key: _open(sentence, calls.known.language) for key, sentence in PHONE_WORDS.items()}
    return said | {
        "who_for": _("Who comes on for {name}?"),
        "then": _("then %(n)s of %(all)s") % {"n": "{n}", "all": "{all}"},
        "not_this": _("not this play"),
        "cannot": _("These five cannot run it: {why}."),
        "every": _("every play"),
        "apart": _("%(names)s are kept apart: never together on the floor.") % {"names": "{names}"},
    }


def _open(sentence: str, language: Language) -> str:
    """A core's sentence in a language, its slots left for the script to fill."""
    slots = [name for _text, name, _format, _conversion in Formatter().parse(sentence) if name]
    return language.say(sentence, **{slot: f"{{{slot}}}" for slot in slots})
