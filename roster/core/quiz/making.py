"""Questions made from the play itself: where, on what, off whom, which look, and what then.

Every truth is one of the facts that the sheet tells and the diagram draws; wrong choices are
what is true of somebody or something else in the same play.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from hashlib import sha256
from math import dist
from typing import Final

from plays.core.calls import by_name
from plays.core.court.courts import court
from plays.core.court.spots import named_spots, out_spots
from plays.core.moves.variants import expanded
from plays.core.play import ROLES, ActionKind, Counter, Moment, Play, Point, Role, Variant
from plays.core.sequence.course import final_places, with_counter
from plays.core.words.facts import Awaits, Does, Event, PartFacts
from plays.core.words.moves import do
from plays.core.words.part_facts import part_facts
from plays.core.words.speaker import Speaker, speaker
from plays.core.words.terms import WHEN_THEY
from plays.core.words.variants import other_role
from plays.core.words.waits import wait
from roster.core.quiz.question import QuestionKind, RoleQuestion
from shared.core.language import N_, Language

CHOICES: Final = 4
APART: Final = 1.5  # metres: a wrong place lies at least so far from the true one

WHERE_START: Final = N_("Where do you start?")
WHERE_END: Final = N_("Where do you end?")
WHERE_START_ON: Final = N_("On “{call}”: where do you start?")
WHERE_END_ON: Final = N_("On “{call}”: where do you end?")
WHOSE_JOB: Final = N_("On “{call}”: whose job do you do?")
OWN_JOB: Final = N_("my own")
WHERE_NOW: Final = N_("{when}: where do you end now?")
WHAT_FIRST: Final = N_("Step {n}: {does} What do you wait for first?")
WHO_SCREENS: Final = N_("Who screens for you?")
WHICH_LOOK: Final = N_("Which look are you?")
LOOK_NUMBER: Final = N_("look {n}")
NO_LOOK: Final = N_("none: the throw-in does not come to me")


def questions(
    play: Play, role: Role, names: Mapping[Role, str], language: Language
) -> tuple[RoleQuestion, ...]:
    """All questions of a role, in the order in which a play is learned.

    ``names`` as on the sheet. Raises KeyError for a role without a start.
    """
    maker = _Asker(play, role, speaker(play, role, names, language))
    return tuple(maker.all())


class _Asker:
    """Makes the questions of one role."""

    def __init__(self, play: Play, role: Role, voice: Speaker) -> None:
        self.play, self.role, self.voice = play, role, voice
        self.facts: PartFacts = part_facts(play, role)
        self.ends = final_places(play)

    def all(self) -> Iterator[RoleQuestion]:
        yield self._where(
            QuestionKind.START,
            self.voice.say(WHERE_START),
            self.play.start_of(self.role),
            phase=self.play.phases[0].id,
        )
        yield from self._waits()
        yield from self._screens()
        if self.facts.ends is not None and self.facts.ends.moved:
            yield self._where(
                QuestionKind.END,
                self.voice.say(WHERE_END),
                self.ends[self.role],
                phase=self._last_phase(),
            )
        yield from self._looks()
        for counter in self.play.counters:
            yield from self._counter(counter)
        for number, variant in enumerate(self.play.variants):
            for made in self._asker(variant).on_call(variant, self):
                yield replace(made, variant=number)

    def _asker(self, variant: Variant) -> _Asker:
        """Who asks of the play as it is run on this call."""
        run, voice = expanded(self.play, variant), self.voice
        return _Asker(run, self.role, speaker(run, self.role, voice.names, voice.language))

    def _last_phase(self) -> str:
        return self.facts.steps[-1].phase if self.facts.steps else self.play.phases[0].id

    def _waits(self) -> Iterator[RoleQuestion]:
        for step in self.facts.steps:
            awaited = next((fact for fact in step.facts if isinstance(fact, Awaits)), None)
            done = next((fact for fact in step.facts if isinstance(fact, Does)), None)
            if awaited is None or done is None or awaited.gives_signal:
                continue
            asks = self.voice.say(WHAT_FIRST, n=step.number, does=" ".join(do(self.voice, done)))
            yield self._choice(
                QuestionKind.WAIT,
                asks,
                ([self._wait(awaited)], self._other_waits(awaited)),
                phase=step.phase,
                mark=f"{step.action.id}|{_events(awaited)}",
            )

    def _wait(self, fact: Awaits) -> str:
        return " ".join(wait(self.voice, fact))

    def _other_waits(self, awaited: Awaits) -> list[str]:
        """What others wait for, as this reader would be told it, and what anybody may."""
        others = (fact for role in ROLES for fact in _awaits(part_facts(self.play, role)))
        usual = (
            Awaits(self.role, (Event(moment),), holding=awaited.holding)
            for moment in (Moment.SIGNAL, Moment.BALL_IN)
        )
        happenings = {(event.moment, event.action) for event in awaited.events}
        return [
            self._wait(fact)
            for fact in (*others, *usual)
            if fact.holding == awaited.holding
            and not happenings & {(event.moment, event.action) for event in fact.events}
        ]

    def _screens(self) -> Iterator[RoleQuestion]:
        found = [
            (phase.id, action.role)
            for phase in self.play.phases
            for action in phase.actions
            if action.kind is ActionKind.SCREEN and action.cutter == self.role
        ]
        if not found:
            return
        screeners = {role for _, role in found}
        truth = [self.voice.person(role) for role in ROLES if role in screeners]
        wrong = [self.voice.person(r) for r in ROLES if r != self.role and r not in screeners]
        asks = self.voice.say(WHO_SCREENS)
        yield self._choice(
            QuestionKind.SCREEN,
            asks,
            (truth, wrong),
            phase=found[0][0],
            mark=",".join(sorted(screeners)),
        )

    def _looks(self) -> Iterator[RoleQuestion]:
        mine = [fact for fact in self.facts.looks if not fact.reads]
        if not self.play.looks or len(mine) < len(self.facts.looks):
            return  # no looks at all, or this role passes them
        numbers = {fact.number for fact in mine}
        words = {n: self.voice.say(LOOK_NUMBER, n=n) for n in range(1, len(self.play.looks) + 1)}
        none = self.voice.say(NO_LOOK)
        truth = [words[n] for n in sorted(numbers)] or [none]
        wrong = [said for n, said in words.items() if n not in numbers] + [none] * bool(mine)
        phase = mine[0].phase if mine else self._last_phase()
        asks = self.voice.say(WHICH_LOOK)
        yield self._choice(
            QuestionKind.LOOK,
            asks,
            (truth, wrong),
            phase=phase,
            mark=",".join(map(str, sorted(numbers))),
            most=len(words) + 1,
            order=(*words.values(), none),
        )

    def _counter(self, counter: Counter) -> Iterator[RoleQuestion]:
        if self.facts.ends is None:  # it depends on the look that is thrown
            return
        run = with_counter(self.play, counter)
        now, before = final_places(run)[self.role], self.ends[self.role]
        if dist(now, before) < APART:
            return
        steps = part_facts(run, self.role).steps
        asks = self.voice.say(WHERE_NOW, when=self.voice.say(WHEN_THEY[counter.defence]))
        made = self._where(
            QuestionKind.COUNTER,
            asks,
            now,
            phase=steps[-1].phase if steps else counter.from_phase,
            ident=counter.id,
            tempting=(before,),
        )
        yield replace(made, counter=counter.id)

    def on_call(self, variant: Variant, usual: _Asker) -> Iterator[RoleQuestion]:
        """What a call changes for the role, asked of the play as it is run on it.

        Nothing where the call leaves the role as it usually is.
        """
        call = by_name(variant.call, self.voice.names, self.voice.language)
        other = other_role(variant, self.role)
        if other is not None:
            yield self._whose_job(call, f"{variant.call}|{other}", other)
        here, last = self.play.start_of(self.role), self.ends[self.role]
        places = (
            (WHERE_START_ON, "start", usual.play.start_of(self.role), here, self.play.phases[0].id),
            (WHERE_END_ON, "end", usual.ends[self.role], last, self._last_phase()),
        )
        for asks, what, before, now, phase in places[: 1 if self.facts.ends is None else 2]:
            if dist(before, now) >= APART:
                yield self._where(
                    QuestionKind.CALL,
                    self.voice.say(asks, call=call),
                    now,
                    phase=phase,
                    ident=f"{variant.call}|{what}",
                    tempting=(before,),
                )

    def _whose_job(self, call: str, mark: str, other: Role) -> RoleQuestion:
        people = [self.voice.person(role) for role in ROLES if role not in (self.role, other)]
        return self._choice(
            QuestionKind.CALL,
            self.voice.say(WHOSE_JOB, call=call),
            ([self.voice.person(other)], [self.voice.say(OWN_JOB), *people]),
            phase=self.play.phases[0].id,
            mark=mark,
            most=len(ROLES),
        )

    def _where(
        self,
        kind: QuestionKind,
        asks: str,
        at: Point,
        *,
        phase: str,
        ident: str = "",
        tempting: Iterable[Point] = (),
    ) -> RoleQuestion:
        truth = self.voice.goal(at)
        wrong = [self.voice.goal(place) for place in self._wrong_places(at, tempting)]
        key = _key(kind, f"{ident}|{at.x:.1f},{at.y:.1f}")
        choices, right = _mixed(key, [truth], wrong, CHOICES)
        return RoleQuestion(key, kind, asks, choices, right, truth, phase, at=at)

    def _wrong_places(self, at: Point, tempting: Iterable[Point]) -> list[Point]:
        """Where others are, then named places, the nearer first; all well apart from the truth."""
        people = [*tempting, *(start.at for start in self.play.starts), *self.ends.values()]
        here = court(self.play.court)
        table = named_spots(here) if here.contains(at) else out_spots(here)
        front = [spot for key, spot in table.items() if not key.startswith("back_")]
        front.sort(key=lambda spot: dist(spot, at))
        return [place for place in (*people, *front) if dist(place, at) >= APART]

    def _choice(
        self,
        kind: QuestionKind,
        asks: str,
        said: tuple[list[str], list[str]],
        *,
        phase: str,
        mark: str,
        most: int = CHOICES,
        order: Sequence[str] = (),
    ) -> RoleQuestion:
        """``said`` holds the true answers and the wrong ones, ``order`` a usual one of them."""
        truth, wrong = said
        key = _key(kind, mark)
        choices, right = _mixed(key, truth, wrong, most, order)
        return RoleQuestion(
            key, kind, asks, choices, right, self.voice.language.all_of(truth), phase
        )


def _awaits(facts: PartFacts) -> list[Awaits]:
    found = [fact for step in facts.steps for fact in step.facts if isinstance(fact, Awaits)]
    return [fact for fact in found if not fact.gives_signal]


def _events(fact: Awaits) -> str:
    """What is waited for, without words: names and language say the same truth."""
    told = [
        f"{event.moment}:{event.action.id if event.action else ''}:{event.wait}"
        for event in fact.events
    ]
    return f"{fact.rule}({';'.join(told)})"


def _key(kind: QuestionKind, mark: str) -> str:
    digest = sha256(mark.encode()).hexdigest()[:12]
    return f"{kind.value}-{digest}"


def _mixed(
    key: str, truth: list[str], wrong: Iterable[str], most: int, order: Sequence[str] = ()
) -> tuple[tuple[str, ...], frozenset[int]]:
    """True and wrong answers in ``order``, else in one that says nothing and is always the same."""
    others = [said for said in dict.fromkeys(wrong) if said not in truth]
    told = [*truth, *others[: max(1, most - len(truth))]]
    told.sort(key=order.index if order else lambda said: sha256(f"{key}|{said}".encode()).digest())
    return tuple(told), frozenset(n for n, said in enumerate(told) if said in truth)
