"""The cast: the grid of the package, and a page for each play, each slot and each player."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.db.models import prefetch_related_objects
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from plays.core.play import ROLES, role_of
from plays.core.words.part import part_of
from plays.values import play_value
from roster.access import coached_entry_for, coached_team_for, may_coach, player_for, team_for
from roster.cast.cell import changes_for, choices
from roster.cast.changes import (
    CastChangedError,
    FaultyCastError,
    change_cast,
    row_of,
    save_cast,
    undo,
)
from roster.cast.forms import DEPTH_NAMES, CastForm, field_name
from roster.cast.loaded import TeamCast, team_cast
from roster.cast.page import STEPS_SHOWN, grid_rows, left_out, step_lines, team_note
from roster.cast.person import PersonPage
from roster.cast.proposal_page import panel_of
from roster.core.cast import DEPTHS, PlayerId, Slot
from roster.models import CastLock, PackagePlay, Team
from shared.access import user_of
from shared.core.numbers import whole_number
from shared.models import User
from shared.pages import page, status_of
from shared.record import note_change
from shared.speech import language_now


@require_safe
def cast(request: HttpRequest, pk: int) -> HttpResponse:
    """Plays by roles, with names at three depths."""
    user = user_of(request)
    team = team_for(user, pk)
    return page(request, "roster/cast.html", grid_context(team, user))


def grid_context(team: Team, user: User) -> dict[str, Any]:
    """What the grid and the panel of suggestions show."""
    known = team_cast(team)
    panel = panel_of(known)
    latest = team.cast_steps.select_related("user").first()
    return {
        "team": team,
        "section": "cast",
        "rows": grid_rows(known, panel.suggestions if panel else ()),
        "panel": panel,
        "roles": ROLES,
        "too_few": team_note(known) if known.players else None,
        "has_roster": bool(known.players),
        "left_out": left_out(known, known.cast) if known.cast.assignments else "",
        "latest": step_lines(known, [latest])[0] if latest else None,
        "may_coach": may_coach(user, team),
    }


@require_http_methods(["GET", "POST"])
def cast_play(request: HttpRequest, pk: int) -> HttpResponse:
    """Cast one play by hand."""
    user = user_of(request)
    entry = coached_entry_for(user, pk)
    squad = list(entry.team.players.present())
    form = CastForm(request.POST or None, entry=entry, squad=squad, initial=_initial(entry))
    if request.method == "POST" and form.is_valid():
        try:
            save_cast(entry, form.filled(), user, seen_version=form.cleaned_data["version"])
        except CastChangedError:
            form = _shown_again(form, entry)
        except FaultyCastError as fault:
            form.add_error(None, str(fault))
        else:
            call = entry.spoken()
            messages.success(request, _("The cast of %(call)s is saved.") % {"call": call})
            return redirect("cast", entry.team_id)
    prefetch_related_objects([entry], "castings__player")
    play, language = play_value(entry.revision), language_now()
    jobs = [part_of(play, role, language=language).job for role in ROLES]
    context = {
        "form": form,
        "rows": [(*row, job) for row, job in zip(form.rows(), jobs, strict=True)],
        "entry": entry,
        "team": entry.team,
        "section": "cast",
        "depths": DEPTH_NAMES.values(),
        "current": row_of(entry),
    }
    return page(request, "roster/cast_play.html", context, status=status_of(form))


@require_http_methods(["GET", "POST"])
def cast_cell(request: HttpRequest, pk: int, role: str, depth: int) -> HttpResponse:
    """Choose who fills one slot, best fit first."""
    user = user_of(request)
    entry = coached_entry_for(user, pk)
    known = team_cast(entry.team)
    slot = _slot(known, entry, role, depth)
    if request.method == "POST":
        return _choose(request, user, known, slot)
    play = play_value(known.by_play[pk].revision)
    held = known.cast.by_slot().get(slot)
    here = known.players[int(held)] if held else None
    found = choices(known, known.by_play[pk], slot.role, depth)
    locked = CastLock.objects.filter(entry=entry, role=role, player=here, depth__in=(0, depth))
    context = {
        "team": entry.team,
        "section": "cast",
        "entry": known.by_play[pk],
        "call": known.names.play(pk),
        "slot": slot,
        "job": part_of(play, slot.role, language=known.language).job,
        "depth_name": DEPTH_NAMES[depth],
        "choices": found,
        "has_numbers": any(choice.hundredths is not None for choice in found),
        "here": here,
        "is_locked": here is not None and locked.exists(),
    }
    return page(request, "roster/cast_cell.html", context)


def _slot(known: TeamCast, entry: PackagePlay, role: str, depth: int) -> Slot:
    found = role_of(role)
    if found is None or depth not in DEPTHS or entry.pk not in known.by_play:
        raise Http404
    return Slot(entry.pk, found, depth)


def _choose(request: HttpRequest, user: User, known: TeamCast, slot: Slot) -> HttpResponse:
    """Put the chosen player into the slot, where it is still as the page showed it."""
    wanted, seen = _player(request.POST.get("player")), _player(request.POST.get("before"))
    here = known.cast.by_slot().get(slot)
    if seen != here:
        messages.warning(request, _changed_words(known, slot))
    elif wanted is not None and wanted not in known.players:
        messages.warning(request, _("That player is no longer on the team."))
    else:
        _make(request, user, known, slot, wanted)
    return redirect("cast", known.team.pk)


def _make(
    request: HttpRequest, user: User, known: TeamCast, slot: Slot, wanted: PlayerId | None
) -> None:
    try:
        change_cast(known.team, changes_for(known, slot, wanted), user)
    except CastChangedError:
        messages.warning(request, _changed_words(known, slot))
    except FaultyCastError as fault:
        messages.error(request, str(fault))


def _changed_words(known: TeamCast, slot: Slot) -> str:
    return _(
        "Somebody changed role %(role)s of %(play)s meanwhile: nothing was overwritten. "
        "Look at the grid and choose again."
    ) % {"role": slot.role, "play": known.names.play(slot.play)}


def _player(text: str | None) -> int | None:
    return whole_number(text)


@require_POST
def lock_cell(request: HttpRequest, pk: int, role: str, depth: int) -> HttpResponse:
    """Lock who fills a slot there, or take the lock off."""
    user = user_of(request)
    entry = coached_entry_for(user, pk)
    casting = get_object_or_404(entry.castings.select_related("player"), role=role, depth=depth)
    same = CastLock.objects.filter(
        entry=entry, role=role, player=casting.player, depth__in=(0, depth)
    )
    if same.exists():
        same.delete()
        note_change(user, "unlocked", casting, team=entry.team_id)
    else:
        CastLock.objects.create(entry=entry, role=role, depth=depth, player=casting.player)
        note_change(user, "locked", casting, team=entry.team_id)
    return redirect("cast", entry.team_id)


@require_POST
def cast_stands(request: HttpRequest, pk: int) -> HttpResponse:
    """Say that a play's cast stands though its revision asks for other things."""
    user = user_of(request)
    entry = coached_entry_for(user, pk)
    entry.cast_for = None
    entry.save(update_fields=["cast_for"])
    note_change(user, "kept the cast", entry, team=entry.team_id)
    return redirect("cast", entry.team_id)


