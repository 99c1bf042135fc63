"""The JSON Schema of a play: shape and bounds from the model, the rest from ``limits``."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final

from plays.core.limits import KEY_PATTERN, MAX_ITEMS, MAX_NUMBER, MAX_TEXT
from plays.core.play import VERSION

DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"
NAME: Final = f"urn:coachbook:play:{VERSION}"
PLACE: Final = "A place on or beside the court, in metres: across, up the court."

Schema = dict[str, Any]


def document_schema(made: Schema, version_key: str) -> Schema:
    """The schema of one document, from the raw schema of a tuple that holds one play."""
    kinds: dict[str, Schema] = dict(made["$defs"])
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
