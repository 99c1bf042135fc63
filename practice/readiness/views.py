"""Readiness: the grid, one curve with what it is made of, and the club's parameters."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import timedelta
from typing import Any

from django.contrib import messages
from django.db.models import prefetch_related_objects
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.translation import get_language
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from plays.core.play import role_of
from plays.play.page import svg_of
from practice.bridge import moment
from practice.core.readiness.assumptions import ORIGINS, Assumptions, to_json
from practice.core.readiness.bar import bar_costs
from practice.core.readiness.cell import Contribution, Readiness, in_hundred
from practice.core.readiness.picture import NARROW, curve_picture
from practice.core.reps.called import game_of
from practice.models import Game, Practice, ReadinessSettings
from practice.parameters import chosen, in_force, settings_row
from practice.readiness import calibrating
from practice.readiness.forms import AssumptionsForm
from practice.readiness.page import PersonLine, before, coming_games, team_readiness
from practice.reps.sums import reps_by_call
from roster.access import entry_for, player_for, team_for
from roster.quiz.store import recalled
from shared.access import require, user_of
from shared.core.numbers import hundredths
from shared.models import User
from shared.once import atomic_post
from shared.pages import page, status_of
from shared.record import note_change
from shared.speech import language_now


@require_safe
def readiness(request: HttpRequest, pk: int) -> HttpResponse:
    """Players by plays, today or on game day, and what is due before the next game."""
    team = team_for(user_of(request), pk)
    now = timezone.localtime()
    games = coming_games(team, now)
    game = next((g for g in games if str(g.pk) == request.GET.get("game")), None)
    on = moment(game.date, game.start) if game else now
    loaded = team_readiness(team)
    rows, next_game = loaded.rows(on), game or next(iter(games), None)
    speech = language_now()
    fives = loaded.fives(before(next_game, now)) if next_game else []
    context = {
        "team": team,
        "section": "readiness",
        "games": games[:6],
        "game": game,
        "on": on,
        "entries": loaded.entries,
        "rows": rows,
        "people": [PersonLine(who, tuple(c for c in cells if c)) for who, cells in rows],
        "fives": [
            (line, None if line.chance is None else in_hundred(line.chance, speech))
            for line in fives
        ],
        "ready_plays": [line.entry.spoken() for line in fives if line.is_ready],
        "next_game": next_game,
        "ready": hundredths(loaded.assumptions.ready),
        "five_at_the_bar": in_hundred(loaded.assumptions.ready**5, speech),
        "calibration": _calibration(),
    }
    return page(request, "practice/readiness.html", context)


@require_safe
def curve(request: HttpRequest, pk: int, entry: int, role: str) -> HttpResponse:
    """One player in one role of one play over time, and what every practice adds."""
    user = user_of(request)
    player, play = player_for(user, pk), entry_for(user, entry)
    prefetch_related_objects([play], "castings__player")
    place = role_of(role)
    if place is None or play.team_id != player.team_id:
        raise Http404
    team, now = player.team, timezone.localtime()
    loaded = team_readiness(team)
    near = Game.objects.filter(
        team=team, cancelled=False, date__lte=now.date() + timedelta(days=28)
    )
    plot = loaded.plot(player, play, place, now, list(near))
    speech = language_now()
    found = loaded.of(player, play, place, now)
    context = {
        "team": team,
        "section": "readiness",
        "player": player,
        "play": play,
        "role": role,
        "found": found,
        "standing": loaded.mark(player, play, place, now),
        "last": found.contributions[-1].held if found.contributions else None,
        "percent": hundredths(found.value),
        "ready": hundredths(loaded.assumptions.ready),
        "svg": svg_of(curve_picture(plot, "page", speech), "curve"),
        "narrow": svg_of(curve_picture(plot, "page", speech, width=NARROW), "narrow"),
        "lines": _curve_lines(found),
        "calls": [(play.heard(call), n) for call, n in reps_by_call(player, play, place)],
        "calibration": _calibration(),
        "recalled": recalled(player, play, place, now),
    }
    return page(request, "practice/curve.html", context)


def _curve_lines(
    found: Readiness,
) -> list[tuple[Practice | None, Game | None, Contribution, int, int]]:
    """What each practice or game added, the newest first, with its clean reps and its errors."""
    games = {c.practice: game_of(c.practice) for c in found.contributions}
    held = Practice.objects.in_bulk([int(key) for key, game in games.items() if game is None])
    played = Game.objects.in_bulk([game for game in games.values() if game is not None])
    return [
        (
            held.get(int(c.practice)) if games[c.practice] is None else None,
            played.get(games[c.practice]),
            c,
            sum(c.clean.values()),
            sum(c.errors.values()),
        )
        for c in reversed(found.contributions)
    ]


@require_http_methods(["GET", "POST"])
@atomic_post
def assumptions(request: HttpRequest) -> HttpResponse:
    """Every parameter with where it comes from; who runs the club may change them."""
    user = user_of(request)
    if request.method == "POST":
        require(user.runs_club)
    row = settings_row(held=request.method == "POST")
    data = request.POST if request.method == "POST" else None
    form = AssumptionsForm(data, initial=to_json(chosen(row)))
    if request.method == "POST" and form.is_valid() and _saved(form, row, user):
        messages.success(request, _("The numbers are saved."))
        return redirect("assumptions")
    games = settings_row().games or {}
    context = {
        "section": "readiness",
        "form": form,
        "lines": [(form[name], origin) for name, origin in ORIGINS.items()],
        "may_edit": user.runs_club,
        "bars": _bars(row),
        "usual": hundredths(Assumptions().ready),
        "in_force": hundredths(in_force(row)[0].ready),
        "calibration": _calibration(),
        "games": games,
        "games_best": _best(games),
        "run": calibrating.latest_run(),
    }
    return page(request, "practice/assumptions.html", context, status=status_of(form))


def _saved(form: AssumptionsForm, row: ReadinessSettings, user: User) -> bool:
    """Keep what was entered, unless it does not go together: that is shown at its fields."""
    made, findings = form.assumptions(language_now())
    for finding in findings:
        form.add_error(finding.place.strip("/"), finding.sentence)
    if made is None:
        return False
    before, row.assumptions = row.assumptions, to_json(made)
    row.calibration = None  # it was fitted around the old ones
    row.save()
    note_change(user, "set", "readiness", before=before, after=row.assumptions)
    return True


@require_POST
def calibrate_now(request: HttpRequest) -> HttpResponse:
    """Have the parameters fitted to the club's reps; used only where that beats the baselines."""
    user = user_of(request)
    require(user.runs_club)
    note_change(user, "asked for calibration", "readiness")
    calibrating.begin(get_language() or "en")
    return redirect("assumptions")


def _bars(row: ReadinessSettings) -> list[tuple[int, int, int, bool]]:
    """Each bar as the page has it: hundredths, reps, times of 100 that all are right, in force?"""
    now = in_force(row)[0]
    return [
        (hundredths(cost.bar), cost.reps, hundredths(cost.five), cost.bar == now.ready)
        for cost in bar_costs(now)
    ]


def _best(found: Mapping[str, Any]) -> str:
    """Which forecast did best on what came later, by its key; empty where none was scored."""
    scores = found.get("scores") or {}
    told = {name: one["log_loss"] for name, one in scores.items() if isinstance(one, dict)}
    return min(told, key=lambda name: told[name], default="")


def _calibration() -> dict[str, object]:
    """What a page says about calibration; without any run, that there was none."""
    row = settings_row()
    found = row.calibration or {"calibrated": False, "sentence": _("Not calibrated yet.")}
    return {**found, "best": _best(found), "in_force": to_json(in_force(row)[0])}
