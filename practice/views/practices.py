"""Practices and games of a team, and the plan of one practice."""

from __future__ import annotations

from django.contrib import messages
from django.db import transaction
from django.db.models import Count, Max, Sum
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone
from django.utils.translation import get_language
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from practice.access import planned_practice_for, practice_for
from practice.bridge import plan_value, squad_value
from practice.core import cautions
from practice.core.findings import Severity
from practice.core.plan import running_clock
from practice.core.plan_rules import check_plan
from practice.forms import BlockForm, GameForm, PracticeForm
from practice.models import Block, KindChoice, Practice
from roster.access import coached_team_for, may_coach, team_for
from shared.access import user_of
from shared.core.language import language
from shared.models import User
from shared.pages import page, status_of
from shared.record import note_change


@require_safe
def practices(request: HttpRequest, pk: int) -> HttpResponse:
    """What is coming, and what was."""
    user = user_of(request)
    team = team_for(user, pk)
    today = timezone.localdate()
    rows = team.practices.annotate(
        planned=Sum("blocks__minutes"), reps_logged=Count("reps", distinct=True)
    )
    context = {
        "team": team,
        "section": "practices",
        "may_coach": may_coach(user, team),
        "coming": rows.filter(date__gte=today),
        "past": rows.filter(date__lt=today).order_by("-date", "-start"),
        "games": team.games.filter(date__gte=today),
    }
    return page(request, "practice/practices.html", context)


@require_http_methods(["GET", "POST"])
def new_practice(request: HttpRequest, pk: int) -> HttpResponse:
    user = user_of(request)
    team = coached_team_for(user, pk)
    form = PracticeForm(request.POST or None, team=team)
    if request.method == "POST" and form.is_valid():
        practice = form.save()
        return redirect("practice", practice.pk)
    context = {"form": form, "team": team, "section": "practices"}
    return page(request, "practice/practice_form.html", context, status=status_of(form))


@require_http_methods(["GET", "POST"])
def edit_practice(request: HttpRequest, pk: int) -> HttpResponse:
    user = user_of(request)
    practice = planned_practice_for(user, pk)
    form = PracticeForm(request.POST or None, instance=practice, team=practice.team)
    if request.method == "POST" and form.is_valid():
        form.save()
        return redirect("practice", practice.pk)
    context = {
        "form": form,
        "team": practice.team,
        "section": "practices",
        "practice": Practice.objects.get(pk=pk),
    }
    return page(request, "practice/practice_form.html", context, status=status_of(form))


@require_http_methods(["GET", "POST"])
def new_game(request: HttpRequest, pk: int) -> HttpResponse:
    user = user_of(request)
    team = coached_team_for(user, pk)
    form = GameForm(request.POST or None, team=team)
    if request.method == "POST" and form.is_valid():
        form.save()
        messages.success(request, _("The game is entered."))
        return redirect("practices", team.pk)
    context = {"form": form, "team": team, "section": "practices"}
    return page(request, "practice/game_form.html", context, status=status_of(form))


@require_safe
def practice(request: HttpRequest, pk: int) -> HttpResponse:
    """The plan with its running clock and what there is to say about it."""
    user = user_of(request)
    found = practice_for(user, pk)
    return _plan_page(request, user, found, BlockForm(team=found.team))


@require_POST
def add_block(request: HttpRequest, pk: int) -> HttpResponse:
    user = user_of(request)
    found = planned_practice_for(user, pk)
    form = BlockForm(request.POST, team=found.team)
    return _save_block(request, user, found, form)


@require_http_methods(["GET", "POST"])
def edit_block(request: HttpRequest, pk: int, block: int) -> HttpResponse:
    """Change a block, move it, or take it out."""
    user = user_of(request)
    found = planned_practice_for(user, pk)
    row = get_object_or_404(found.blocks, pk=block)
    if "move" in request.POST:
        _move(found, row, -1 if request.POST["move"] == "up" else 1)
        return redirect("practice", pk)
    if "remove" in request.POST:
        row.delete()
        return redirect("practice", pk)
    form = BlockForm(request.POST or None, instance=row, team=found.team)
    if request.method == "POST":
        return _save_block(request, user, found, form)
    return _plan_page(request, user, found, form)


def _save_block(request: HttpRequest, user: User, found: Practice, form: BlockForm) -> HttpResponse:
    if not form.is_valid():
        return _plan_page(request, user, found, form)
    block = form.save(commit=False)
    block.practice = found
    if block.order is None:
        block.order = (found.blocks.aggregate(last=Max("order"))["last"] or 0) + 1
    with transaction.atomic():
        block.save()
        fault = _hall_fault(found)
        if fault:
            transaction.set_rollback(True)
    if fault:
        form.add_error("minutes", fault)
        return _plan_page(request, user, practice_for(user, found.pk), form)
    note_change(user, "planned", found, team=found.team_id, after=str(block))
    return redirect("practice", found.pk)


def _hall_fault(found: Practice) -> str:
    """What would stop this plan: the hall booking, or an install block without its play."""
    squad = squad_value(found.team, [])
    fresh = Practice.objects.prefetch_related("blocks").select_related("team").get(pk=found.pk)
    findings = check_plan(plan_value(fresh), squad, language(get_language() or "en"))
    return next((f.sentence for f in findings if f.severity is Severity.ERROR), "")


def _move(found: Practice, row: Block, by: int) -> None:
    blocks = list(found.blocks.all())
    at = blocks.index(row)
    to = min(max(at + by, 0), len(blocks) - 1)
    blocks.insert(to, blocks.pop(at))
    for order, block in enumerate(blocks, start=1):
        block.order = order
    Block.objects.bulk_update(blocks, ["order"])


def _plan_page(request: HttpRequest, user: User, found: Practice, form: BlockForm) -> HttpResponse:
    speech = language(get_language() or "en")
    blocks = found.blocks.select_related("entry", "unit")
    rows = {block.pk: block for block in blocks.prefetch_related("entry__castings__player")}
    players = list(found.team.players.present())
    plan = plan_value(found)
    context = {
        "team": found.team,
        "section": "practices",
        "practice": found,
        "plan": plan,
        "lines": [(line, rows[int(line.block.id)]) for line in running_clock(plan)],
        "findings": check_plan(plan, squad_value(found.team, players), speech),
        "cautions": [speech.say(caution.sentence) for caution in cautions.FOR_PLAN],
        "form": form,
        "may_coach": may_coach(user, found.team),
        "install_kind": KindChoice.INSTALL.value,
        "reps_logged": found.reps.count(),
    }
    return page(request, "practice/practice.html", context, status=status_of(form))
