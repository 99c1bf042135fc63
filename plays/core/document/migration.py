"""Carry older play documents forward, one version at a time.

Each step takes and gives plain JSON values. A step never refuses: what it cannot make sense
of it leaves as it is, and the strict reading that follows names it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final

from plays.core.play import VERSION

Document = dict[str, Any]


def carry_forward(document: Mapping[str, Any], version: int) -> Document:
    """The document as this version writes it. Raises KeyError for an unknown version."""
    carried = dict(document)
    while version < VERSION:
        carried = _STEPS[version](carried)
        version += 1
    return carried


def _from_draft(document: Document) -> Document:
    """Version 0, our draft, to 1.

    It wrote the starts as one place per role, one ``after`` in place of the cues ("signal" or
    an action), how often a look is there in per cent, and the NFHS courts by their feet.
    """
    carried = dict(document)
    if isinstance(carried.get("starts"), Mapping):
        carried["starts"] = [{"role": role, "at": at} for role, at in carried["starts"].items()]
    if carried.get("court") in ("84 ft", "94 ft"):
        carried["court"] = "NFHS" if carried["court"] == "84 ft" else "NFHS_94"
    for key, step in (("phases", _phase_from_draft), ("looks", _look_from_draft)):
        if key in carried:
            carried[key] = _each(carried[key], step)
    return carried


def _phase_from_draft(phase: Document) -> Document:
    if "actions" not in phase:
        return phase
    return phase | {"actions": _each(phase["actions"], _action_from_draft)}


def _action_from_draft(action: Document) -> Document:
    carried = dict(action)
    after = carried.pop("after", None)
    if after is not None:
        cue = {"on": "signal"} if after == "signal" else {"on": "end", "action": after}
        carried["cues"] = [cue]
    return carried


def _look_from_draft(look: Document) -> Document:
    carried = dict(look)
    share = carried.pop("per_cent", None)
    if share is not None:
        carried["guess"] = share / 100 if _is_number(share) else share
    return carried


def _each(items: Any, step: Callable[[Document], Document]) -> Any:
    if not isinstance(items, list):
        return items
    return [step(item) if isinstance(item, dict) else item for item in items]


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


_STEPS: Final[Mapping[int, Callable[[Document], Document]]] = {0: _from_draft}
