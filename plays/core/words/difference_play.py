"""What changed in a play beyond the roles' own parts: texts, spot, phases, counters, needs.

What has no sentence with its new value is told by name, so that no change passes in silence.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence, Set
from types import MappingProxyType
from typing import Final

from plays.core.calls import by_role
from plays.core.play import Counter, Need, Play, Quality, Variant
from plays.core.sequence.course import looks_before
from plays.core.words.difference_looks import list_changes
from plays.core.words.reads import when as when_they
from shared.core.language import N_, Language

# Single texts: what is said of a new one, and where the old one is gone.
TEXTS: Final[tuple[tuple[str, str, str], ...]] = (
    ("name", N_("The play is now called “{new}”."), N_("The play has no name any more.")),
    ("series", N_("It now belongs to the series “{new}”."), N_("It belongs to no series now.")),
    ("call", N_("The call is now “{new}”."), N_("The play has no call of its own now.")),
    ("use", N_("When to use it is now: {new}"), N_("When to use it is no longer said.")),
)
LISTS: Final[tuple[tuple[str, str, str], ...]] = (
    ("teach", N_("New teaching cue: {text}"), N_("Teaching cue gone: {text}")),
    ("errors", N_("New common error: {text}"), N_("Common error gone: {text}")),
    ("cautions", N_("New caution: {text}"), N_("Caution gone: {text}")),
)
# What is told without its new value: the page and the diagrams show it.
OTHERS: Final[tuple[tuple[tuple[str, ...], str], ...]] = (
    (("situation",), N_("The situation has changed.")),
    (("formation",), N_("The formation has changed.")),
    (("level",), N_("The youngest group that it suits has changed.")),
    (("court",), N_("It is drawn on another court.")),
    (("spot",), N_("The throw-in is from another place.")),
    (("ball", "thrower"), N_("Somebody else begins with the ball.")),
    (("spacing",), N_("How far apart they start has changed.")),
    (("defenders",), N_("The defenders are drawn otherwise.")),
    (("translations",), N_("The texts in another language have changed.")),
    (("conditions",), N_("The conditions of time and score have changed.")),
)
REORDERED: Final = N_("The lines of the teaching, the errors or the cautions have a new order.")
NEW_PHASE: Final = N_("New phase {n}: “{title}”.")
PHASE_GONE: Final = N_("The phase “{title}” is gone.")
PHASE_CALLED: Final = N_("Phase {n} is now called “{title}”.")
PHASE_AFTER: Final = N_("Phase {n} is now run after other looks than before.")
PHASES_CUT: Final = N_("The actions are shared out among the phases in another way.")
NEW_COUNTER: Final = N_("New answer. {when}: {says}")
COUNTER_GONE: Final = N_("The answer “{says}” is gone. ({when})")
COUNTER_SAYS: Final = N_("{when}, now: {says}")
COUNTER_RUNS: Final = N_("{when}: the runs of this answer have changed.")
COUNTER_LOOKS: Final = N_("{when}: {change}")
NEW_VARIANT: Final = N_("New call “{call}” for another way to run it.")
VARIANT_GONE: Final = N_("The call “{call}” is gone.")
VARIANT_RUNS: Final = N_("What the call “{call}” means has changed.")
VARIANT_SIGN: Final = N_("The sign for “{call}” has changed.")
VARIANT_ORDER: Final = N_("The calls stand in a new order.")
NEEDS: Final[Mapping[Quality, str]] = MappingProxyType(
    {
        Quality.PASSING: N_("The {role} is asked for passing of {level}, weight {weight}."),
        Quality.STRENGTH: N_("The {role} is asked for strength of {level}, weight {weight}."),
        Quality.SPEED: N_("The {role} is asked for speed of {level}, weight {weight}."),
        Quality.FINISHING: N_("The {role} is asked for finishing of {level}, weight {weight}."),
        Quality.SHOOTING: N_("The {role} is asked for shooting of {level}, weight {weight}."),
        Quality.SCREENING: N_("The {role} is asked for screening of {level}, weight {weight}."),
        Quality.READING: N_("The {role} is asked for reading of {level}, weight {weight}."),
        Quality.REACH: N_("The {role} is asked for reach of {level}, weight {weight}."),
    }
)
NEED_GONE: Final = N_("Less is asked of the {role}: one need is gone.")


def play_changes(old: Play, new: Play, language: Language) -> Iterator[str]:
    """One sentence for each change, in the order of the document."""
    for name, changed, gone in TEXTS:
        before, after = getattr(old, name), getattr(new, name)
        if before != after:
            yield language.say(changed if after else gone, new=after)
    for names, template in OTHERS:
        if any(getattr(old, name) != getattr(new, name) for name in names):
            yield language.say(template)
    yield from _phases(old, new, language)
    yield from _counters(old, new, language)
    yield from variant_changes(old.variants, new.variants, language)
    yield from _needs(old.needs, new.needs, language)
    yield from _lists(old, new, language)


def _lists(old: Play, new: Play, language: Language) -> Iterator[str]:
    told = False
    for name, fresh, gone in LISTS:
        before, after = getattr(old, name), getattr(new, name)
        for template, lines, others in ((fresh, after, before), (gone, before, after)):
            for text in lines:
                if text not in others:
                    told = True
                    yield language.say(template, text=text)
    if not told and any(getattr(old, name) != getattr(new, name) for name, *_ in LISTS):
        yield language.say(REORDERED)


def _phases(old: Play, new: Play, language: Language) -> Iterator[str]:
    before = {phase.id: phase for phase in old.phases}
    after = {phase.id: phase for phase in new.phases}
    for n, phase in enumerate(new.phases, start=1):
        if phase.id not in before:
            yield language.say(NEW_PHASE, n=n, title=phase.title)
            continue
        if phase.title != before[phase.id].title:
            yield language.say(PHASE_CALLED, n=n, title=phase.title)
        if set(phase.after) != set(before[phase.id].after):
            yield language.say(PHASE_AFTER, n=n)
    for phase in old.phases:
        if phase.id not in after:
            yield language.say(PHASE_GONE, title=phase.title)
    known = {action.id for action in old.actions()} & {action.id for action in new.actions()}
    phases = before.keys() & after.keys()
    if _shared_out(old, phases, known) != _shared_out(new, phases, known):
        yield language.say(PHASES_CUT)


def _shared_out(play: Play, phases: Set[str], known: Set[str]) -> tuple[object, ...]:
    """The order of the phases, which are rotations, and which known actions they hold."""
    return tuple(
        (phase.id, phase.rotation, tuple(a.id for a in phase.actions if a.id in known))
        for phase in play.phases
        if phase.id in phases
    )


def _counters(old: Play, new: Play, language: Language) -> Iterator[str]:
    before = {counter.id: counter for counter in old.counters}
    after = {counter.id: counter for counter in new.counters}
    for counter in new.counters:
        when = when_they(counter.defence, counter.whose, language)
        if counter.id not in before:
            yield language.say(NEW_COUNTER, when=when, says=counter.says)
        else:
            first = _first_number(old, before[counter.id]), _first_number(new, counter)
            yield from _counter(before[counter.id], counter, when, first, language)
    for counter in old.counters:
        if counter.id not in after:
            when = when_they(counter.defence, counter.whose, language)
            yield language.say(COUNTER_GONE, when=when, says=counter.says)


def _first_number(play: Play, counter: Counter) -> int:
    """Of the counter's own looks, as diagrams and sheets count them."""
    return len(looks_before(play, counter)) + 1


