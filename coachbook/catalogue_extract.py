"""Find every sentence that is marked for translation, and where."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Final

from coachbook.catalogue_po import Key

Places = tuple[str, ...]

APPS: Final = ("coachbook", "plays", "roster", "practice", "shared")
# Where every sentence must be there in every language: the cores, and all that a player sees.
CORE: Final = "/core/"
PLAYER_PAGES: Final = (
    "templates/player/",
    "templates/roster/sheet.html",
    "templates/coachbook/link_closed.html",
    "templates/base.html",
    "templates/403.html",
    "templates/404.html",
    "templates/500.html",
)

_ONE: Final = frozenset({"N_", "_", "_t", "gettext", "gettext_lazy", "gettext_noop", "say"})
_PAIR: Final = frozenset({"NN_", "ngettext", "ngettext_lazy", "say_n"})
_TEMPLATE_CALL: Final = re.compile(
    r"\b(?:(n?)gettext|_)\(u?('(?:[^'\\]|\\.)*'|\"(?:[^\"\\]|\\.)*\")"
    r"(?:,\s*u?('(?:[^'\\]|\\.)*'|\"(?:[^\"\\]|\\.)*\"))?"
)


def marked(root: Path) -> Mapping[Key, Places]:
    """Every marked sentence under ``root`` with the files that it stands in, sorted."""
    places: dict[Key, set[str]] = {}
    for path in sorted(_sources(root)):
        found = in_python if path.suffix == ".py" else in_template
        for key in found(path.read_text("utf-8")):
            places.setdefault(key, set()).add(path.relative_to(root).as_posix())
    return MappingProxyType({key: tuple(sorted(places[key])) for key in sorted(places, key=str)})


def in_python(text: str) -> Iterator[Key]:
    """The sentences marked in Python source: the marker's literal arguments."""
    for node in ast.walk(ast.parse(text)):
        if not isinstance(node, ast.Call):
            continue
        name = _name(node.func)
        literals = [_literal(argument) for argument in node.args[:2]]
        if name in _ONE and literals and literals[0]:
            yield literals[0], None
        elif name in _PAIR and len(literals) == 2 and literals[0] and literals[1]:
            yield literals[0], literals[1]


def in_template(text: str) -> Iterator[Key]:
    """The sentences of a Django template, as Django itself would ask for them."""
    from django.utils.translation.template import templatize  # noqa: PLC0415 (needed here only)

    for found in _TEMPLATE_CALL.finditer(templatize(text)):
        many = _unquoted(found[3]) if found[1] and found[3] else None
        yield _unquoted(found[2]), many


def _sources(root: Path) -> Iterator[Path]:
    for app in APPS:
        yield from (p for p in (root / app).rglob("*.py") if "migrations" not in p.parts)
        yield from (root / app / "templates").rglob("*.html")
    yield from (p for p in (root / "templates").rglob("*") if p.suffix in {".html", ".txt"})


def _name(function: ast.expr) -> str:
    if isinstance(function, ast.Attribute):
        return function.attr
    return function.id if isinstance(function, ast.Name) else ""


def _literal(argument: ast.expr) -> str:
    if isinstance(argument, ast.Constant) and isinstance(argument.value, str):
        return argument.value
    return ""


def _unquoted(literal: str) -> str:
    return str(ast.literal_eval(literal))
