"""The count strip as pages show it: wide and narrow, and the same moments in words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Final

from django.utils.safestring import SafeString

from plays.core.check.begun import begun_further
from plays.core.check.check import Report
from plays.core.check.moments import Happening, moments, numbers
from plays.core.check.setting import Setting, line_of, usual_defence
from plays.core.document.form import problems
from plays.core.drawing.strip import count_strip
from plays.core.drawing.strip_picture import strip_picture
from plays.core.motion.timeline import Timeline
from plays.core.play import Play, Role
from plays.core.words.speaker import Voice
from plays.play.page import svg_of
from shared.core.language import Language

WIDE: Final = 760.0  # points: on a desk
BESIDE: Final = 400.0  # points: under the court that is drawn on
NARROW: Final = 224.0  # points: on a phone, where a picture is 1.4 times as wide


@dataclass(frozen=True, slots=True)
class StripView:
    wide: SafeString
    narrow: SafeString
    moments: tuple[Happening, ...]
    further: Mapping[str, int] = field(default_factory=dict)  # numbers after other looks

    @property
    def numbers(self) -> dict[str, int]:
        """The number of each action, as its diagram shows it."""
        return {**numbers(self.moments), **self.further}

    @property
    def lines(self) -> list[tuple[int | None, Happening]]:
        """The moments with the number of their action."""
        known = self.numbers
        return [(known.get(each.action), each) for each in self.moments]


def strip_view(
    play: Play,
    line: Timeline,
    names: Mapping[Role, str],
    language: Language,
    report: Report | None = None,
    *,
    wide: float = WIDE,
) -> StripView:
    """The strip of a timeline; with a report its looks are judged and its findings marked.

    ``wide`` is how many points the larger picture measures.
    """
    strip = count_strip(line, report)
    shown: dict[str, Any] = {"names": names, "scheme": "page", "language": language}
    return StripView(
        wide=svg_of(strip_picture(strip, play.name, width=wide, **shown), "strip"),
        narrow=svg_of(strip_picture(strip, play.name, width=NARROW, **shown), "strip-narrow"),
        moments=moments(line, Voice(language, names)),
    )


def plain_strip(play: Play, names: Mapping[Role, str], language: Language) -> StripView | None:
    """The strip at the play's own level; None for a play whose form is faulty."""
    if problems(play, language):
        return None
    setting = Setting(play.level, defence=usual_defence(play))
    view = strip_view(play, line_of(play, setting), names, language)
    return replace(view, further=begun_further(play, setting))
