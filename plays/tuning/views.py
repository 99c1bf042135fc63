"""Tuning a play: set the limits, wait, look at what was found, keep it as a draft."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from plays.access import kept_play_for
from plays.core.calls import by_name
from plays.core.document.form import problems
from plays.core.moves.variants import all_calls
from plays.core.play import Play as PlayValue
from plays.core.tune.calls import TunedCall
from plays.core.words.terms import look_words
from plays.library.changes import ChangedMeanwhileError
from plays.models import Tuning
from plays.play.views_drafts import newest_of
from plays.ports import Carrier, carriers
from plays.tuning.form import LimitsForm
from plays.tuning.page import tuning_view
from plays.tuning.work import answer_of, begin, keep, latest_of
from plays.values import play_value
from shared.access import user_of
from shared.core.numbers import whole_number
from shared.pages import page, status_of
from shared.speech import language_now


@require_http_methods(["GET", "POST"])
def tune(request: HttpRequest, key: str) -> HttpResponse:
    """The limits of a tuning of the newest revision, and what the last one has found."""
    user = user_of(request)
    found = kept_play_for(user, key)
    newest = newest_of(found)
    value, speech, teams = play_value(newest), language_now(), carriers(user, found)
    faults = problems(value, speech)
    call = _called(request, value)
    shown = TunedCall(value, call).play
    looks = {
        look.id: f"{n}. {look_words(look, {}, speech)}" for n, look in enumerate(shown.looks, 1)
    }
    form = LimitsForm(request.POST or None, play=value, teams=teams, looks=looks, call=call)
    if request.method == "POST" and form.is_valid() and not faults:
        team = form.carrier.team if form.carrier else None
        begin(newest, form.question(), form.paces(), user=user, team=team)
        return redirect("tune", found.key)
    run = latest_of(found)
    context = {
        "section": "library",
        "play": found,
        "newest": newest,
        "form": form,
        "problems": faults,
        "has_looks": bool(looks),
        "calls": [by_name(each.call, {}, speech) for each in all_calls(value)],
        "call": call,
        "run": run,
        **_shown(run, teams),
    }
    return page(request, "plays/tune.html", context, status=status_of(form))


def _called(request: HttpRequest, play: PlayValue) -> int:
    """Which of the play's calls the address means; the first where it means none of them."""
    place = whole_number(request.GET.get("called", ""))
    return place if place is not None and 0 < place <= len(play.variants) else 0


def _shown(run: Tuning | None, teams: tuple[Carrier, ...]) -> dict[str, object]:
    answer = answer_of(run) if run else None
    if run is None or answer is None:
        stale = run is not None and bool(run.found)
        return {"view": None, "stale": stale}
    names = next((dict(each.names) for each in teams if each.team == run.team), {})
    return {"view": tuning_view(run, answer, names, language_now()), "stale": False}


@require_safe
def progress(request: HttpRequest, key: str) -> HttpResponse:
    """How far the search is: a small part that the page asks for again and again."""
    found = kept_play_for(user_of(request), key)
    run = latest_of(found)
    response = page(request, "plays/tune_progress.html", {"play": found, "run": run})
    if getattr(request, "htmx", False) and not (run and run.is_running):
        response.headers["HX-Refresh"] = "true"
    return response


@require_POST
def stop(request: HttpRequest, key: str) -> HttpResponse:
    """Stop the search; what it has found so far is brought home."""
    found = kept_play_for(user_of(request), key)
    found.tunings.filter(state=Tuning.State.RUNNING).update(stop_asked=True)
    return redirect("tune", found.key)


@require_POST
def keep_tuned(request: HttpRequest, key: str) -> HttpResponse:
    """Keep what was found as the play's draft."""
    user = user_of(request)
    found = kept_play_for(user, key)
    run = latest_of(found)
    answer = answer_of(run) if run else None
    if run is None or answer is None or not answer.plan:
        messages.info(request, _("There is nothing to keep: tune the play first."))
        return redirect("tune", found.key)
    try:
        draft = keep(run, answer, user, _("Tuned against a chase and a switch"))
    except ChangedMeanwhileError:
        messages.error(
            request, _("The play has been changed since. Tune what stands now; nothing was saved.")
        )
    except ValueError:
        messages.error(request, _("Tuned, the play could not be read. Nothing was saved."))
    else:
        messages.success(request, _("Kept as a draft. Walk it through before you publish it."))
        return redirect("revision", found.key, draft.number)
    return redirect("tune", found.key)
