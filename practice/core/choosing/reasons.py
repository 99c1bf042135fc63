"""Why each play is in or out, what it brings or costs, and what the package leaves open."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from plays.core.defence.verdict import Tactic
from plays.core.defence.words import DEFENCES
from practice.core.choosing.question import (
    Candidate,
    ChosenPackage,
    Occasion,
    PackageQuestion,
)
from practice.core.choosing.score import at_hand, held_on, ranked
from practice.core.choosing.words import AT, BARS, all_at
from roster.core.cast import PlayId
from shared.core.language import N_, NN_, Language, sentence

PINNED: Final = N_("You want it in.")
BANNED: Final = N_("You want it out.")
FIRST_ALWAYS: Final = N_("First choice {occasion}, whatever they do.")
FIRST_AGAINST: Final = N_("First choice {occasion} against {defences}.")
FIRST_BUT: Final = N_("First choice {occasion}, except against {defences}.")
SECOND_CHOICE: Final = N_("Second choice {occasion}.")
THIRD_CHOICE: Final = N_("Others picked are better {occasion}.")
LEARNT_AFTER: Final = N_(
    "Learnt after {lead}, of the same series: the starts they share save {minutes} min."
)
LEARNT_FIRST: Final = N_("Learnt first of its series: others then take less.")
BOTH_SIDES: Final = N_("Taught from both sides, {minutes} min more.")
NOT_ASKED: Final = N_("You asked for none of its occasions.")
NO_ROOM: Final = N_("Takes {minutes} min to learn; {left} min are left.")
NOT_BEGUN: Final = N_("The practices left have no room to begin another play.")
OTHERS: Final = N_("Better on the same occasions: {others}.")

INSTEAD: Final = N_("{plays} would come in.")
GONE: Final = N_("{plays} would go out.")
NONE_LEFT: Final = N_("No play is left {occasions}.")
HOLDS_LESS: Final = N_("It holds against fewer defences.")
WORTH_LESS: Final = N_("The package is worth {points} less.")
HARDLY_LESS: Final = N_("The package is worth hardly less.")
TAKES_MORE: Final = N_("{minutes} min more to learn.")
TAKES_LESS: Final = N_("{minutes} min less to learn.")
NO_WAY: Final = N_("No package like that fits into the minutes there are.")

NO_PLAY: Final = N_("The library has no play {occasion}.")
RULED_OUT: Final = N_("No play {occasion} may be chosen: {plays}.")
PLAYS_BARRED: Final = N_("{plays} ({why})")
WANTED_OUT: Final = N_("you want it out")
TOO_LITTLE_TIME: Final = N_(
    "The minutes do not reach for a play {occasion}: {play}, the quickest, takes {minutes} min."
)
THIN: Final = NN_(
    "What is picked {occasion} holds against {n} defence only.",
    "What is picked {occasion} holds against {n} defences only.",
)


@dataclass(frozen=True, slots=True)
class PlayReasons:
    """Why a play is in or out; ``price`` is what is otherwise without it, or with it.

    Empty where that is not worked out.
    """

    play: PlayId
    picked: bool
    told: tuple[str, ...]
    price: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Telling:
    """A package to be told of: ``names`` are what plays are called."""

    question: PackageQuestion
    package: ChosenPackage
    names: Mapping[PlayId, str]
    language: Language

    def minutes(self, value: float) -> str:
        return self.language.number(value)

    def points(self, value: float) -> str:
        """A worth of 100, for people."""
        return self.language.number(100 * value)

    def hand(self, occasion: Occasion) -> list[Candidate]:
        return at_hand(self.question, self.package.picks, self.package.turned, occasion)


def reasons(
    telling: Telling, other: Mapping[PlayId, ChosenPackage | None]
) -> tuple[PlayReasons, ...]:
    """One for each candidate; ``other`` are the best packages with it otherwise, where known."""
    return tuple(_reasons(telling, one, other) for one in telling.question.candidates)


def _reasons(
    telling: Telling, one: Candidate, other: Mapping[PlayId, ChosenPackage | None]
) -> PlayReasons:
    picked = one.id in telling.package.picks
    told = _why_in(telling, one) if picked else _why_out(telling, one)
    known = one.id in other
    price = difference(telling, other[one.id], of=one.id) if known else ()
    return PlayReasons(one.id, picked, tuple(told), price)


# --- in -----------------------------------------------------------------------------------


def _why_in(telling: Telling, one: Candidate) -> Iterator[str]:
    say = telling.language.say
    if one.id in telling.question.pinned:
        yield say(PINNED)
    yield from _places(telling, one)
    lead = telling.package.first.get(one.series)
    if lead == one.id:
        yield say(LEARNT_FIRST)
    elif lead is not None and one.saves.get(lead, 0.0) > 0:
        minutes = telling.minutes(one.saves[lead])
        yield say(LEARNT_AFTER, lead=telling.names[lead], minutes=minutes)
    if one.id in telling.package.turned and one.turning > 0:
        yield say(BOTH_SIDES, minutes=telling.minutes(one.turning))


def _places(telling: Telling, one: Candidate) -> Iterator[str]:
    """Which choice a play is, occasions alike in one sentence."""
    alike: dict[tuple[bool, tuple[Tactic, ...]], list[Occasion]] = {}
    for occasion in telling.question.occasions:
        plays = telling.hand(occasion)
        if one not in plays:
            continue
        order = {tactic: ranked(plays, tactic) for tactic in telling.question.faced}
        first = tuple(tactic for tactic, best in order.items() if best[0] is one)
        second = any(one in best[:2] for best in order.values())
        alike.setdefault((second, first), []).append(occasion)
    for (second, first), occasions in alike.items():
        yield _place(telling, all_at(occasions, telling.language), first, second=second)


def _place(telling: Telling, at: str, first: Sequence[Tactic], *, second: bool) -> str:
    say = telling.language.say
    rest = [tactic for tactic in telling.question.faced if tactic not in first]
    if first and not rest:
        return say(FIRST_ALWAYS, occasion=at)
    if first:
        template, tactics = (FIRST_BUT, rest) if len(rest) < len(first) else (FIRST_AGAINST, first)
        said = telling.language.all_of([say(DEFENCES[tactic]) for tactic in tactics])
        return say(template, occasion=at, defences=said)
    return say(SECOND_CHOICE if second else THIRD_CHOICE, occasion=at)


# --- out ----------------------------------------------------------------------------------


def _why_out(telling: Telling, one: Candidate) -> Iterator[str]:
    question, say = telling.question, telling.language.say
    if one.id in question.bans:
        yield say(BANNED)
    if one.bar is not None:
        yield sentence(say(BARS[one.bar])) + "."
    here = [o for o in question.occasions if o in one.covers or o in one.turned]
    if not here:
        yield say(NOT_ASKED)
    if one.id in question.bans or one.bar is not None or not here:
        return
    better = _better_ones(telling, one, here)
    if better:
        others = [telling.names[each] for each in better]
        yield say(OTHERS, others=telling.language.all_of(others))
    left = question.minutes - telling.package.minutes
    begun = sum(question.by_id[play].begins for play in telling.package.picks)
    if one.minutes > left + 1e-6:
        yield say(
            NO_ROOM, minutes=telling.minutes(one.minutes), left=telling.minutes(max(0.0, left))
        )
    elif one.begins and begun >= question.beginnings:
        yield say(NOT_BEGUN)


def _better_ones(telling: Telling, one: Candidate, here: list[Occasion]) -> list[PlayId]:
    """The picked plays that are called before this one, the most often first."""
    counts = Counter[PlayId]()
    for occasion in here:
        for tactic in telling.question.faced:
            for other in ranked(telling.hand(occasion), tactic)[:1]:
                if other.worth.get(tactic, 0.0) >= one.worth.get(tactic, 0.0):
                    counts[other.id] += 1
    return [play for play, _ in counts.most_common(3)]


# --- beside it ----------------------------------------------------------------------------


def difference(
    telling: Telling, other: ChosenPackage | None, *, of: PlayId | None = None
) -> tuple[str, ...]:
    """What is otherwise in another package; that the play ``of`` is in or out goes unsaid."""
    if other is None:
        return (telling.language.say(NO_WAY),)
    return tuple(_differences(telling, other, of))


def _differences(telling: Telling, other: ChosenPackage, of: PlayId | None) -> Iterator[str]:
    say, best = telling.language.say, telling.package
    for template, here, there in ((INSTEAD, other, best), (GONE, best, other)):
        plays = [play for play in here.picks if play not in there.picks and play != of]
        if plays:
            names = [telling.names[play] for play in plays]
            yield say(template, plays=telling.language.all_of(names))
    lost = lost_occasions(telling, other)
    points = telling.points(best.score.worth - other.score.worth)
    if lost:
        yield say(NONE_LEFT, occasions=all_at(lost, telling.language))
    elif other.score.held < best.score.held:
        yield say(HOLDS_LESS)
    elif points in ("0", "-0"):
        yield say(HARDLY_LESS)
    else:
        yield say(WORTH_LESS, points=points)
    more = other.minutes - best.minutes
    if abs(more) >= 0.05:
        template = TAKES_MORE if more > 0 else TAKES_LESS
        yield say(template, minutes=telling.minutes(abs(more)))


def lost_occasions(telling: Telling, other: ChosenPackage) -> list[Occasion]:
    """The occasions that the package covers and another one does not."""
    return [
        occasion
        for occasion in telling.question.occasions
        if telling.hand(occasion)
        and not at_hand(telling.question, other.picks, other.turned, occasion)
    ]


# --- what is open -------------------------------------------------------------------------


def open_ends(telling: Telling) -> tuple[str, ...]:
    """What the package does not cover, or holds against too few defences, and why."""
    return tuple(
        said
        for occasion in telling.question.occasions
        if (said := _open_end(telling, occasion)) is not None
    )


def _open_end(telling: Telling, occasion: Occasion) -> str | None:
    question, language = telling.question, telling.language
    plays = telling.hand(occasion)
    at = language.say(AT[occasion])
    if plays:
        held = len(held_on(question, plays))
        return None if held >= question.against else language.say_n(*THIN, held, occasion=at)
    every = [one for one in question.candidates if occasion in one.covers | one.turned]
    if not every:
        return language.say(NO_PLAY, occasion=at)
    may = [one for one in every if one in question.open]
    if not may:
        return language.say(RULED_OUT, occasion=at, plays=_barred(telling, every))
    quickest = min(may, key=lambda one: _minutes_for(one, occasion))
    return language.say(
        TOO_LITTLE_TIME,
        occasion=at,
        play=telling.names[quickest.id],
        minutes=telling.minutes(_minutes_for(quickest, occasion)),
    )


def _minutes_for(one: Candidate, occasion: Occasion) -> float:
    return one.minutes + (0.0 if occasion in one.covers else one.turning)


def _barred(telling: Telling, barred: Sequence[Candidate]) -> str:
    """Plays with why they may not be chosen, each reason told once."""
    language = telling.language
    by_reason: dict[str, list[str]] = {}
    for one in barred:
        wanted = one.bar is None or one.id in telling.question.bans
        why = WANTED_OUT if wanted or one.bar is None else BARS[one.bar]
        by_reason.setdefault(why, []).append(telling.names[one.id])
    return language.all_of(
        [
            language.say(PLAYS_BARRED, plays=language.all_of(names), why=language.say(why))
            for why, names in by_reason.items()
        ]
    )
