"""Which column of a table is what, said by a person where the headings do not say it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from plays.core.words.terms import QUALITIES
from roster.core.file.cells import AVAILABILITY, COLUMNS, HEIGHT, NAME, NUMBER, POSITIONS
from roster.core.file.table import Matching, RosterTable
from roster.core.people import RATED

WORDS = {
    NAME: gettext_lazy("Name or nickname"),
    NUMBER: gettext_lazy("Shirt number"),
    HEIGHT: gettext_lazy("Height"),
    POSITIONS: gettext_lazy("Usual positions"),
    **{quality.value: gettext_lazy(QUALITIES[quality]) for quality in RATED},
    AVAILABILITY: gettext_lazy("Availability"),
}


@dataclass(frozen=True, slots=True)
class FileColumn:
    """A column of the table: what stands above it, its first texts, and what it is taken for."""

    index: int
    heading: str
    examples: tuple[str, ...]
    chosen: str


def headings_of(table: RosterTable, matching: Matching) -> list[FileColumn]:
    """The columns of a table that hold anything, for the page that asks what they are."""
    found = []
    for index, heading in enumerate(table.headings):
        examples = table.example(index, headed=matching.headed)
        if heading or examples:
            chosen = matching.columns[index] or ""
            found.append(FileColumn(index, heading if matching.headed else "", examples, chosen))
    return found


def matching_from(data: Mapping[str, str], table: RosterTable) -> Matching | None:
    """What a form says of the columns; None where it does not ask."""
    if not any(key.startswith("column-") for key in data):
        return None
    said = (data.get(f"column-{index}", "") for index in range(len(table.headings)))
    columns = tuple(column if column in COLUMNS else None for column in said)
    return Matching(columns, headed="unheaded" not in data)


def fault_of(matching: Matching) -> str:
    """Why a table cannot be read so, in a sentence; nothing where it can."""
    named = [column for column in matching.columns if column]
    twice = next((column for column in named if named.count(column) > 1), None)
    if twice is not None:
        return _("Two columns are said to be “%(column)s”.") % {"column": WORDS[twice]}
    if not matching.is_whole:
        return _("Say which column is the name and which is the shirt number.")
    return ""
