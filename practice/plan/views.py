"""The plan of one practice: its blocks, its order, where it came from, print and running view."""

from __future__ import annotations

from io import BytesIO

from django.contrib import messages
from django.db.models import Max
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from practice.access import planned_practice_for, practice_for
from practice.bridge import plan_value, squad_value
from practice.core.plan import cautions
from practice.core.plan.pdf import PAPERS, write_plan
from practice.core.plan.plan import at_moment, running_clock
from practice.core.plan.rules import check_plan, left_out
from practice.models import Block, KindChoice, Practice
from practice.plan.changes import (
    PlanFaultError,
    begin_from,
    pattern_of,
    reorder,
    save_pattern,
    stop_at_fault,
)
from practice.plan.forms import BeginFromForm, BlockForm, PatternForm
from practice.plan.length import length_followed
from practice.plan.page import equipment_of, plan_sheet, rows_of
from practice.reps.after import happened
from roster.access import may_coach
from shared.access import user_of
from shared.core.numbers import whole_number
from shared.models import User
from shared.once import once
from shared.pages import page, status_of
from shared.record import note_change
from shared.speech import language_now


@require_safe
def practice(request: HttpRequest, pk: int) -> HttpResponse:
    """The plan of a practice, with what is wrong with it."""
    user = user_of(request)
    found = practice_for(user, pk)
    return _plan_page(request, user, found, BlockForm(team=found.team))


@require_POST
@once
def add_block(request: HttpRequest, pk: int) -> HttpResponse:
    user = user_of(request)
    found = planned_practice_for(user, pk)
    return _save_block(request, user, found, BlockForm(request.POST, team=found.team))


@require_http_methods(["GET", "POST"])
@once
def edit_block(request: HttpRequest, pk: int, block: int) -> HttpResponse:
    """Change a block, move it, or take it out."""
    user = user_of(request)
    found = planned_practice_for(user, pk)
    row = get_object_or_404(found.blocks, pk=block)
    if "move" in request.POST:
        _move(found, row, -1 if request.POST["move"] == "up" else 1)
        note_change(user, "put blocks in order", found, team=found.team_id)
        return redirect("practice", pk)
    if "remove" in request.POST:
        with length_followed(found):
            note_change(user, "took out a block", found, team=found.team_id, before=str(row))
            row.delete()
        return redirect("practice", pk)
    form = BlockForm(request.POST or None, instance=row, team=found.team)
    if request.method == "POST":
        return _save_block(request, user, found, form)
    return _plan_page(request, user, found, form)


@require_POST
def order_blocks(request: HttpRequest, pk: int) -> HttpResponse:
    """Put the blocks into the order in which they were dragged."""
    user = user_of(request)
    found = planned_practice_for(user, pk)
    named = request.POST.get("order", "").split(",")
    reorder(found, [key for each in named if (key := whole_number(each)) is not None])
    note_change(user, "put blocks in order", found, team=found.team_id)
    return redirect("practice", pk)


@require_POST
@once
def begin_plan(request: HttpRequest, pk: int) -> HttpResponse:
    """Take the blocks of a template, a pattern or another practice."""
    user = user_of(request)
    found = planned_practice_for(user, pk)
    form = BeginFromForm(request.POST, practice=found)
    if form.is_valid():
        data = form.cleaned_data
        if "forget" in request.POST:
            return _forget_pattern(request, user, found, data["source"])
        try:
            begin_from(found, data["source"], fit=data["fit"], language=language_now())
            note_change(user, "began a plan", found, team=found.team_id)
            return redirect("practice", pk)
        except PlanFaultError as error:
            form.add_error("source", str(error))
    return _plan_page(request, user, found, BlockForm(team=found.team), begin=form)


def _forget_pattern(request: HttpRequest, user: User, found: Practice, source: str) -> HttpResponse:
    """Delete the pattern that is chosen; the plans that began from it keep their blocks."""
    pattern = pattern_of(found, source)
    if pattern is None:
        messages.error(request, _("Only a pattern of this team can be deleted here."))
    else:
        note_change(user, "deleted a pattern", pattern, team=found.team_id)
        pattern.delete()
        messages.success(request, _("%(name)s is deleted.") % {"name": pattern.name})
    return redirect("practice", found.pk)


