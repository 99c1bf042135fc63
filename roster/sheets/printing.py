"""Papers of a team made in the background: seconds of drawing are no part of a request."""

from __future__ import annotations

from typing import Final

from django.db import transaction

from roster.models import Printing, Team
from roster.sheets.papers import NothingToPrintError, Order
from shared.core.language import N_
from shared.worker import Facts, Pulse, WorkError, launch, look_after

NOTHING = N_("There is nothing to print: nobody has a role in these plays.")
NOT_KEPT = N_("The file could not be kept: the team was changed, or the disk is full. Try again.")

MOST_MADE: Final = 3  # how often a file is made while the team changes


class _StoppedError(Exception):
    """Somebody pressed stop."""


@transaction.atomic
def begin(team: Team, order: Order) -> Printing:
    """Start to make a file; one that is being made is not begun twice, but answered with."""
    team = Team.objects.select_for_update().get(pk=team.pk)
    wanted = {"kind": order.kind, "paper": order.paper, "due": order.due}
    going = team.printings.filter(state=Printing.State.RUNNING, **wanted).first()
    if going is not None:
        return going
    team.printings.exclude(state=Printing.State.RUNNING).delete()
    made = Printing.objects.create(team=team, **wanted)
    launch(made)
    return made


def latest_of(team: Team) -> Printing | None:
    """The file that the page tells of."""
    latest = team.printings.first()
    return latest and look_after(latest)


def order_for(row: Printing) -> Order:
    """What was asked for."""
    return Order(row.kind, row.paper, row.due)


def work(row: Printing, pulse: Pulse) -> Facts:
    """Make the file, which is then kept for whoever opens it.

    What changed meanwhile, such as a player who was erased, is not in it: then it is made again.
    """
    order = order_for(row)
    total = max(1, row.team.players.present().count())

    def tell(done: int) -> None:
        if not pulse.report(share=min(0.99, done / total)):
            raise _StoppedError

    try:
        for _ in range(MOST_MADE):
            order.file(row.team, tell)
            if order.is_ready(row.team):
                return {"share": 1.0}
    except NothingToPrintError:
        raise WorkError(NOTHING) from None
    except _StoppedError:
        return {}
    raise WorkError(NOT_KEPT)
