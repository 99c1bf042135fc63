"""Who of the roster a line of a file means, so that a file brought back changes players."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence

from roster.core.file import cells

Worn = tuple[str, str]
"""A player of the roster by name and shirt number."""


def known_players(
    rows: Sequence[Mapping[str, str]], present: Sequence[Worn]
) -> tuple[Worn | None, ...]:
    """For each line, who of the roster it means; nobody is meant twice.

    Name and number together tell somebody. A name alone does where only one player here and one
    line in the file bears it: the number has changed then. A number alone never does.
    """
    exact = {(cells.plain(name), number): (name, number) for name, number in present}
    wanted = [(cells.plain(row.get(cells.NAME, "")), row.get(cells.NUMBER, "")) for row in rows]
    found = [exact.pop(worn, None) for worn in wanted]
    left = Counter(name for name, _ in exact)
    asked = Counter(worn[0] for worn, who in zip(wanted, found, strict=True) if who is None)
    by_name = {name: worn for (name, _), worn in exact.items() if left[name] == asked[name] == 1}
    return tuple(
        by_name.get(worn[0]) if who is None else who
        for worn, who in zip(wanted, found, strict=True)
    )