@require_safe
def cast_record(request: HttpRequest, pk: int) -> HttpResponse:
    """Who changed what in the cast, and when; every line can be undone."""
    user = user_of(request)
    team = team_for(user, pk)
    steps = list(team.cast_steps.select_related("user")[:STEPS_SHOWN])
    context = {
        "team": team,
        "section": "cast",
        "lines": step_lines(team_cast(team), steps),
        "may_coach": may_coach(user, team),
    }
    return page(request, "roster/cast_record.html", context)


@require_POST
def cast_undo(request: HttpRequest, pk: int) -> HttpResponse:
    """Put back what one step changed, where nothing of it has moved on since."""
    user = user_of(request)
    team = coached_team_for(user, pk)
    step = get_object_or_404(team.cast_steps, pk=_player(request.POST.get("step")) or 0)
    try:
        undo(step, user)
    except CastChangedError:
        messages.warning(
            request,
            _("Not undone: some of it has been changed again since, or a player has left."),
        )
    except FaultyCastError as fault:
        messages.error(request, str(fault))
    else:
        messages.success(request, _("Undone."))
    return redirect("cast", team.pk)


def _initial(entry: PackagePlay) -> dict[str, object]:
    castings = entry.castings.all()
    filled = {field_name(c.role, c.depth): str(c.player_id) for c in castings}  # type: ignore[arg-type]
    return {**filled, "version": entry.cast_version}


def _shown_again(form: CastForm, entry: PackagePlay) -> CastForm:
    """The same choices, with a word that the cast has moved on, ready to be sent on purpose."""
    entry.refresh_from_db()
    data = {**form.data, "version": str(entry.cast_version)}
    again = CastForm(data, entry=entry, squad=list(form.people.values()))
    said = _(
        "Somebody changed this cast meanwhile. Theirs is shown below; save again to put yours."
    )
    again.add_error(None, said)
    return again


@require_safe
def player_cast(request: HttpRequest, pk: int) -> HttpResponse:
    """All roles of one player. Somebody who has left the team has none to show."""
    user = user_of(request)
    player = player_for(user, pk)
    known = team_cast(player.team)
    if player.pk not in known.players:
        raise Http404
    context = {
        "team": player.team,
        "section": "cast",
        "player": player,
        "person": PersonPage(known, player),
        "may_coach": may_coach(user, player.team),
    }
    return page(request, "roster/player_cast.html", context)
