"""The install plan of a game: propose, change, lock, accept, and improve in the background."""

from __future__ import annotations

from collections import defaultdict
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from practice.access import game_for, planned_game_for
from practice.core.install.blocks import install_times
from practice.core.install.build import NothingToPlanError
from practice.core.install.outlook import PlayOutlook, outlook
from practice.core.install.question import FIRSTS, SECONDS, VARIETY, Schedule, ScheduleEntry
from practice.core.install.rules import check_schedule
from practice.core.readiness.cell import in_hundred
from practice.install import improving
from practice.install import plan as service
from practice.install.accept import put_into_plans
from practice.install.lessons import lessons_of, lessons_told
from practice.models import InstallPlan, ModeChoice, Practice
from roster.access import may_coach
from shared.access import user_of
from shared.core.language import Language
from shared.core.numbers import hundredths
from shared.once import once
from shared.pages import page
from shared.record import note_change
from shared.speech import language_now

LASTS = 60  # seconds of improving
MOST_REPS = 30


@require_safe
def install(request: HttpRequest, pk: int) -> HttpResponse:
    """The proposal, practice by practice, and what to expect of it play by play."""
    user = user_of(request)
    game = game_for(user, pk)
    plan, now = service.plan_of(game), timezone.now()
    asked = service.question(game, now, service.entries_of(plan, locked=True))
    speech = language_now()
    calls = {entry.pk: entry.spoken() for entry in asked.entries}
    run = improving.latest_of(plan)
    context = {
        "team": game.team,
        "section": "practices",
        "game": game,
        "plan": plan,
        "practices": _by_practice(asked, plan, calls),
        "expected": _expected(asked, plan, speech),
        "calls": calls,
        "least": hundredths(asked.ask.assumptions.ready),
        "findings": _findings(asked, plan, calls, speech),
        "run": run,
        "lessons": lessons_told(lessons_of(game), speech),
        "variety": speech.say(VARIETY),
        "may_coach": may_coach(user, game.team),
    }
    return page(request, "practice/install.html", context)


@require_POST
def propose(request: HttpRequest, pk: int) -> HttpResponse:
    """A new plan at once, around the locks and what really happened."""
    user = user_of(request)
    game = planned_game_for(user, pk)
    service.propose(game, timezone.now())
    note_change(user, "proposed the install plan", game, team=game.team_id)
    return redirect("install", pk)


@require_POST
@once
def change(request: HttpRequest, pk: int) -> HttpResponse:
    """Save the coach's own numbers and locks; a practice without any falls silent."""
    user = user_of(request)
    game = planned_game_for(user, pk)
    plan = service.held_plan_of(game)
    if request.POST.get("version", str(plan.version)) != str(plan.version):
        messages.warning(
            request,
            _("The plan was changed meanwhile: nothing was overwritten. Look at it again."),
        )
        return redirect("install", pk)
    kept, locked = [], []
    for index, entry in enumerate(service.entries_of(plan)):
        reps = request.POST.get(f"reps-{index}", "")
        if reps.isascii() and reps.isdigit():
            fewer = MOST_REPS if len(reps) > 9 else min(int(reps), MOST_REPS)
            entry = _with_reps(entry, fewer)  # noqa: PLW2901 - as it now reads
        if entry.reps:
            kept.append(entry)
            locked += [entry] if f"lock-{index}" in request.POST else []
    service.keep(plan, Schedule(tuple(kept), 0.0), locked)
    note_change(user, "changed the install plan", game, team=game.team_id)
    return redirect("install", pk)


@require_POST
def accept(request: HttpRequest, pk: int) -> HttpResponse:
    """Write the proposal into the practice plans."""
    user = user_of(request)
    game = planned_game_for(user, pk)
    plan = service.plan_of(game)
    if plan.pk:
        asked = service.question(game, timezone.now())
        short = put_into_plans(asked, plan, language_now())
        for practice in short:
            said = _("%(practice)s: the hall booking is too short; its plan is as it was.")
            messages.warning(request, said % {"practice": practice})
        if len(short) < len(asked.practices):
            messages.success(request, _("The install blocks stand in the practice plans."))
        note_change(user, "accepted the install plan", game, team=game.team_id)
    return redirect("install", pk)


