"""The JSON Schema of a play document: shape from the model, bounds from ``limits``."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final

from plays.core.document.limits import (
    KEY_PATTERN,
    LENGTHS,
    LOUD,
    MAX_ITEMS,
    MAX_NUMBER,
    MAX_TEXT,
    RANGES,
)
from plays.core.play import VERSION

DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"
NAME: Final = f"urn:coachbook:play:{VERSION}"
PLACE: Final = "A place on or beside the court, in metres: across, up the court."

Schema = dict[str, Any]


def document_schema(made: Schema, version_key: str) -> Schema:
    """The schema of one document, from the raw schema of a tuple that holds one play."""
    kinds: dict[str, Schema] = dict(made["$defs"])
    for name, kind in kinds.items():
        _bound(name, kind)
    kinds["Point"]["description"] = PLACE
    for part in _parts(list(kinds.values())):
        _tidy(part)
    play = kinds.pop("Play")
    play["properties"]["key"]["pattern"] = f"^{KEY_PATTERN}$"
    return {
        "$schema": DIALECT,
        "$id": NAME,
        "title": "Play",
        "description": play["description"],
        "type": "object",
        "properties": {version_key: {"const": VERSION}} | play["properties"],
        "required": [version_key, *play["required"]],
        "additionalProperties": False,
        "$defs": kinds,
    }


def _bound(kind: str, schema: Schema) -> None:
    """Write the ranges and the texts that may not be empty into one definition."""
    for key, part in schema.get("properties", {}).items():
        limits = RANGES.get((kind, key))
        if limits is not None:
            number = _branch(part, ("number", "integer"))
            number["minimum"], number["maximum"] = limits
        if (kind, key) in LOUD:
            part["pattern"] = r"\S"
        if (kind, key) in LENGTHS:
            part["maxLength"] = LENGTHS[kind, key]


def _branch(part: Schema, types: tuple[str, ...]) -> Schema:
    """The part itself, or that alternative of it which has one of the types."""
    return next(p for p in (part, *part.get("anyOf", ())) if p.get("type") in types)


def _parts(schemas: list[Any]) -> Iterator[Schema]:
    """Every schema inside these, themselves included."""
    left = list(schemas)
    while left:
        schema = left.pop()
        if isinstance(schema, dict):
            yield schema
            left.extend(schema.get("properties", {}).values())
            left.extend(schema.get("anyOf", ()))
            left.extend(schema.get("prefixItems", ()))
            left.append(schema.get("items"))


def _tidy(part: Schema) -> None:
    """Take out the titles that only repeat a name; bound every text, list and number."""
    part.pop("title", None)
    kind = part.get("type")
    if kind == "string" and "enum" not in part:
        part.setdefault("maxLength", MAX_TEXT)
    elif kind == "array" and "prefixItems" not in part:
        part["maxItems"] = MAX_ITEMS
    elif kind in ("number", "integer"):
        part.setdefault("minimum", -MAX_NUMBER)
        part.setdefault("maximum", MAX_NUMBER)
    if "description" in part:
        part["description"] = " ".join(part["description"].replace("``", "`").split())
