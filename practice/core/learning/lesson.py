"""What a game may say about practice."""

from __future__ import annotations

from enum import StrEnum


class GameLesson(StrEnum):
    """Why something goes on the list; in the order in which it is told."""

    FIVE_SECONDS = "five_seconds"
    BROKEN = "broken"
    ERRED = "erred"
    NO_LOOK = "no_look"
