"""Papers of a team as its staff gets them: what takes long is drawn by the worker first."""

from __future__ import annotations

from django.http import HttpResponse

from roster.models import Printing
from roster.sheets.papers import TAKES_LONG, Order
from shared.worker import perform
from tests.cast import Cast


def draw(cast: Cast, kind: str, paper: str = "a4", *, due: bool = False) -> Printing:
    """The worker's whole work, here and now; the row as it stands after."""
    wanted = {"kind": kind, "paper": paper, "due": due}
    row = Printing.objects.create(team=cast.team, starts=1, **wanted)
    perform(row)
    return row.read_again()


def answer_with(cast: Cast, kind: str, paper: str = "a4", *, due: bool = False) -> HttpResponse:
    """What an assistant gets who opens a paper."""
    order = Order(kind, paper, due)
    if kind in TAKES_LONG:
        draw(cast, kind, paper, due=due)
    answer = cast.client(cast.assistant).get(order.address(cast.team))
    assert isinstance(answer, HttpResponse)
    return answer
