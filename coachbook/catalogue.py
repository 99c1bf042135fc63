"""The catalogue of another language: which sentences there are, and which are translated.

Sentences of the cores are marked with ``N_`` and ``NN_``, those of views and models with
gettext, those of templates with ``translate`` and ``blocktranslate``. One file for each
language holds them all: ``coachbook/locale/<code>/LC_MESSAGES/django.po``, compiled beside
it to ``django.mo``. Babel reads, writes and compiles; no gettext tools are needed::

    python3 -m coachbook.catalogue update     add new sentences to every .po, drop dead ones
    python3 -m coachbook.catalogue compile    write every .mo anew
    python3 -m coachbook.catalogue check      list what is missing, and fail if anything is
"""

from __future__ import annotations

import ast
import io
import re
import sys
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from types import MappingProxyType
from typing import Final

from babel.messages import Catalog, Message
from babel.messages.mofile import write_mo
from babel.messages.pofile import PoFileParser, write_po

from shared.core.language import DOMAIN, slots_of

Key = str | tuple[str, ...]  # the English sentence, or its singular and plural
Places = tuple[str, ...]

ROOT: Final = Path(__file__).parents[1]
CATALOGUES: Final = ROOT / "coachbook" / "locale"
APPS: Final = ("coachbook", "plays", "roster", "practice", "shared")
# Where every sentence must be there in every language: the cores, and all that a player sees.
NEEDED: Final = (
    "/core/",
    "templates/player/",
    "templates/roster/sheet.html",
    "templates/coachbook/link_closed.html",
    *("templates/base.html", "templates/403.html", "templates/404.html", "templates/500.html"),
)
_ONE: Final = frozenset({"N_", "_", "_t", "gettext", "gettext_lazy", "gettext_noop", "say"})
_PAIR: Final = frozenset({"NN_", "ngettext", "ngettext_lazy", "say_n"})
_TEXT: Final = r"u?('(?:[^'\\]|\\.)*'|\"(?:[^\"\\]|\\.)*\")"
_TEMPLATE_CALL: Final = re.compile(rf"\b(?:n?gettext|_)\({_TEXT}(?:,\s*{_TEXT})?")


class Sentences(Catalog):
    """A catalogue whose head stays as it is in the file: no date, so the same bytes each time."""

    head: list[tuple[str, str]]

    def _get_mime_headers(self) -> list[tuple[str, str]]:
        return [*self.head[:-1], (self.head[-1][0], f"{self.head[-1][1]}\n")]

    def _set_mime_headers(self, headers: Iterable[tuple[str, str]]) -> None:
        self.head = list(headers)
        super()._set_mime_headers(self.head)

    mime_headers = property(_get_mime_headers, _set_mime_headers)

    def sentences(self) -> Iterator[Message]:
        """Every entry but the head."""
        return (message for message in self if message.id)

    def is_whole(self, message: Message) -> bool:
        """Whether every form has a text."""
        return len(texts(message)) == (self.num_plurals if message.pluralizable else 1) and all(
            texts(message)
        )


def texts(message: Message) -> tuple[str, ...]:
    """What a sentence is in the other language, in each of its forms."""
    return (message.string,) if isinstance(message.string, str) else tuple(message.string or ("",))


def read(text: str) -> Sentences:
    """A catalogue from the text of a .po file. Raises PoFileError where it cannot be read."""
    found = Sentences()
    PoFileParser(found, ignore_obsolete=True, abort_invalid=True).parse(io.StringIO(text))
    for message in found.sentences():
        message.flags &= {"fuzzy"}  # what else babel guesses from a percent sign
    return found


def written(catalogue: Sentences) -> str:
    """The text of a .po file, one place a line, so that two changes seldom meet."""
    out = io.BytesIO()
    write_po(out, catalogue, width=0, include_lineno=False)
    text = f"{out.getvalue().decode().rstrip()}\n"
    return re.sub(r"(?m)^#: .+$", lambda line: line[0].replace(" ", "\n#: ")[3:], text)


def compiled(catalogue: Sentences) -> bytes:
    """The bytes of the .mo file: sentences that are whole and certain, the others in English."""
    whole = Sentences()
    whole.mime_headers = catalogue.head
    for message in catalogue.sentences():
        if catalogue.is_whole(message):
            whole[message.id] = message
    out = io.BytesIO()
    write_mo(out, whole)
    return out.getvalue()


def marked(root: Path) -> Mapping[Key, Places]:
    """Every marked sentence under ``root`` with the files that it stands in, sorted."""
    places: dict[Key, set[str]] = {}
    for path in _sources(root):
        found = in_python if path.suffix == ".py" else in_template
        for key in found(path.read_text("utf-8")):
            places.setdefault(key, set()).add(path.relative_to(root).as_posix())
    return MappingProxyType({key: tuple(sorted(places[key])) for key in sorted(places, key=str)})


