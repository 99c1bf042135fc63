"""A table on its way to a roster: its lines, and which column of it holds what."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from roster.core.file import cells
from roster.core.file.text import (
    LISTED,
    MOST_LETTERS,
    MOST_LINES,
    SEPARATED_BY,
    BadTableError,
    FileLine,
    decoded,
    lines,
    listed,
    separator_of,
)
from shared.core.language import ENGLISH, Language

# Of the headings that mean nothing here: how many a note names, and how much of each.
MOST_SHOWN: Final = 30
LONGEST_SHOWN: Final = 60


@dataclass(frozen=True, slots=True)
class Matching:
    """What each column of a table holds, None for what is not used.

    ``headed`` says whether the first line names the columns, or is a player already.
    """

    columns: tuple[str | None, ...]
    headed: bool = True

    @property
    def is_whole(self) -> bool:
        return {cells.NAME, cells.NUMBER} <= set(self.columns)


@dataclass(frozen=True, slots=True)
class RosterTable:
    """Lines of cells with what was taken for granted on the way to them, and the text itself."""

    text: str
    lines: tuple[FileLine, ...]
    notes: tuple[str, ...]
    encoding: str
    separator: str

    @property
    def headings(self) -> tuple[str, ...]:
        return self.lines[0].cells

    def guess(self) -> Matching:
        """The columns by their headings.

        A first line with none that is known is a player's, unless it has a word where every other
        line has a number.
        """
        columns = tuple(cells.column_of(heading) for heading in self.headings)
        every = range(len(self.headings))
        return Matching(columns, headed=any(columns) or any(map(self._heads_numbers, every)))

    def _heads_numbers(self, column: int) -> bool:
        """Whether a column begins with a word, and has a figure in each line below it."""
        first, *below = (line.cells[column] for line in self.lines if column < len(line.cells))
        figures = [any(map(str.isdigit, text)) for text in below if text]
        return bool(first and figures) and not any(map(str.isdigit, first)) and all(figures)

    @property
    def is_clear(self) -> bool:
        """Whether the headings say by themselves what every column holds."""
        guess = self.guess()
        pairs = zip(self.headings, guess.columns, strict=True)
        return guess.is_whole and all(column or not heading for heading, column in pairs)

    def example(self, column: int, *, headed: bool = True, most: int = 3) -> tuple[str, ...]:
        """The first texts of a column below its heading, for somebody who says what it is."""
        below = self.lines[headed:]
        found = (line.cells[column] for line in below if column < len(line.cells))
        return tuple(text[:LONGEST_SHOWN] for text in found if text)[:most]


def table_of(data: bytes | str, language: Language = ENGLISH) -> RosterTable:
    """The table in a text file, or in a text that was pasted. Raises BadTableError."""
    notes = []
    if isinstance(data, str):
        text, encoding = data, "utf-8"
    else:
        read = decoded(data)
        text, encoding = read.text, read.encoding
        notes.append(language.say(read.said))
    as_list = listed(text)
    if as_list is not None:
        heads = f"{cells.NAME}\t{cells.NUMBER}\n"
        notes.append(language.say(LISTED))
        return RosterTable(text, lines(heads + as_list, "\t"), tuple(notes), encoding, "\t")
    separator = separator_of(text, lambda heading: cells.column_of(heading) is not None)
    notes.append(language.say(SEPARATED_BY[separator]))
    return RosterTable(text, lines(text, separator), tuple(notes), encoding, separator)


def bad_table(error: BadTableError, language: Language) -> str:
    """Why a file cannot be read as a table, in a sentence."""
    return language.say(error.template, most=MOST_LINES, letters=MOST_LETTERS)
