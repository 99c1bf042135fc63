"""Which of a play's calls is tuned, and what a change on it means for the others.

All calls are one document: what is changed for one is changed where its people and places stand
in the document, and so on every call. So the other calls are weighed, too, and none may lose.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from plays.core.moves.variants import all_calls, calls_by_jobs, jobs_of
from plays.core.play import Play, Role, Swap
from plays.core.tune.changes import Change, Plan, Shift, applied, plan_of


@dataclass(frozen=True, slots=True)
class TunedCall:
    """A play with the place of the call that is tuned: 0 the first, n its n-th variant.

    Raises IndexError where the play has no such call.
    """

    document: Play
    call: int = 0

    @property
    def play(self) -> Play:
        """The play as this call runs it."""
        return all_calls(self.document)[self.call]

    def written(self, plan: Plan) -> Play:
        """The document with a plan that was found on ``play``."""
        if not self.call:
            return applied(self.document, plan)
        return applied(self.document, plan_of(self._carried(change) for change in plan))

    def beside(self, plan: Plan = ()) -> tuple[Play, ...]:
        """What the plan makes of the calls whose looks may fare otherwise than ``play``'s."""
        own = jobs_of(self.document, self.call)
        calls = calls_by_jobs(self.written(plan))
        return tuple(play for jobs, play in calls.items() if jobs != own)

    def _carried(self, change: Change) -> Change:
        """One change as the document has it; undone by itself."""
        if not isinstance(change, Shift):
            return change
        variant = self.document.variants[self.call - 1]
        right = -change.right if variant.mirror else change.right
        whose = _whose(change.id, variant.swaps) if change.what == "start" else change.id
        return replace(change, id=whose, right=right)


def _whose(role: Role | str, swaps: tuple[Swap, ...]) -> str:
    """Who has this role's start in the document: whose job it is, unless they keep their own."""
    for swap in swaps:
        if role in (swap.one, swap.other) and not swap.stay:
            return swap.other if role == swap.one else swap.one
    return role
