"""Is the shot off before the time for which a play is meant has run out?

The game clock starts when the throw-in is touched on the court (FIBA 2024, 49.2, from memory), so
a look that brings the ball in spends none of it on its flight. Without a throw-in it runs at once.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from plays.core.check.finding import Basis, PlayFinding, source_of
from plays.core.motion.timeline import SHOT, Timeline, Window
from plays.core.words.speaker import Voice
from shared.core.finding import Severity
from shared.core.language import N_

LATE: Final = N_(
    "The shot after {look} leaves the hand when {used} s have been played; the play is meant for"
    " as few as {left} s."
)
EARLIER: Final = N_("Use the play from {used} s on, or shoot from an earlier look.")


def last_shot_findings(line: Timeline, voice: Voice) -> Iterator[PlayFinding]:
    """The looks that end in a shot too late; nothing where no least time is written down."""
    conditions = line.play.conditions
    left = None if conditions is None else conditions.seconds_left_from
    if left is None:
        return
    for window in line.windows:
        used = clock_used(line, window)
        if window.look.shot and window.opens and used > left + 1e-9:
            yield _late(window, used, left, voice)


def clock_used(line: Timeline, window: Window) -> float:
    """Seconds on the game clock until a shot right after this look is off."""
    caught = window.catch(window.in_turn)
    begin = 0.0 if line.play.thrower is None else caught if window.counted else line.ball_in
    return caught - (begin or 0.0) + SHOT


def _late(window: Window, used: float, left: float, voice: Voice) -> PlayFinding:
    look = window.look
    return PlayFinding(
        "shot_late",
        Severity.WARNING,
        basis=Basis.COMPUTED,
        sentence=voice.say(
            LATE, look=voice.look(window), used=voice.number(used), left=voice.number(left)
        ),
        remedy=voice.say(EARLIER, used=voice.number(used)),
        source=source_of(voice, Basis.COMPUTED),
        roles=(look.receiver,),
        when=window.catch(window.in_turn),
        action=look.action,
        look=look.id,
    )
