"""The search for a cast in a process of its own: ``python -m roster.casting_worker``.

Reads one pickled (question, seconds) from standard input, which only its parent writes, and
says where it stands in lines of JSON: {"kind": "beat"} every second, {"kind": "progress", ...}
after every piece, {"kind": "answer", ...} at the end. It opens no database and knows no Django;
when its parent is gone, the next line finds nobody and it ends.
"""

from __future__ import annotations

import json
import os
import pickle
import sys
import threading
import time
from typing import Any

from roster.core.cast import Cast
from roster.core.casting.question import CastingQuestion
from roster.core.casting.search import Progress, casting

BEAT = 1.0  # seconds

_speaking = threading.Lock()


def main() -> None:
    question, seconds = pickle.load(sys.stdin.buffer)  # noqa: S301 - see above
    threading.Thread(target=_beat, daemon=True).start()
    _answer(question, seconds)


def _answer(question: CastingQuestion, seconds: float) -> None:
    found = casting(question, seconds, time.monotonic, on_progress=_progress)
    _say(
        kind="answer",
        ending=found.ending.value,
        cast=_rows(found.cast),
        value=found.value,
        bound=found.bound,
        conflict=[list(lock) for lock in found.conflict],
    )


def _progress(progress: Progress) -> None:
    _say(
        kind="progress",
        stage=progress.stage.value,
        cast=_rows(progress.cast),
        value=progress.value,
        bound=progress.bound,
        seconds=progress.seconds,
    )


def _rows(cast: Cast) -> list[list[Any]]:
    return [list(assignment) for assignment in cast.assignments]


def _beat() -> None:
    while True:
        time.sleep(BEAT)
        _say(kind="beat")


def _say(**message: Any) -> None:
    with _speaking:
        try:
            sys.stdout.write(json.dumps(message) + "\n")
            sys.stdout.flush()
        except OSError:
            os._exit(1)


if __name__ == "__main__":
    main()
