"""Read and write a .po catalogue, and compile it to a .mo, with the same bytes each time.

As much of the formats as a catalogue without contexts needs; anything else is an error.
"""

from __future__ import annotations

import ast
import re
import struct
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

Key = tuple[str, str | None]

_MAGIC: Final = 0x950412DE
_FORMS: Final = re.compile(r"nplurals=(\d+)")


class CatalogueError(ValueError):
    """A .po file has a line that cannot be read."""


@dataclass(frozen=True, slots=True)
class Entry:
    """A sentence in English, its plural if it has one, and its texts in the other language."""

    one: str
    many: str | None = None
    texts: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()  # for translators, without the "# "
    places: tuple[str, ...] = ()
    fuzzy: bool = False

    @property
    def key(self) -> Key:
        return self.one, self.many

    def at(self, places: Sequence[str]) -> Entry:
        return replace(self, places=tuple(places))

    def translated(self, forms: int) -> bool:
        """Whether every form has a text."""
        return len(self.texts) == (forms if self.many else 1) and all(self.texts)


@dataclass(frozen=True, slots=True)
class Head:
    """The entry for the empty sentence: what the file says about itself."""

    text: str
    notes: tuple[str, ...] = ()

    @property
    def forms(self) -> int:
        """How many plural forms the language has."""
        found = _FORMS.search(self.text)
        return int(found[1]) if found else 2


def read_po(text: str) -> tuple[Head, tuple[Entry, ...]]:
    """The head and all entries of a catalogue. Raises CatalogueError."""
    blocks = [block for block in re.split(r"\n\s*\n", text.strip()) if block]
    entries = [_entry(block) for block in blocks if not block.startswith("#~")]
    if not entries or entries[0].one or len(entries[0].texts) != 1:
        raise CatalogueError("the catalogue does not begin with its head")
    twice = {entry.key for entry in entries if [e.key for e in entries].count(entry.key) > 1}
    if twice:
        raise CatalogueError(f"twice in the catalogue: {sorted(key[0] for key in twice)}")
    return Head(entries[0].texts[0], entries[0].notes), tuple(entries[1:])


def write_po(head: Head, entries: Sequence[Entry]) -> str:
    """The inverse of ``read_po``, in the order given."""
    first = Entry("", texts=(head.text,), notes=head.notes)
    return "\n".join("".join(_lines(entry)) for entry in (first, *entries))


def compile_mo(head: Head, entries: Sequence[Entry]) -> bytes:
    """The binary catalogue: translated, certain entries only, sorted, without a hash table."""
    pairs = {b"": head.text.encode()}
    for entry in entries:
        if entry.translated(head.forms) and not entry.fuzzy:
            source = entry.one if entry.many is None else f"{entry.one}\0{entry.many}"
            pairs[source.encode()] = "\0".join(entry.texts).encode()
    sources, targets = sorted(pairs), [pairs[source] for source in sorted(pairs)]
    count, tables = len(sources), 28
    texts = tables + 16 * count
    index = b""
    body = b""
    for text in (*sources, *targets):
        index += struct.pack("<II", len(text), texts + len(body))
        body += text + b"\0"
    head_bytes = struct.pack("<7I", _MAGIC, 0, count, tables, tables + 8 * count, 0, texts)
    return head_bytes + index + body


def _entry(block: str) -> Entry:
    fields: dict[str, str] = {}
    notes, places, fuzzy, current = [], [], False, ""
    for line in block.splitlines():
        if line.startswith("#:"):
            places += line[2:].split()
        elif line.startswith("#,"):
            fuzzy = fuzzy or "fuzzy" in line
        elif line.startswith("#"):
            notes.append(line[1:].strip())
        else:
            current, quoted = _field(line, current)
            fields[current] = fields.get(current, "") + quoted
    texts = [fields[name] for name in sorted(fields) if name.startswith("msgstr")]
    if "msgid" not in fields or not texts:
        raise CatalogueError(f"no msgid or no msgstr in {block!r}")
    many = fields.get("msgid_plural")
    return Entry(fields["msgid"], many, tuple(texts), tuple(notes), tuple(places), fuzzy)


def _field(line: str, current: str) -> tuple[str, str]:
    """The field that a line belongs to, and its text."""
    found = re.fullmatch(r'(?:(msgid|msgid_plural|msgstr(?:\[\d\])?)\s+)?("(?:[^"\\]|\\.)*")', line)
    if found is None or not (found[1] or current):
        raise CatalogueError(f"cannot read the line {line!r}")
    text = ast.literal_eval(found[2])
    return found[1] or current, str(text)


def _lines(entry: Entry) -> Iterator[str]:
    yield from (f"# {note}".rstrip() + "\n" for note in entry.notes)
    yield from (f"#: {place}\n" for place in entry.places)
    if entry.fuzzy:
        yield "#, fuzzy\n"
    yield f"msgid {_quoted(entry.one)}\n"
    if entry.many is not None:
        yield f"msgid_plural {_quoted(entry.many)}\n"
        texts = entry.texts or ("", "")
        yield from (f"msgstr[{i}] {_quoted(text)}\n" for i, text in enumerate(texts))
    else:
        yield f"msgstr {_quoted(entry.texts[0] if entry.texts else '')}\n"


def _quoted(text: str) -> str:
    """A text as a .po string; one with several lines begins on its own line."""
    plain = text.replace("\\", "\\\\").replace('"', '\\"').replace("\t", "\\t")
    lines = [line.replace("\n", "\\n") for line in plain.splitlines(keepends=True)]
    if len(lines) < 2:
        return f'"{"".join(lines)}"'
    return "\n".join(['""', *(f'"{line}"' for line in lines)])
