"""The catalogue of another language: which sentences there are, and which are translated.

Sentences of the cores are marked with ``N_`` and ``NN_``, those of views and models with
gettext, those of templates with ``translate`` and ``blocktranslate``. One file for each
language holds them all: ``coachbook/locale/<code>/LC_MESSAGES/django.po``, compiled beside
it to ``django.mo``. Needs no gettext tools::

    python3 -m coachbook.catalogue update     add new sentences to every .po, drop dead ones
    python3 -m coachbook.catalogue compile    write every .mo anew
    python3 -m coachbook.catalogue check      list what is missing, and fail if anything is

Formats: GNU gettext manual, "The Format of PO Files" and "The Format of GNU MO Files".
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Final

from coachbook.catalogue_extract import CORE, PLAYER_PAGES, Places, marked
from coachbook.catalogue_po import Entry, Key, compile_mo, read_po, write_po
from shared.core.language import CATALOGUES, DOMAIN, slots_of

ROOT: Final = Path(__file__).parents[1]


def po_files(catalogues: Path = CATALOGUES) -> list[Path]:
    """The catalogue of every language."""
    return sorted(catalogues.glob(f"*/LC_MESSAGES/{DOMAIN}.po"))


def updated(entries: Sequence[Entry], found: Mapping[Key, Places]) -> tuple[Entry, ...]:
    """The entries of the sentences in use: known ones as they are, and what is needed besides."""
    known = {entry.key: entry for entry in entries}
    kept = [
        known.get(key, Entry(*key)).at(places)
        for key, places in found.items()
        if key in known or needed(places)
    ]
    return tuple(sorted(kept, key=lambda entry: (entry.places, entry.one)))


def faults(entries: Sequence[Entry], found: Mapping[Key, Places], forms: int) -> Iterator[str]:
    """What is wrong with a catalogue: missing, fuzzy, dead, or with other slots.

    Missing and dead count for sentences of the cores and of the player's pages; a staff page
    may be behind until the next update.
    """
    known = {entry.key: entry for entry in entries}
    for key, places in found.items():
        entry = known.get(key)
        if entry is None or not entry.translated(forms):
            if needed(places):
                yield f"not translated: {key[0]!r} ({places[0]})"
        elif entry.fuzzy:
            yield f"fuzzy: {key[0]!r} ({places[0]})"
        else:
            yield from _slot_faults(entry)
    for key in known.keys() - found.keys():
        if needed(known[key].places) or not known[key].places:
            yield f"no longer used: {key[0]!r}"


def needed(places: Places) -> bool:
    """Whether a sentence must be there in every language."""
    return any(part in place for place in places for part in (CORE, *PLAYER_PAGES))


def _slot_faults(entry: Entry) -> Iterator[str]:
    """A translation fills the slots that the English fills; a plural may leave out the number."""
    wanted = _slots(entry.one) | _slots(entry.many or "")
    free = {"n", "count"} if entry.many else set()
    for text in entry.texts:
        if _slots(text) - free != wanted - free:
            yield f"other slots: {entry.one!r} -> {text!r}"


def _slots(text: str) -> frozenset[str]:
    """The slots of a core's template, or of one of Django's with its percent signs."""
    percent = frozenset(re.findall(r"%\((\w+)\)[sd]", text))
    return percent or slots_of(text)


def main(arguments: Sequence[str]) -> int:
    """Run one of update, compile, check for every language; 1 if a check fails."""
    tasks = {"update": _update, "compile": _compile, "check": _check}
    if len(arguments) != 1 or arguments[0] not in tasks:
        sys.stderr.write(f"{__doc__}\n")
        return 2
    return max((tasks[arguments[0]](path) for path in po_files()), default=0)


def _update(path: Path) -> int:
    head, entries = read_po(path.read_text("utf-8"))
    path.write_text(write_po(head, updated(entries, marked(ROOT))), "utf-8", newline="\n")
    return 0


def _compile(path: Path) -> int:
    head, entries = read_po(path.read_text("utf-8"))
    path.with_suffix(".mo").write_bytes(compile_mo(head, entries))
    return 0


def _check(path: Path) -> int:
    head, entries = read_po(path.read_text("utf-8"))
    found = list(faults(entries, marked(ROOT), head.forms))
    if path.with_suffix(".mo").read_bytes() != compile_mo(head, entries):
        found.append(f"{path.with_suffix('.mo').name} is older than {path.name}: compile it")
    for fault in found:
        sys.stdout.write(f"{path}: {fault}\n")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
