"""The gestures that a browser sends, read strictly."""

from __future__ import annotations

import json
from functools import cache
from typing import Any, Final

from pydantic import ConfigDict, TypeAdapter

from plays.core.document.file import read_play
from plays.core.editing.commands import (
    Act,
    AddCounter,
    AddPhase,
    Bend,
    Command,
    JoinScreens,
    MovePoint,
    OpenGate,
    OrderLooks,
    Place,
    RemoveAction,
    RemoveCounter,
    RemovePhase,
    RenamePhase,
    Restore,
    SetAfter,
    SetCue,
    SetHow,
    SetOther,
    SetWhose,
    Stand,
)

KINDS: Final[dict[str, type[Any]]] = {
    "place": Place,
    "stand": Stand,
    "act": Act,
    "gate": OpenGate,
    "move": MovePoint,
    "bend": Bend,
    "cue": SetCue,
    "other": SetOther,
    "how": SetHow,
    "join": JoinScreens,
    "looks": OrderLooks,
    "phase": AddPhase,
    "counter": AddCounter,
    "rename": RenamePhase,
    "after": SetAfter,
    "remove": RemoveAction,
    "remove_phase": RemovePhase,
    "remove_counter": RemoveCounter,
    "whose": SetWhose,
}


class UnreadableError(ValueError):
    """The text is no gesture that this edition knows."""


def command_of(text: str) -> Command:
    """The command in a JSON object whose "do" names its kind. Raises UnreadableError."""
    try:
        found = json.loads(text)
        kind = found.pop("do")
        if kind == "restore":
            return Restore(read_play(found["play"]))
        command: Command = _reader(kind).validate_json(json.dumps([found]), strict=True)[0]
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError) as wrong:
        raise UnreadableError from wrong
    return command


@cache
def _reader(kind: str) -> TypeAdapter[Any]:
    """Raises KeyError for an unknown kind."""
    config = ConfigDict(extra="forbid", allow_inf_nan=False)
    wrapped: Any = tuple.__class_getitem__(KINDS[kind])  # hands the configuration down
    return TypeAdapter(wrapped, config=config)
