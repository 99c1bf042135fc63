"""A change of a cast in sentences: what changes, and why it was proposed."""

from __future__ import annotations

from typing import Final

from roster.core.cast import Cast, Lesson, PlayerId, Slot
from roster.core.casting.changes import CastChange
from roster.core.casting.depths import DEPTHS_IN_WORDS
from roster.core.casting.question import CastingQuestion
from roster.core.fit import fit
from roster.core.names import Names
from shared.core.language import N_, sentence

PLACE: Final = N_("role {role}, {depth}")
INSTEAD: Final = N_("{play}, role {role}, {depth}: {after} instead of {before}.")
FILLED: Final = N_("{play}, role {role}, {depth}: {after}, where nobody was.")
EMPTIED: Final = N_("{play}, role {role}, {depth}: left open, no longer {before}.")

WHY: Final = N_("Why: {reasons}.")
FITS_BETTER: Final = N_("fits better ({after} of 100, not {before})")
FITS: Final = N_("fits {after} of 100")
NOT_RATED: Final = N_("not rated yet")
FEWER_PLACES: Final = N_("has fewer places so far ({after}, not {before})")
USUAL_POSITION: Final = N_("plays that position")
KNOWS_IT: Final = N_("knows the role already")
MAKES_ROOM: Final = N_("it makes room for the other changes")
KNOWN_WELL: Final = 0.3  # readiness from which a role counts as known


def place_in_words(slot: Slot, names: Names) -> str:
    """Where in a play, without the play: "role 3, second"."""
    depth = names.language.say(DEPTHS_IN_WORDS[slot.depth])
    return names.language.say(PLACE, role=slot.role, depth=depth)


def change_in_words(change: CastChange, names: Names) -> str:
    """What changes, in one sentence."""
    template = FILLED if change.before is None else EMPTIED if change.after is None else INSTEAD
    return names.language.say(
        template,
        before="" if change.before is None else names.player(change.before),
        after="" if change.after is None else names.player(change.after),
        depth=names.language.say(DEPTHS_IN_WORDS[change.slot.depth]),
        role=change.slot.role,
        play=names.play(change.slot.play),
    )


def reasons_in_words(change: CastChange, question: CastingQuestion, names: Names) -> str:
    """Why a change was proposed: fit, load, position, continuity. Empty for a slot left open."""
    if change.after is None or change.after not in question.player_index:
        return ""
    found = [
        *_fit(change, question, names),
        *_load(change, question.present, names),
        *_position(change, question, names),
        *_continuity(change.slot, change.after, question, names),
    ]
    reasons = ", ".join(found or [names.language.say(MAKES_ROOM)])
    return sentence(names.language.say(WHY, reasons=reasons))


def _fit(change: CastChange, question: CastingQuestion, names: Names) -> list[str]:
    after = _hundredths(change.slot, change.after, question)
    before = _hundredths(change.slot, change.before, question)
    if after is None:
        return [names.language.say(NOT_RATED)] if _asks(change.slot, question) else []
    if before is None:
        return [names.language.say(FITS, after=after)]
    if after <= before:
        return []
    return [names.language.say(FITS_BETTER, after=after, before=before)]


def _hundredths(slot: Slot, player: PlayerId | None, question: CastingQuestion) -> int | None:
    """A fit of 100, or None where it would rest on nothing that is rated."""
    row = None if player is None else question.player_index.get(player)
    if row is None:
        return None
    needs = question.plays[question.play_index[slot.play]].needs
    return fit(needs, question.players[row], slot.role, question.group).hundredths


def _asks(slot: Slot, question: CastingQuestion) -> bool:
    needs = question.plays[question.play_index[slot.play]].needs
    return any(need.role == slot.role for need in needs)


def _load(change: CastChange, present: Cast, names: Names) -> list[str]:
    if change.before is None or change.after is None:
        return []
    before, after = len(present.of(change.before)), len(present.of(change.after))
    return [names.language.say(FEWER_PLACES, after=after, before=before)] * (after < before)


def _position(change: CastChange, question: CastingQuestion, names: Names) -> list[str]:
    def usual(player: PlayerId | None) -> bool:
        row = None if player is None else question.player_index.get(player)
        return row is not None and change.slot.role in question.players[row].positions

    better = usual(change.after) and not usual(change.before)
    return [names.language.say(USUAL_POSITION)] * better


def _continuity(slot: Slot, player: PlayerId, question: CastingQuestion, names: Names) -> list[str]:
    cast_there = player in question.present.who(slot.play, slot.role)
    learnt = question.learnt.get(Lesson(player, slot.play, slot.role), 0.0) >= KNOWN_WELL
    return [names.language.say(KNOWS_IT)] * (cast_there or learnt)
