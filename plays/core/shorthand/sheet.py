"""The lines of a shorthand text sorted by what they belong to; nothing in them is read yet."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Final, NamedTuple

from plays.core.shorthand.vocabulary import READS_AS_ACTION
from shared.core.language import N_, Slot

NO_HEADING: Final = N_("“{text}” belongs to nothing. Begin with a heading, such as “phase: Entry”.")
TWICE: Final = N_("“{heading}” is written twice. Keep one.")
NO_COUNTER: Final = N_("Write a counter as “counter switch from phase 1: what changes”.")
NO_INSTEAD: Final = N_(
    "Write what is done instead as “instead of 4's screen: 4 slips to the basket”."
)
NO_TEACHING: Final = N_(
    "A line with a dash belongs under an action, or under teach, errors, cautions or a language."
)
TOO_LONG: Final = N_("The text has {count} lines; {most} is the most.")
MOST_LINES: Final = 1000

VALUES: Final = (
    *("play", "key", "series", "call", "situation", "formation", "court", "level"),
    *("throw-in", "ball", "use", "conditions", "origin"),
)
_HEAD: Final = re.compile(rf"({'|'.join(VALUES)}):(.*)", re.IGNORECASE)
_SECTION: Final = re.compile(
    r"(starts|spacing|looks|variants|needs|defenders|teach|errors|cautions|in [a-z]{2,3}):",
    re.IGNORECASE,
)
# A phase may be numbered by who types it: the order counts.
_PHASE: Final = re.compile(
    r"(phase|rotation)(?: \d{1,2})?(?: after looks? (\d{1,3}(?:(?:,| and|, and) \d{1,3})*))?:(.*)",
    re.IGNORECASE,
)
_COUNTER: Final = re.compile(
    r"counter ([a-z]+)((?: (?:on|and) [1-5])*)(?: from phase (\d{1,3}))?:(.*)",
    re.IGNORECASE,
)
LISTS: Final = frozenset({"teach", "errors", "cautions"})
# Signs that a chat or a list puts before a line: none is part of what the line says.
_BULLET: Final = re.compile(r"^(?:[•*·▪◦]|\d{1,2}\))\s+")
_LONG_DASH: Final = re.compile(r"^[–—]\s+")
INSTEAD: Final = "instead of "
IN_LANGUAGE: Final = "in "  # begins the heading of what is said in another language


class TextLine(NamedTuple):
    """A line of the text: its number from 1, and what it says."""

    number: int
    text: str


class LineFault(NamedTuple):
    """What is wrong with a line: the template of the sentence, and what fills it."""

    line: int
    template: str
    slots: dict[str, Slot]


@dataclass
class Entry:
    """An action line with the teaching cues under it, and what it is done instead of."""

    line: TextLine
    teach: list[TextLine] = field(default_factory=list)
    instead: str | None = None


@dataclass
class PhasePart:
    title: TextLine
    rotation: bool
    after: tuple[int, ...] = ()
    entries: list[Entry] = field(default_factory=list)


@dataclass
class CounterLines:
    says: TextLine
    defence: str
    phase: int
    whose: str = ""
    without: list[TextLine] = field(default_factory=list)
    entries: list[Entry] = field(default_factory=list)
    looks: list[TextLine] = field(default_factory=list)


@dataclass
class TextSheet:
    """A shorthand text by its parts."""

    head: dict[str, TextLine] = field(default_factory=dict)
    sections: dict[str, list[TextLine]] = field(default_factory=dict)
    phases: list[PhasePart] = field(default_factory=list)
    counters: list[CounterLines] = field(default_factory=list)
    faults: list[LineFault] = field(default_factory=list)

    def section(self, name: str) -> list[TextLine]:
        return self.sections.get(name, [])


def sheet_of(text: str) -> TextSheet:
    """Every line at its place; what belongs nowhere is a fault of its line."""
    lines = text.replace("\r\n", "\n").split("\n")
    sorter = _Sorter(TextSheet())
    if len(lines) > MOST_LINES:
        sorter.fault(MOST_LINES, TOO_LONG, count=len(lines), most=MOST_LINES)
    for number, line in enumerate(lines[:MOST_LINES], start=1):
        said = _LONG_DASH.sub("- ", _BULLET.sub("", line.strip()))
        if said and not said.startswith("#"):
            sorter.take(TextLine(number, said))
    return sorter.sheet


class _Sorter:
    """Remembers under which heading the next line stands."""

    def __init__(self, sheet: TextSheet) -> None:
        self.sheet = sheet
        self.section = ""
        self.entries: list[Entry] | None = None
        self.counter: CounterLines | None = None

    def fault(self, line: int, template: str, **slots: Slot) -> None:
        self.sheet.faults.append(LineFault(line, template, slots))

    def take(self, line: TextLine) -> None:
        for pattern, heading in self._headings():
            if found := pattern.fullmatch(line.text):
                heading(line, found)
                return
        if line.text.startswith("counter "):
            self.fault(line.number, NO_COUNTER)
        elif line.text.startswith("- "):
            said = TextLine(line.number, line.text.removeprefix("- "))
            (self._body if self._is_listed(said.text) else self._dash)(said)
        else:
            self._body(line)

    def _is_listed(self, text: str) -> bool:
        """A line of a pasted list, whose dash is no part of it: an action, a start, a look."""
        if self.entries is not None:
            return READS_AS_ACTION.match(text) is not None
        return bool(self.section) and not self._is_list()

    def _headings(
        self,
    ) -> tuple[tuple[re.Pattern[str], Callable[[TextLine, re.Match[str]], None]], ...]:
        return (
            (_HEAD, self._value),
            (_PHASE, self._phase),
            (_SECTION, self._open),
            (_COUNTER, self._counter),
        )

    def _value(self, line: TextLine, found: re.Match[str]) -> None:
        heading = found[1].lower()
        if heading in self.sheet.head:
            self.fault(line.number, TWICE, heading=heading)
        self.sheet.head.setdefault(heading, TextLine(line.number, found[2].strip()))

    def _phase(self, line: TextLine, found: re.Match[str]) -> None:
        title = TextLine(line.number, found[3].strip())
        after = tuple(int(number) for number in re.findall(r"\d+", found[2] or ""))
        part = PhasePart(title, found[1].lower() == "rotation", after)
        self.sheet.phases.append(part)
        self.section, self.entries, self.counter = "phase", part.entries, None

    def _open(self, _line: TextLine, found: re.Match[str]) -> None:
        self.section, self.entries = found[1].lower(), None
        if self.section != "looks":
            self.counter = None

    def _counter(self, line: TextLine, found: re.Match[str]) -> None:
        says = TextLine(line.number, found[4].strip())
        self.counter = CounterLines(says, found[1].lower(), int(found[3] or 1), found[2].lower())
        self.sheet.counters.append(self.counter)
        self.section, self.entries = "counter", self.counter.entries

    def _dash(self, line: TextLine) -> None:
        if self._is_list():
            self.sheet.sections.setdefault(self.section, []).append(line)
        elif self.entries:
            self.entries[-1].teach.append(line)
        else:
            self.fault(line.number, NO_TEACHING)

    def _body(self, line: TextLine) -> None:
        if self.entries is not None:
            self._entry(line, self.entries)
        elif self.section == "looks" and self.counter is not None:
            self.counter.looks.append(line)
        elif self._is_list() or not self.section:
            self.fault(line.number, NO_HEADING, text=line.text)
        else:
            self.sheet.sections.setdefault(self.section, []).append(line)

    def _is_list(self) -> bool:
        return self.section in LISTS or self.section.startswith(IN_LANGUAGE)

    def _entry(self, line: TextLine, entries: list[Entry]) -> None:
        first, _, rest = line.text.partition(" ")
        if self.counter is not None and first.lower() == "without":
            self.counter.without.append(TextLine(line.number, rest))
        elif self.counter is not None and line.text.lower().startswith(INSTEAD):
            of, colon, action = line.text[len(INSTEAD) :].partition(":")
            if not colon:
                self.fault(line.number, NO_INSTEAD)
                return
            entries.append(Entry(TextLine(line.number, action.strip()), instead=of.strip()))
        else:
            entries.append(Entry(line))
