"""Shorthand read: the play that a text says, and every line that says nothing.

All faults are told at their line. What could be read makes a play all the same, so that a
picture can follow the typing; the checks of form are told at the line that says the thing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from functools import partial
from typing import Final, TypeVar

from plays.core.court.courts import Court, court
from plays.core.document.form import UNFINISHED, problems
from plays.core.document.problem import tokens
from plays.core.play import (
    Action,
    Counter,
    Cue,
    Defence,
    Look,
    Phase,
    Play,
    Role,
)
from plays.core.sequence.course import BALL_MOVERS
from plays.core.shorthand import head
from plays.core.shorthand.clauses import (
    ActionDraft,
    CueDraft,
    action_of,
    defence_of,
    look_of,
    roles_of,
)
from plays.core.shorthand.naming import (
    Reference,
    action_id,
    counter_ids,
    look_ids,
    named,
    phase_ids,
)
from plays.core.shorthand.referring import cue_of, referred
from plays.core.shorthand.sheet import (
    CounterLines,
    Entry,
    LineFault,
    PhasePart,
    TextLine,
    TextSheet,
    sheet_of,
)
from plays.core.shorthand.texts import LineError, text_of
from plays.core.shorthand.told import ReadText, Told, filling
from plays.core.shorthand.tongue import english, is_spanish, spanish_words
from plays.core.shorthand.typed import typed
from shared.core.language import ENGLISH, N_, Language, sentence

T = TypeVar("T")
Place = tuple[str | int, ...]

NO_SUCH_PHASE: Final = N_("There is no phase {n}.")
NO_SUCH_LOOK: Final = N_("There is no look {n}.")


def read(text: str, language: Language = ENGLISH) -> ReadText:
    """The play that a text says, with every fault of a line and every problem of form."""
    sheet = sheet_of(english(text))
    say = spanish_words if is_spanish(text) else str
    reader = _TextReader(sheet, court(head.rule_set(sheet)))
    play = reader.play()
    told = [
        Told(
            fault.line,
            sentence(language.say(fault.template, **filling(fault, say))),
            unread=True,
        )
        for fault in sheet.faults
    ]
    if not told:
        told = [
            Told(
                reader.line_of(tokens(each.place)),
                named(each.sentence, play, say),
                missing=each.code in UNFINISHED,
            )
            for each in problems(play, language)
        ]
    return ReadText(play, tuple(sorted(dict.fromkeys(told), key=lambda each: each.line)))


class _TextReader:
    """Builds a play from a sheet, and remembers which line said what."""

    def __init__(self, sheet: TextSheet, floor: Court) -> None:
        self.sheet = sheet
        self.floor = floor
        self.lines: dict[Place, int] = {}
        self.known: dict[Reference, str] = {}
        self.passes: dict[str, Role] = {}  # to whom, by id

    def play(self) -> Play:
        titles = [self._try(part.title, text_of) or "" for part in self.sheet.phases]
        base = [self._drafts(part.entries) for part in self.sheet.phases]
        ids = self._numbered(draft for drafts in base for _, draft in drafts)
        phases = []
        for index, (part, drafts, id_) in enumerate(
            zip(self.sheet.phases, base, phase_ids(titles), strict=True)
        ):
            place: Place = ("phases", index)
            self.lines[place] = part.title.number
            actions = self._actions(drafts, [next(ids) for _ in drafts], (*place, "actions"))
            phases.append(Phase(id_, titles[index], actions, part.rotation))
        play = head.play_of(self.sheet, self.floor, tuple(phases), self._try, self.lines)
        play = replace(play, looks=self._looks(self.sheet.section("looks"), ("looks",)))
        play = replace(
            play, phases=tuple(map(partial(self._kept, play), phases, self.sheet.phases))
        )
        return replace(play, counters=self._counters(play))

    def _kept(self, play: Play, phase: Phase, part: PhasePart) -> Phase:
        """The phase with the looks after which it is run, by their numbers in the list."""
        after = []
        for number in part.after:
            if 1 <= number <= len(play.looks):
                after.append(play.looks[number - 1].id)
            else:
                self._note(part.title, LineError(NO_SUCH_LOOK, n=number))
        return replace(phase, after=tuple(after))

    def line_of(self, place: Place) -> int:
        """The line that says what stands at a place of the document; 0 for none."""
        while place and place not in self.lines:
            place = place[:-1]
        return self.lines.get(place, 0)

    def _drafts(self, entries: Iterable[Entry]) -> list[tuple[Entry, ActionDraft]]:
        read = [(entry, self._try(entry.line, self._action)) for entry in entries]
        for entry, draft in read:
            for error in draft.unread if draft is not None else ():
                self._note(entry.line, error)
        return [(entry, draft) for entry, draft in read if draft is not None]

    def _action(self, text: str) -> ActionDraft:
        return action_of(text, self.floor)

    def _numbered(self, drafts: Iterable[ActionDraft], counter: str = "") -> Iterator[str]:
        """The ids of actions in their order; each is known by its reference from here on."""
        made = []
        for draft in drafts:
            number = 1
            while (
                found := Reference(draft.role, draft.verb.kind, number, bool(counter))
            ) in self.known:
                number += 1
            self.known[found] = action_id(found, counter)
            if draft.other is not None and draft.verb.kind in BALL_MOVERS:
                self.passes[self.known[found]] = draft.other
            made.append(self.known[found])
        return iter(made)

    def _actions(
        self, drafts: list[tuple[Entry, ActionDraft]], ids: list[str], place: Place
    ) -> tuple[Action, ...]:
        made = []
        for index, ((entry, draft), id_) in enumerate(zip(drafts, ids, strict=True)):
            self.lines[*place, index] = entry.line.number
            made.append(self._finished(entry, draft, id_))
        return tuple(made)

    def _finished(self, entry: Entry, draft: ActionDraft, id_: str) -> Action:
        is_screen = draft.verb.kind.value == "screen"
        cues = [self._try(entry.line, partial(self._cue, cue)) for cue in draft.cues]
        teach = [self._try(line, text_of) for line in entry.teach]
        return Action(
            id=id_,
            role=draft.role,
            kind=draft.verb.kind,
            path=draft.path,
            cues=tuple(cue for cue in cues if cue is not None),
            cue_rule=draft.cue_rule,
            cut=draft.verb.cut,
            screen=draft.verb.screen,
            cutter=draft.other if is_screen else None,
            joint=draft.joint,
            to=None if is_screen else draft.other,
            pass_kind=draft.verb.pass_kind,
            easy=draft.easy,
            decoy=draft.decoy,
            teach=tuple(text for text in teach if text),
        )

    def _cue(self, draft: CueDraft, _line: str) -> Cue:
        return cue_of(draft, self.known, self.passes)

    def _looks(self, lines: Iterable[TextLine], place: Place) -> tuple[Look, ...]:
        made: list[Look] = []
        for line in lines:
            look = self._try(line, self._look)
            if look is not None:
                self.lines[*place, len(made)] = line.number
                made.append(look)
        if place != ("looks",):
            return tuple(made)
        ids = look_ids(made)
        return tuple(replace(look, id=id_) for look, id_ in zip(made, ids, strict=True))

    def _look(self, text: str) -> Look:
        draft = look_of(text, self.floor)
        return Look(
            id="",
            passer=draft.passer,
            receiver=draft.receiver,
            action=referred(draft.action, self.known),
            pass_kind=draft.pass_kind,
            condition=draft.condition,
            at=draft.at,
            guess=draft.guess,
            read=draft.read,
            shot=draft.shot,
        )

    def _counters(self, play: Play) -> tuple[Counter, ...]:
        made: list[tuple[CounterLines, Defence]] = []
        for part in self.sheet.counters:
            defence = self._try(part.says, partial(self._defence, part, play))
            if defence is not None:
                made.append((part, defence))
        ids = counter_ids(defence.value for _, defence in made)
        return tuple(
            self._counter(play, part, defence, id_, ("counters", index))
            for index, ((part, defence), id_) in enumerate(zip(made, ids, strict=True))
        )

    def _defence(self, part: CounterLines, play: Play, _says: str) -> Defence:
        defence = defence_of(part.defence)
        if not 1 <= part.phase <= len(play.phases):
            raise LineError(NO_SUCH_PHASE, n=part.phase)
        return defence

    def _counter(
        self, play: Play, part: CounterLines, defence: Defence, id_: str, place: Place
    ) -> Counter:
        self.lines[place] = part.says.number
        base, passes = dict(self.known), dict(self.passes)
        remove = [self._try(line, self._by_name) for line in part.without]
        instead = [entry for entry in part.entries if entry.instead is not None]
        added = self._drafts(entry for entry in part.entries if entry.instead is None)
        ids = list(self._numbered((draft for _, draft in added), id_))
        replaced = self._replaced(instead)
        looks = self._looks(part.looks, (*place, "looks"))
        numbered = zip(looks, look_ids(looks, play.looks, id_), strict=True)
        counter = Counter(
            id=id_,
            defence=defence,
            from_phase=play.phases[part.phase - 1].id,
            says=self._try(part.says, text_of) or "",
            remove=tuple(each for each in remove if each is not None),
            replace=self._actions(
                [(entry, draft) for entry, draft, _ in replaced],
                [target for _, _, target in replaced],
                (*place, "replace"),
            ),
            add=self._actions(added, ids, (*place, "add")),
            looks=tuple(replace(look, id=look_id) for look, look_id in numbered),
            whose=roles_of(part.whose),
        )
        self.known, self.passes = base, passes
        return counter

    def _replaced(self, entries: Iterable[Entry]) -> list[tuple[Entry, ActionDraft, str]]:
        found = []
        for entry, draft in self._drafts(entries):
            target = self._try(TextLine(entry.line.number, entry.instead or ""), self._by_name)
            if target is not None:
                found.append((entry, draft, target))
        return found

    def _by_name(self, text: str) -> str:
        return referred(typed(text), self.known)

    def _try(self, line: TextLine, reader: Callable[[str], T]) -> T | None:
        """What a line says; None, and a fault at the line, where it says nothing."""
        try:
            return reader(line.text)
        except LineError as error:
            self._note(line, error)
            return None

    def _note(self, line: TextLine, error: LineError) -> None:
        fault = LineFault(line.number, error.template, dict(error.slots))
        if fault not in self.sheet.faults:
            self.sheet.faults.append(fault)
