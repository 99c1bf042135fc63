"""How much a play may hold: our own limits, so that no file can choke the computing.

``Range`` and ``Words`` stand as metadata on the fields of ``play``. The checks of form read them
there, and pydantic publishes them in the JSON Schema. Reading does not refuse by them: a draft
with a number too large is still a play, and its author is told all that is wrong at once.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final, NamedTuple

MAX_BYTES: Final = 256 * 1024
MAX_DEPTH: Final = 10
MAX_ITEMS: Final = 100  # in any one list
MAX_ACTIONS: Final = 250  # in the play and its counters together
MAX_TEXT: Final = 2000  # characters in any one text
MAX_NAME: Final = 60  # characters in an id, a key, a name or a title
KEY_PATTERN: Final = r"[a-z0-9_-]+"
MAX_NUMBER: Final = 1_000_000.0
DIGITS: Final = 3  # the millimetre, and the thousandth of a second

Published = dict[str, Any]


class Range(NamedTuple):
    """Of a number: from and to, both inclusive."""

    low: float
    high: float

    def __get_pydantic_json_schema__(
        self, core: Any, handler: Callable[[Any], Published]
    ) -> Published:
        return handler(core) | {"minimum": self.low, "maximum": self.high}


class Words(NamedTuple):
    """Of a text: the most characters, and whether it must say something."""

    most: int = MAX_TEXT
    needed: bool = False

    def __get_pydantic_json_schema__(
        self, core: Any, handler: Callable[[Any], Published]
    ) -> Published:
        loud = {"pattern": r"\S"} if self.needed else {}
        return handler(core) | loud | {"maxLength": self.most}
