"""The five: for the bench, with one thumb."""

from __future__ import annotations

import io

from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.utils.text import slugify
from django.views.decorators.http import require_safe

from roster.access import may_coach, team_for
from roster.cast.loaded import team_cast
from roster.cast.page import team_note
from roster.core.paper.bench_pdf import write_bench_card
from roster.core.paper.grid_pdf import PAPERS, write_grid
from roster.coverage.five import bench
from roster.coverage.paper import bench_columns, grid_sheet, plays_dated
from roster.models import Team
from shared.access import user_of
from shared.core.numbers import whole_number
from shared.pages import page


@require_safe
def the_five(request: HttpRequest, pk: int) -> HttpResponse:
    """Pick five: the plays they can run, who does what, and why not the others."""
    user = user_of(request)
    team = team_for(user, pk)
    known = team_cast(team)
    found = bench(
        known,
        _numbers(request.GET.getlist("on")),
        _numbers(request.GET.get("was", "").split("-")),
        fresh="was" not in request.GET and "on" not in request.GET,
    )
    units = [
        (unit.name, [member.pk for member in unit.members.all()])
        for unit in team.units.prefetch_related("members")
    ]
    context = {
        "team": team,
        "section": "five",
        "bench": found,
        "known": known,
        "units": units,
        "too_few": team_note(known),
        "may_coach": may_coach(user, team),
    }
    return page(request, "roster/five.html", context)


@require_safe
def bench_card(request: HttpRequest, pk: int) -> HttpResponse:
    """The plays of the team's units, or of the five asked for, on one page."""
    team = team_for(user_of(request), pk)
    known = team_cast(team)
    today, columns = timezone.localdate(), bench_columns(known, _numbers(request.GET.getlist("on")))
    out = io.BytesIO()
    write_bench_card(
        columns,
        out,
        team=str(team),
        made_on=today,
        paper=_paper(request),
        language=known.language,
        plays=plays_dated(known, today),
    )
    return _pdf(out, team, "bench")


@require_safe
def cast_pdf(request: HttpRequest, pk: int) -> HttpResponse:
    """The grid of the cast on one page."""
    team = team_for(user_of(request), pk)
    known = team_cast(team)
    out = io.BytesIO()
    write_grid(
        grid_sheet(known, timezone.localdate()), out, paper=_paper(request), language=known.language
    )
    return _pdf(out, team, "cast")


def _numbers(texts: list[str]) -> list[int]:
    return [number for text in texts if (number := whole_number(text)) is not None]


def _paper(request: HttpRequest) -> str:
    wanted = request.GET.get("paper", "a4")
    return wanted if wanted in PAPERS else "a4"


def _pdf(out: io.BytesIO, team: Team, name: str) -> HttpResponse:
    response = HttpResponse(out.getvalue(), content_type="application/pdf")
    response.headers["Content-Disposition"] = f'inline; filename="{slugify(team.name)}-{name}.pdf"'
    return response