@require_POST
def improve(request: HttpRequest, pk: int) -> HttpResponse:
    """Start the worker, unless one is at it already."""
    game = planned_game_for(user_of(request), pk)
    plan = service.plan_of(game)
    if plan.pk:
        improving.begin(plan, LASTS)
    return redirect("install", pk)


@require_POST
def stop(request: HttpRequest, pk: int) -> HttpResponse:
    """Ask the worker to stop; it brings its best plan home."""
    game = planned_game_for(user_of(request), pk)
    plan = service.plan_of(game)
    if plan.pk:
        plan.improvements.filter(state=improving.State.RUNNING).update(stop_asked=True)
    return redirect("install", pk)


@require_safe
def progress(request: HttpRequest, pk: int) -> HttpResponse:
    """How far the worker is: a small part that the page asks for again and again."""
    game = game_for(user_of(request), pk)
    plan = service.plan_of(game)
    run = improving.latest_of(plan)
    context = {"game": game, "plan": plan, "run": run, "team": game.team}
    response = page(request, "practice/improve_progress.html", context)
    if getattr(request, "htmx", False) and not (run and run.is_running):
        response.headers["HX-Refresh"] = "true"
    return response


def _with_reps(entry: ScheduleEntry, reps: int) -> ScheduleEntry:
    return ScheduleEntry(entry.practice, entry.play, entry.unit, entry.mode, reps)


def _by_practice(
    asked: service.Question, plan: InstallPlan, calls: dict[int, str]
) -> list[tuple[Practice, list[tuple[str, str, list[dict[str, Any]]]], str]]:
    """Each practice with its plays, their minutes and their lines, and its minutes in all."""
    units = {FIRSTS.id: _("First five"), SECONDS.id: _("Second five")}
    units |= {unit.pk: unit.name for unit in plan.game.team.units.all()}
    schedule = Schedule(service.entries_of(plan), plan.worth)
    lines: dict[tuple[int, Any], list[dict[str, Any]]] = defaultdict(list)
    for index, row in enumerate(plan.entries):
        lines[row["practice"], row["play"]].append(
            {
                "index": index,
                "mode": ModeChoice(row["mode"]).label,
                "unit": units.get(row["unit"], ""),
                "reps": row["reps"],
                "locked": row.get("locked"),
            }
        )
    shown = []
    for practice in asked.practices:
        times = install_times(asked.ask, schedule, practice.pk)
        plays = [
            (calls.get(int(time.play), "–"), _clock(time.minutes), lines[practice.pk, time.play])
            for time in times
        ]
        shown.append((practice, plays, _clock(sum(time.minutes for time in times))))
    return shown


def _clock(minutes: float) -> str:
    """Minutes with their seconds, so that what plays take adds up to what is told for them all."""
    return "{}:{:02}".format(*divmod(round(60 * minutes), 60))


def _expected(
    asked: service.Question, plan: InstallPlan, speech: Language
) -> list[tuple[PlayOutlook, str, int | None, int | None, str]]:
    schedule = Schedule(service.entries_of(plan), plan.worth)
    try:
        made = outlook(asked.ask, schedule, asked.names, speech)
    except NothingToPlanError:
        return []
    return [
        (
            one,
            _chance(one, speech),
            _percent(one.mean),
            _percent(one.without),
            _clock(one.minutes) if one.minutes else "",
        )
        for one in made
    ]


def _chance(one: PlayOutlook, speech: Language) -> str:
    """The chance that the five does it right; of fewer than five there is none to speak of."""
    return "" if one.all_right is None else in_hundred(one.all_right, speech)


def _percent(share: float | None) -> int | None:
    return None if share is None else hundredths(share)


def _findings(
    asked: service.Question, plan: InstallPlan, calls: dict[int, str], speech: Language
) -> list[str]:
    schedule = Schedule(service.entries_of(plan), plan.worth)
    names = {entry.pk: calls[entry.pk] for entry in asked.entries}
    try:
        found = check_schedule(asked.ask, schedule, names, speech)  # type: ignore[arg-type]  # ids are wider there
    except NothingToPlanError:
        return []
    when = {str(p.pk): str(p) for p in asked.practices}
    return [
        f"{when.get(f.place.split('/')[2], '')} {f.sentence}".strip()
        for f in found
        if f.code != "elsewhere"
    ]
