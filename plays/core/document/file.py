"""A play as a JSON document: the file that clubs share, and the bytes a revision is known by.

Reading is strict (no unknown keys, no guessed types) and reports every problem at once, each
with its JSON pointer. Writing is canonical by RFC 8785, with defaults left out: one play has
one sequence of bytes, today and after the model has gained a field.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import MISSING, Field, fields, is_dataclass
from difflib import get_close_matches
from enum import Enum
from functools import cache
from hashlib import sha256
from typing import Any, Final, NamedTuple

from pydantic import ConfigDict, TypeAdapter, ValidationError
from pydantic_core import ErrorDetails

from plays.core import play as model
from plays.core.document.migration import carry_forward
from plays.core.document.problem import Token, problem, where
from plays.core.document.schema import document_schema
from plays.core.document.strict import NOT_A_PLACE, Unreadable, plain_object
from plays.core.limits import DIGITS
from plays.core.play import VERSION, Play
from shared.core.finding import Finding
from shared.core.language import ENGLISH, N_, Language

VERSION_KEY: Final = "coachbook_play"

NO_VERSION: Final = N_("This is no play file: it does not begin with “{key}” and a version.")
NEWER: Final = N_(
    "This file was written by a newer Coachbook: its format is {found}, and this one reads {known}."
)
MISSING_KEY: Final = N_("“{key}” is missing in {place}.")
UNKNOWN_KEY: Final = N_("“{key}” means nothing in {place}.")
NEAR_KEY: Final = N_("“{key}” means nothing in {place}. Did you mean “{near}”?")
NO_CHOICE: Final = N_("{place} is “{found}”; it can be {choices}.")
NO_TEXT: Final = N_("{place} must be a text in quotation marks.")
NO_NUMBER: Final = N_("{place} must be a number.")
NO_WHOLE: Final = N_("{place} must be a whole number.")
NO_FLAG: Final = N_("{place} must be true or false.")
NO_LIST: Final = N_("{place} must be a list in brackets.")
NO_OBJECT: Final = N_("{place} must be an object in braces.")
NO_SENSE: Final = N_("{place} cannot be read.")

_TYPES: Final = {
    "string_type": ("type", NO_TEXT),
    "float_type": ("type", NO_NUMBER),
    "int_type": ("type", NO_WHOLE),
    "int_from_float": ("type", NO_WHOLE),
    "bool_type": ("type", NO_FLAG),
    "tuple_type": ("type", NO_LIST),
    "dataclass_type": ("type", NO_OBJECT),
    "named_tuple_type": ("place", NOT_A_PLACE),
    "too_long": ("place", NOT_A_PLACE),
}


class BadPlay(ValueError):  # noqa: N818 (the name all parts know it by)
    """The document cannot be read as a play; ``problems`` lists everything that is wrong."""

    def __init__(self, problems: tuple[Finding, ...]) -> None:
        super().__init__("\n".join(f"{p.place or '/'}: {p.sentence}" for p in problems))
        self.problems = problems


class Written(NamedTuple):
    """A play put into writing, once for everybody who needs the document or its hash."""

    play: Play
    document: dict[str, Any]
    content_hash: str


class Draft(NamedTuple):
    """What a reading found: the play if it can be built, the plain values, the problems."""

    play: Play | None
    values: Mapping[str, Any]
    problems: tuple[Finding, ...]


def read_play(data: bytes | str | Mapping[str, Any], language: Language = ENGLISH) -> Play:
    """The play in a document of this or an older version. Raises BadPlay.

    Whether the play makes sense is another question: see ``problems``.
    """
    draft = read_draft(data, language)
    if draft.play is None or draft.problems:
        raise BadPlay(draft.problems)
    return draft.play


def read_draft(data: bytes | str | Mapping[str, Any], language: Language = ENGLISH) -> Draft:
    """Like ``read_play``, but never raises: the problems are part of the answer.

    Pointers lead into the document as this version writes it.
    """
    try:
        found, odd = plain_object(data, language)
    except Unreadable as error:
        return Draft(None, {}, (error.problem,))
    wrong = _version_problem(found, language)
    if wrong is not None:
        return Draft(None, found, (wrong, *odd))
    values = carry_forward(found, found.pop(VERSION_KEY))
    play, ill = _built(values, language)
    reported = {problem.place for problem in odd}
    return Draft(play, values, (*odd, *(p for p in ill if p.place not in reported)))


def read_own(document: Mapping[str, Any]) -> Play:
    """The play in a document that ``to_json`` wrote: read without suspicion, so in little time.

    One of another version, or that does not fit after all, is read like anybody's. Raises BadPlay.
    """
    values = dict(document)
    if values.pop(VERSION_KEY, None) == VERSION:
        try:
            return adapter().validate_python([values])[0]
        except ValidationError:
            pass  # what is wrong is said by the reader that looks for it
    return read_play(document)


def from_json(document: Mapping[str, Any]) -> Play:
    """The inverse of ``to_json``. Raises BadPlay."""
    return read_play(document)


def to_json(play: Play) -> dict[str, Any]:
    """The document as plain values, in the order of the model, without defaults."""
    return {VERSION_KEY: VERSION, **_plain(play)}


def write_play(play: Play) -> bytes:
    """The canonical bytes of a play: RFC 8785, so sorted keys, no spaces, UTF-8."""
    return canonical(to_json(play))


def write_readable(play: Play) -> bytes:
    """The same document for people: the order of the model, one line for each small thing."""
    return (readable(to_json(play)) + "\n").encode()


def content_hash(play: Play) -> str:
    """SHA-256 of what the play says, in hexadecimal.

    The ``key`` does not count: the same play under another key is the same content.
    """
    return written(play).content_hash


def written(play: Play) -> Written:
    """The play, its document and its content hash, put into writing once for all three."""
    document = to_json(play)
    said = {name: value for name, value in document.items() if name != "key"}
    return Written(play, document, sha256(canonical(said)).hexdigest())


def canonical(values: Any) -> bytes:
    """RFC 8785 bytes of plain values whose numbers have few digits and whose keys are ASCII."""
    return json.dumps(
        values, ensure_ascii=False, allow_nan=False, sort_keys=True, separators=(",", ":")
    ).encode()


def readable(values: Any, indent: str = "") -> str:
    """JSON with short lists and objects on one line of up to 100 characters."""
    line = json.dumps(values, ensure_ascii=False)
    if len(indent) + len(line) <= 100 or not values or not isinstance(values, dict | list):
        return line
    deeper = indent + "  "
    if isinstance(values, list):
        items, ends = [readable(item, deeper) for item in values], "[]"
    else:
        items, ends = [f"{json.dumps(k)}: {readable(v, deeper)}" for k, v in values.items()], "{}"
    return f"{ends[0]}\n" + ",\n".join(deeper + item for item in items) + f"\n{indent}{ends[1]}"


def json_schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of a play document, made from the model."""
    return document_schema(adapter().json_schema(), VERSION_KEY)


