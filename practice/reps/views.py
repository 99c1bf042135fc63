"""The courtside log: the phone page, and the door through which its taps come in."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from practice.access import practice_for
from practice.core.plan import cautions
from practice.core.reps.rep_rules import check_rep
from practice.core.reps.tap_file import read_taps
from practice.models import Block, Practice
from practice.models import Rep as RepRow
from practice.presence import away_from, present_value
from practice.reps.forms import RepForm
from practice.reps.page import court_data
from practice.reps.store import open_held, save_rep, store, tally_of, tally_of_game
from roster.access import team_for
from roster.cast.changes import package_with_cast
from roster.models import PackagePlay, Player, Team
from shared.access import user_of
from shared.core.finding import errors
from shared.core.numbers import whole_number
from shared.pages import page, status_of
from shared.scripts import service_worker
from shared.speech import language_now

WORKER = "js/log_worker.js"


@require_http_methods(["GET", "POST"])
def log(request: HttpRequest, pk: int) -> HttpResponse:
    """The courtside log, and beneath it the plain form that serves where no script runs."""
    user = user_of(request)
    practice = practice_for(user, pk)
    entries = list(package_with_cast(practice.team))
    wanted = request.POST.get("play") or request.GET.get("play")
    entry = next((e for e in entries if str(e.pk) == wanted), entries[0] if entries else None)
    speech = language_now()
    context = {
        "team": practice.team,
        "practice": practice,
        "entries": entries,
        "entry": entry,
        "cautions": [speech.say(caution.sentence) for caution in cautions.FOR_LIVE],
        "held": open_held(practice.team),
        "drilled": _drilled(practice),
    }
    if entry is None:
        return page(request, "practice/log.html", context)
    squad = list(practice.team.players.present())
    first = _cast_initial(entry, request)
    form = RepForm(request.POST or None, squad=squad, calls=entry.calls(), initial=first)
    sent = request.method == "POST" and form.is_valid()
    if sent and _logged(request, form, practice, entry, squad):
        kept = f"?play={entry.pk}&mode={form.cleaned_data['mode']}"
        return redirect(f"{request.path}{kept}")
    context |= {"form": form, "data": court_data(practice, user), **_latest(practice)}
    return page(request, "practice/log.html", context, status=status_of(form))


def _latest(practice: Practice) -> dict[str, object]:
    """The last reps of a practice, and how many there are."""
    counted = RepRow.objects.counted().filter(practice=practice)
    told = ("roles__player", "entry__castings__player")
    latest = counted.select_related("entry").prefetch_related(*told)
    return {"reps": latest[:12], "rep_count": counted.count()}


def _drilled(practice: Practice) -> list[Block]:
    """The blocks whose drill has a text or a picture, in the order of the plan."""
    rows = practice.blocks.select_related("drill").defer("drill__picture")
    return [block for block in rows if block.drill and block.drill.is_told]


def _logged(
    request: HttpRequest,
    form: RepForm,
    practice: Practice,
    entry: PackagePlay,
    squad: list[Player],
) -> bool:
    """Store the rep unless something stops it; what stops it is shown at its field."""
    speech = language_now()
    clean = request.POST.get("result") != "error"
    rep = form.rep(practice, entry, timezone.now(), clean=clean)
    stopping = errors(check_rep(rep, present_value(squad, away_from(practice)), speech))
    for finding in stopping:
        form.show(finding.place, finding.sentence)
    if stopping:
        return False
    save_rep(rep, user_of(request))
    words = {"call": entry.spoken(), "word": _("clean") if clean else _("error")}
    messages.success(request, _("%(call)s: %(word)s, logged.") % words)
    return True


def _cast_initial(entry: PackagePlay, request: HttpRequest) -> dict[str, object]:
    first = {f"role-{c.role}": str(c.player_id) for c in entry.castings.all() if c.depth == 1}
    return {**first, "mode": request.GET.get("mode", "walk_through")}


@require_POST
def taps(request: HttpRequest, pk: int) -> HttpResponse:
    """Take a batch of taps. The answer names every tap that is safe, and what could not be read.

    ``?practice=`` or ``?game=`` asks for the counts of that one besides.
    """
    user = user_of(request)
    team = team_for(user, pk)
    read = read_taps(request.body, language_now())
    stored = store(read.taps, team, user)
    return JsonResponse(
        {
            "kept": stored.kept,
            "held": stored.held,
            "refused": stored.refused,
            "faults": [{"place": f.place, "sentence": f.sentence} for f in read.findings],
            "tally": _tally(request, team),
        },
        status=200 if read.taps or not read.findings else 422,
    )


def _tally(request: HttpRequest, team: Team) -> dict[str, dict[str, int]] | None:
    """The counts of the practice or game that the phone asks about, if it is this team's."""
    practice = whole_number(request.GET.get("practice"))
    game = whole_number(request.GET.get("game"))
    if practice is not None and team.practices.filter(pk=practice).exists():
        return tally_of(practice)
    if game is not None and team.games.filter(pk=game).exists():
        return tally_of_game(game)
    return None


@login_not_required
@require_safe
def worker(_request: HttpRequest) -> HttpResponse:
    """The service worker: beside the log pages, and for each bench page that asks for it."""
    return service_worker(WORKER, within="/")
