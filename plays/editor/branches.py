"""The order of the looks and the counters, each a tap away."""

from __future__ import annotations

from django.utils.translation import gettext as _

from plays.core.court.courts import court
from plays.core.court.spoken import describe
from plays.core.document.counters import screened_for
from plays.core.editing.after import may_follow
from plays.core.editing.looks import receiving
from plays.core.play import ROLES, Counter, Defence, Phase, Play
from plays.core.sequence.course import run_of
from plays.core.words.terms import look_words, they
from plays.editor.cues import Choice, sent
from shared.core.language import Language


def drawn_run(play: Play, counter_id: str) -> tuple[Counter | None, Play]:
    """The counter that is being drawn, None for the play itself, and what is run then."""
    counter = {each.id: each for each in play.counters}.get(counter_id)
    return counter, run_of(play, counter)


def look_choices(run: Play, language: Language) -> tuple[Choice, ...]:
    """A tap puts a receiver last in the order, or out of it."""
    order = list(dict.fromkeys(look.action for look in run.looks))
    found = []
    known = {each.id: each for each in run.actions()}
    taken = [known[id_] for id_ in order if id_ in known and known[id_].path]
    for action in [*taken, *(each for each in receiving(run) if each.id not in order)]:
        on = action.id in order
        after = [each for each in order if each != action.id] + ([] if on else [action.id])
        where = describe(court(run.court), action.path[-1], language)
        said = _("%(role)s at %(place)s") % {"role": action.role, "place": where}
        label = f"{order.index(action.id) + 1}. {said}" if on else said
        found.append(Choice(label, sent("looks", actions=after), on, action.role))
    return tuple(found)


def afters(play: Play, phase: Phase, language: Language) -> tuple[Choice, ...]:
    """A tap keeps a phase for what follows a look, or takes it back."""
    found = []
    for look in may_follow(play, phase):
        on = look.id in phase.after
        kept = [id_ for id_ in phase.after if id_ != look.id] + ([] if on else [look.id])
        number = play.looks.index(look) + 1
        label = f"{number}. {look_words(look, {}, language)}"
        found.append(Choice(label, sent("after", phase=phase.id, looks=kept), on))
    return tuple(found)


def whose(counter: Counter) -> tuple[Choice, ...]:
    """A tap names a role whose defender does it, or takes it back; a trap names nobody."""
    if counter.defence is Defence.TRAP:
        return ()
    found = []
    for role in ROLES:
        on = role in counter.whose
        now = [each for each in ROLES if (each in counter.whose) is not (each == role)]
        found.append(Choice(role, sent("whose", counter=counter.id, whose=now), on))
    return tuple(found)


def answers(play: Play, phase: Phase, language: Language) -> tuple[Choice, ...]:
    """What the defence may do from a phase on: a tap begins a counter."""
    found = []
    screened = screened_for(play)
    for defence in Defence:
        if defence in (Defence.OVER, Defence.UNDER) and not screened:
            continue
        title = they(defence, language)
        command = sent("counter", defence=defence.value, phase=phase.id, says=title)
        found.append(Choice(title, command, False))
    return tuple(found)