def schema_text() -> str:
    """The schema as it is published in plays/schema/play.schema.json."""
    return json.dumps(json_schema(), indent=2, ensure_ascii=False) + "\n"


@cache
def adapter() -> TypeAdapter[tuple[Play]]:
    """The strict reader of a tuple of one: a tuple hands its configuration down to all it holds."""
    return TypeAdapter(tuple[Play], config=ConfigDict(extra="forbid", allow_inf_nan=False))


def _version_problem(found: Mapping[str, Any], language: Language) -> Finding | None:
    version, at = found.get(VERSION_KEY), (VERSION_KEY,)
    if not isinstance(version, int) or isinstance(version, bool) or version < 0:
        return problem(at, "no_version", language, NO_VERSION, key=VERSION_KEY)
    if version > VERSION:
        return problem(at, "newer", language, NEWER, found=version, known=VERSION)
    return None


def _built(
    values: Mapping[str, Any], language: Language
) -> tuple[Play | None, tuple[Finding, ...]]:
    try:
        (play,) = adapter().validate_json(json.dumps([values]), strict=True)
    except ValidationError as error:
        details = _without_echoes(error.errors(include_url=False))
        return None, tuple(dict.fromkeys(_said(detail, language) for detail in details))
    return play, ()


def _without_echoes(details: list[ErrorDetails]) -> list[ErrorDetails]:
    """A misspelt key is one fault: the right one is not reported missing beside it."""
    meant = {
        (*detail["loc"][:-1], near)
        for detail in details
        if detail["type"] == "unexpected_keyword_argument"
        for near in _near(str(detail["loc"][-1]))
    }
    return [
        detail for detail in details if detail["type"] != "missing" or detail["loc"] not in meant
    ]


def _said(detail: ErrorDetails, language: Language) -> Finding:
    """One of the reader's own messages, as a coach would put it."""
    at: tuple[Token, ...] = detail["loc"][1:]
    kind = detail["type"]
    if kind == "missing" and isinstance(at[-1], int):  # half a place
        at, kind = at[:-1], "too_long"
    if kind in ("missing", "unexpected_keyword_argument"):
        return _key_said(kind, at, language)
    if kind in ("enum", "literal_error"):
        return _choice_said(detail, at, language)
    code, template = _TYPES.get(kind, ("unreadable", NO_SENSE))
    return problem(at, code, language, template)


def _key_said(kind: str, at: tuple[Token, ...], language: Language) -> Finding:
    slots = {"key": str(at[-1]), "place": where(at[:-1], language)}
    if kind == "missing":
        return problem(at, "missing", language, MISSING_KEY, **slots)
    near = _near(slots["key"])
    if near:
        return problem(at, "unknown_key", language, NEAR_KEY, near=near[0], **slots)
    return problem(at, "unknown_key", language, UNKNOWN_KEY, **slots)


def _near(key: str) -> list[str]:
    """The known key that was probably meant, if any."""
    return get_close_matches(key, known_keys(), n=1, cutoff=0.7)


def _choice_said(detail: ErrorDetails, at: tuple[Token, ...], language: Language) -> Finding:
    found = detail["input"]
    shown = found if isinstance(found, str) else json.dumps(found, ensure_ascii=False)
    expected = detail["ctx"]["expected"].replace(" or ", ", ").replace("'", "").split(", ")
    choices = language.any_of(expected)
    return problem(at, "choice", language, NO_CHOICE, found=shown[:40], choices=choices)


@cache
def known_keys() -> tuple[str, ...]:
    """Every key that some part of a play has."""
    kinds = [kind for kind in vars(model).values() if is_dataclass(kind)]
    return tuple(sorted({field.name for kind in kinds for field in fields(kind)}))


def _plain(value: Any) -> Any:
    """Dataclasses as objects without their defaults, tuples as lists, numbers to a thousandth."""
    if isinstance(value, Enum):
        return value.value
    if is_dataclass(value):
        held = ((field, _plain(getattr(value, field.name))) for field in fields(value))
        return {field.name: plain for field, plain in held if not _idle(field, plain)}
    if isinstance(value, tuple):
        return [_plain(item) for item in value]
    if isinstance(value, float):
        kept = round(value, DIGITS)
        return int(kept) if kept.is_integer() else kept
    return value


def _idle(field: Field[Any], plain: Any) -> bool:
    return field.default is not MISSING and bool(plain == _plain(field.default))