def _counter(
    old: Counter, new: Counter, when: str, first: tuple[int, int], language: Language
) -> Iterator[str]:
    if _answers(old) != _answers(new):
        yield language.say(COUNTER_SAYS, when=when, says=new.says)
    if _runs(old) != _runs(new):
        yield language.say(COUNTER_RUNS, when=when)
    for change in list_changes(old.looks, new.looks, language, first):
        yield language.say(COUNTER_LOOKS, when=when, change=change)


def _answers(counter: Counter) -> tuple[object, ...]:
    return counter.says, counter.defence, counter.whose


def _runs(counter: Counter) -> tuple[object, ...]:
    return counter.from_phase, counter.remove, counter.replace, counter.add


def variant_changes(
    old: Sequence[Variant], new: Sequence[Variant], language: Language
) -> Iterator[str]:
    """One sentence for each call that is new, gone, or means something else."""
    before = {variant.call: variant for variant in old}
    after = {variant.call: variant for variant in new}
    for typed, variant in after.items():
        known, call = before.get(typed), by_role(typed, language)
        if known is None:
            yield language.say(NEW_VARIANT, call=call)
            continue
        if (known.swaps, known.mirror) != (variant.swaps, variant.mirror):
            yield language.say(VARIANT_RUNS, call=call)
        if known.sign != variant.sign:
            yield language.say(VARIANT_SIGN, call=call)
    for typed in before:
        if typed not in after:
            yield language.say(VARIANT_GONE, call=by_role(typed, language))
    if before.keys() == after.keys() and [*before] != [*after]:
        yield language.say(VARIANT_ORDER)


def _needs(old: Sequence[Need], new: Sequence[Need], language: Language) -> Iterator[str]:
    before = {(need.role, need.quality): need for need in old}
    after = {(need.role, need.quality): need for need in new}
    for pair, need in after.items():
        if before.get(pair) != need:
            slots = {"role": need.role, "level": need.level, "weight": need.weight}
            yield language.say(NEEDS[need.quality], **slots)
    for pair, need in before.items():
        if pair not in after:
            yield language.say(NEED_GONE, role=need.role)