def in_python(text: str) -> Iterator[Key]:
    """The sentences marked in Python source, also inside an f-string, where babel finds none."""
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Call):
            name = getattr(node.func, "attr", getattr(node.func, "id", ""))
            said = [each.value if isinstance(each, ast.Constant) else "" for each in node.args[:2]]
            if name in _ONE and said and isinstance(said[0], str) and said[0]:
                yield said[0]
            elif name in _PAIR and all(isinstance(each, str) and each for each in said):
                yield str(said[0]), str(said[1])


def in_template(text: str) -> Iterator[Key]:
    """The sentences of a Django template, as Django itself would ask for them."""
    from django.utils.translation.template import templatize  # noqa: PLC0415 (needed here only)

    for found in _TEMPLATE_CALL.finditer(templatize(text)):
        one, many = (ast.literal_eval(each) if each else "" for each in found.groups())
        yield (one, many) if many else one


def _sources(root: Path) -> Iterator[Path]:
    for app in APPS:
        yield from (path for path in (root / app).rglob("*.py") if "migrations" not in path.parts)
    yield from (
        path for path in (root / "templates").rglob("*") if path.suffix in {".html", ".txt"}
    )


def needed(places: Iterable[str]) -> bool:
    """Whether a sentence must be there in every language."""
    return any(part in place for place in places for part in NEEDED)


def _key(message: Message) -> Key:
    return message.id if isinstance(message.id, str) else tuple(message.id)


def places_of(message: Message) -> Places:
    """The files that a sentence stood in at the last update."""
    return tuple(place for place, _ in message.locations)


def updated(catalogue: Sentences, found: Mapping[Key, Places]) -> Sentences:
    """The sentences in use: known ones as they are, new ones without a text."""
    known: dict[Key, Message] = {_key(message): message for message in catalogue.sentences()}
    fresh = Sentences(fuzzy=False)
    fresh.mime_headers, fresh.header_comment = catalogue.head, catalogue.header_comment
    for key in sorted(found, key=lambda key: (found[key], "".join(key))):
        fresh[key] = known.get(key, Message(key))
        fresh[key].locations = [(place, 0) for place in found[key]]
    return fresh


def faults(catalogue: Sentences, found: Mapping[Key, Places]) -> Iterator[str]:
    """What is wrong with a catalogue: missing, fuzzy, dead, or with other slots.

    Missing and dead count for sentences of the cores and of the player's pages; a staff page
    may be behind until the next update.
    """
    known: dict[Key, Message] = {_key(message): message for message in catalogue.sentences()}
    for key, places in found.items():
        message = known.get(key)
        if message is None or not catalogue.is_whole(message):
            if needed(places):
                yield f"not translated: {key!r} ({places[0]})"
        elif message.fuzzy:
            yield f"fuzzy: {key!r} ({places[0]})"
        else:
            yield from _slot_faults(message)
    for key in known.keys() - found.keys():
        if needed(places_of(known[key])) or not known[key].locations:
            yield f"no longer used: {key!r}"


def _slot_faults(message: Message) -> Iterator[str]:
    """A translation fills the slots that the English fills; a plural may leave out the number."""
    wanted = _slots("".join(message.id))
    free = {"n", "count"} if message.pluralizable else set()
    for text in texts(message):
        if _slots(text) - free != wanted - free:
            yield f"other slots: {message.id!r} -> {text!r}"


def _slots(text: str) -> frozenset[str]:
    """The slots of a core's template, or of one of Django's with its percent signs."""
    return frozenset(re.findall(r"%\((\w+)\)[sd]", text)) or slots_of(text)


def _check(path: Path, catalogue: Sentences) -> list[str]:
    found = list(faults(catalogue, marked(ROOT)))
    if path.with_suffix(".mo").read_bytes() != compiled(catalogue):
        found.append(f"{path.with_suffix('.mo').name} is older than {path.name}: compile it")
    return [f"{path}: {fault}" for fault in found]


def po_files(catalogues: Path = CATALOGUES) -> list[Path]:
    """The catalogue of every language."""
    return sorted(catalogues.glob(f"*/LC_MESSAGES/{DOMAIN}.po"))


def main(arguments: Sequence[str]) -> int:
    """Run one of update, compile, check for every language; 1 if a check fails."""
    if len(arguments) != 1 or arguments[0] not in {"update", "compile", "check"}:
        sys.stderr.write(f"{__doc__}\n")
        return 2
    said: list[str] = []
    for path in po_files():
        catalogue = read(path.read_text("utf-8"))
        if arguments[0] == "update":
            path.write_text(written(updated(catalogue, marked(ROOT))), "utf-8", newline="\n")
        elif arguments[0] == "compile":
            path.with_suffix(".mo").write_bytes(compiled(catalogue))
        else:
            said += _check(path, catalogue)
    sys.stdout.writelines(f"{line}\n" for line in said)
    return 1 if said else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
