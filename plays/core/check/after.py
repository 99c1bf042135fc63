"""What is found in a rotation that is kept for some looks: in its own actions and looks alone.

The play runs in several ways then. What all of them have in common is told once, of the first.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from plays.core.check.finding import PlayFinding
from plays.core.defence.verdict import Verdict
from plays.core.motion.clock import timeline
from plays.core.motion.pace import Pace
from plays.core.motion.timeline import Timeline
from plays.core.play import Play, Role
from plays.core.sequence.after_look import ways


@dataclass(frozen=True, slots=True)
class OwnWay:
    """A further way of a play: the actions, and the looks at them, that no way before it has."""

    play: Play
    actions: frozenset[str]
    looks: frozenset[str]

    def own(self, findings: Iterable[PlayFinding]) -> Iterator[PlayFinding]:
        """Of what was found with this way, that about its own looks and actions."""
        for finding in findings:
            by_action = finding.look is None and finding.action in self.actions
            if finding.look in self.looks or by_action:
                yield finding

    def with_own(self, line: Timeline) -> Timeline:
        """The timeline of this way with the looks that are to be judged alone: its own, and those
        by which their passers have the ball."""
        wanted = set(self.looks)
        for window in reversed(line.windows):
            if window.look.id in wanted and window.given is not None:
                wanted.add(window.given)
        kept = (window for window in line.windows if window.look.id in wanted)
        return replace(line, windows=tuple(kept))

    def verdicts(self, found: Iterable[Verdict]) -> tuple[Verdict, ...]:
        """The verdicts on its own looks."""
        return tuple(verdict for verdict in found if verdict.look in self.looks)


def further_ways(play: Play) -> tuple[OwnWay, ...]:
    """Every way after the first; none of a play that runs in one."""
    first, *others = ways(play)
    known = {action.id for action in first.actions()}
    found = []
    for way in others:
        own = frozenset(action.id for action in way.actions() if action.id not in known)
        looks = frozenset(look.id for look in way.looks if look.action in own)
        found.append(OwnWay(way, own, looks))
        known |= own
    return tuple(found)


def lines_of(
    play: Play, pace: Pace, paces: Mapping[Role, Pace] | None = None
) -> tuple[tuple[Timeline, frozenset[str]], ...]:
    """What is judged of a play: its first way, then each further one that has looks of its own;
    with the looks, by id, of which the verdicts count.

    Raises as ``timeline`` does.
    """
    first = timeline(play, pace, paces)
    own = [way for way in further_ways(play) if way.looks]
    return (
        (first, frozenset(window.look.id for window in first.windows)),
        *((way.with_own(timeline(way.play, pace, paces)), way.looks) for way in own),
    )


def by_play(
    judged: Iterable[tuple[Verdict, ...]],
    groups: Iterable[Iterable[tuple[Timeline, frozenset[str]]]],
) -> list[tuple[Verdict, ...]]:
    """The verdicts on every line of ``lines_of``, one after the other, as those on each play."""
    rest = iter(judged)
    return [
        tuple(verdict for _, looks in group for verdict in next(rest) if verdict.look in looks)
        for group in groups
    ]