@require_POST
@once
def keep_pattern(request: HttpRequest, pk: int) -> HttpResponse:
    """Keep this plan's blocks as a pattern of the team."""
    user = user_of(request)
    found = planned_practice_for(user, pk)
    form = PatternForm(request.POST)
    if form.is_valid():
        pattern = save_pattern(found, form.cleaned_data["name"])
        note_change(user, "kept a pattern", pattern, team=found.team_id)
        messages.success(request, _("“%(name)s” is kept as a pattern.") % {"name": pattern.name})
        return redirect("practice", pk)
    return _plan_page(request, user, found, BlockForm(team=found.team), pattern=form)


@require_safe
def plan_pdf(request: HttpRequest, pk: int) -> HttpResponse:
    """The plan on one page of paper."""
    found = practice_for(user_of(request), pk)
    paper = request.GET.get("paper", "a4")
    if paper not in PAPERS:
        raise Http404
    out = BytesIO()
    write_plan(plan_sheet(found, language_now()), out, paper=paper, language=language_now())
    response = HttpResponse(out.getvalue(), content_type="application/pdf")
    name = f"practice-{found.date:%Y-%m-%d}.pdf"
    response.headers["Content-Disposition"] = f'inline; filename="{name}"'
    return response


@require_safe
def now(request: HttpRequest, pk: int) -> HttpResponse:
    """The running view for the court: the present block, and what is left."""
    found = practice_for(user_of(request), pk)
    plan = plan_value(found)
    rows = rows_of(found)
    view = at_moment(plan, timezone.now())
    lines = [(line, rows[int(line.block.id)]) for line in running_clock(plan)]
    context = {
        "team": found.team,
        "practice": found,
        "plan": plan,
        "lines": lines,
        "view": view,
        "present": int(view.line.block.id) if view.line else None,
    }
    return page(request, "practice/now.html", context)


def _save_block(request: HttpRequest, user: User, found: Practice, form: BlockForm) -> HttpResponse:
    if not form.is_valid():
        return _plan_page(request, user, found, form)
    block = form.save(commit=False)
    block.practice, block.proposed, block.slot = found, False, None
    if {"entry", "mode", "unit"} & set(form.changed_data):
        block.runs = []  # what an install plan meant no longer holds
    if block.order is None:
        block.order = (found.blocks.aggregate(last=Max("order"))["last"] or 0) + 1
    is_new = block.pk is None
    try:
        with length_followed(found):
            block.save()
            stop_at_fault(found, language_now(), block)
    except PlanFaultError as error:
        form.add_error("minutes", str(error))
        if is_new:
            block.pk = None  # it was not saved after all: the form still adds one
        return _plan_page(request, user, practice_for(user, found.pk), form)
    note_change(user, "planned", found, team=found.team_id, after=str(block))
    return redirect("practice", found.pk)


def _move(found: Practice, row: Block, by: int) -> None:
    ids = [block.pk for block in found.blocks.all()]
    at = ids.index(row.pk)
    ids.insert(min(max(at + by, 0), len(ids) - 1), ids.pop(at))
    reorder(found, ids)


def _plan_page(
    request: HttpRequest,
    user: User,
    found: Practice,
    form: BlockForm,
    *,
    begin: BeginFromForm | None = None,
    pattern: PatternForm | None = None,
) -> HttpResponse:
    speech = language_now()
    rows = rows_of(found)
    players = list(found.team.players.present())
    plan, squad = plan_value(found), squad_value(found.team, players)
    outs = {
        block.id: speech.all_of([str(squad.names[who]) for who in left_out(block, squad)])
        for block in plan.blocks
    }
    context = {
        "team": found.team,
        "section": "practices",
        "practice": found,
        "plan": plan,
        "lines": [
            (line, rows[int(line.block.id)], outs[line.block.id]) for line in running_clock(plan)
        ],
        "findings": [f for f in check_plan(plan, squad, speech) if f.code != "left_out"],
        "cautions": [speech.say(caution.sentence) for caution in cautions.FOR_PLAN],
        "form": form,
        "has_drills": found.team.drills.exists(),
        "begin": begin or BeginFromForm(practice=found),
        "pattern": pattern or PatternForm(),
        "may_coach": may_coach(user, found.team),
        "install_kind": KindChoice.INSTALL.value,
        "equipment": equipment_of(plan),
        "happened": happened(found, speech),
    }
    bound = next((each for each in (form, begin, pattern) if each and each.is_bound), form)
    return page(request, "practice/practice.html", context, status=status_of(bound))
