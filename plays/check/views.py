"""Can it be run? The check of one play, its samples for the animation, and its remedies."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from urllib.parse import urlencode

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from plays.access import kept_play_for, play_for, revision_for
from plays.check.form import Asked, CheckForm
from plays.check.inputs import defence_inputs, left_out, pace_inputs, role_paces
from plays.check.looks import LookRow, banded_looks
from plays.check.page import CheckView, check_view, motion
from plays.check.remedy import RemedyForm, apply
from plays.check.results import library_rows
from plays.check.table import TableForm, table
from plays.checking import keep_up
from plays.core.check.setting import defence_words
from plays.core.document.form import problems
from plays.core.play import Play as PlayValue
from plays.library.changes import ChangedMeanwhileError
from plays.models import AgeGroup, Play, Revision
from plays.play.view_form import COURTS, Moved, ViewForm
from plays.ports import carriers, games_index
from plays.values import play_value
from shared.access import user_of
from shared.core.finding import Finding
from shared.core.language import Language
from shared.models import User
from shared.pages import page
from shared.speech import language_now


@dataclass(frozen=True, slots=True)
class _Read:
    """A revision as the address wants it checked."""

    play: Play
    revision: Revision
    value: PlayValue
    view: ViewForm
    moved: Moved
    form: CheckForm
    asked: Asked
    faults: tuple[Finding, ...]


@require_safe
def check(request: HttpRequest, key: str, number: int | None = None) -> HttpResponse:
    """The check of a play's current revision, or of the one with this number."""
    user = user_of(request)
    speech = language_now()
    read = _read(request, user, key, number, speech)
    asked = read.asked
    names = dict(asked.carrier.names) if asked.carrier else {}
    context = {
        "section": "library",
        "play": read.play,
        "revision": read.revision,
        "is_draft": read.revision.published_at is None,
        "value": read.moved.play,
        "form": read.form,
        "moved": read.moved,
        "kept": _kept(read),
        "called": dict(read.view.kept()).get("called", ""),
        "query": request.GET.urlencode(),
        "carrier": asked.carrier,
        "asked": asked,
        "age": AgeGroup(asked.setting.age.value).label,
        "rules": COURTS[asked.setting.rule_set or read.moved.play.court],
        "effort": round(100 * asked.setting.effort),
        "kept_query": urlencode([*_kept(read), *_switches(read)]),
        "against": defence_words(asked.setting.defence, language_now(), asked.setting.whose),
        "problems": read.faults,
        "may_edit": user.may_edit_library,
        "paces": pace_inputs(asked.setting),
        "defence_inputs": defence_inputs(),
        "role_paces": role_paces(asked.setting, names),
        "left_out": left_out(),
    }
    if not read.faults:
        context["view"] = view = _seen(read, speech)
        context |= _in_games(read, user, view.looks)
    return page(request, "plays/check.html", context)


def _in_games(read: _Read, user: User, looks: Iterable[LookRow]) -> dict[str, object]:
    """What the club's games say of the index, and how often each look is there by them."""
    found = games_index(user, read.play, read.asked.carrier)
    if found is None or read.faults:
        return {}
    there: dict[str, int] = {}
    if found.there is not None:
        for row in looks:
            there[row.verdict.window.look.id] = round(100 * found.there(row.verdict.index))
    return {"in_games": found, "in_games_there": there}


@require_safe
def check_motion(request: HttpRequest, key: str, number: int) -> HttpResponse:
    """The sampled timeline of a check, for the animation."""
    speech = language_now()
    read = _read(request, user_of(request), key, number, speech)
    if read.faults:
        return JsonResponse({"problems": [each.sentence for each in read.faults]}, status=422)
    return JsonResponse(motion(read.moved.play, read.asked, speech, request.GET.get("look", "")))


@require_safe
def check_bands(request: HttpRequest, key: str, number: int) -> HttpResponse:
    """The looks of a check once more, each with the band that holds nine draws in ten."""
    speech = language_now()
    read = _read(request, user_of(request), key, number, speech)
    looks = () if read.faults else banded_looks(read.moved.play, read.asked, speech)
    context = {
        "section": "library",
        "play": read.play,
        "revision": read.revision,
        "query": request.GET.urlencode(),
        "problems": read.faults,
        "looks": looks,
        "banded": True,
    }
    context |= _in_games(read, user_of(request), looks)
    return page(request, "plays/check/bands.html", context)


@require_POST
def apply_fix(request: HttpRequest, key: str, number: int) -> HttpResponse:
    """Apply one remedy to the play's draft, and show the check of that draft."""
    user = user_of(request)
    found = kept_play_for(user, key)
    shown = revision_for(user, found, number)
    form = RemedyForm(request.POST)
    back = f"{reverse('check-revision', args=[found.key, shown.number])}?{request.GET.urlencode()}"
    if not form.is_valid():
        messages.error(request, _("This remedy cannot be read. Nothing was saved."))
        return redirect(back)
    try:
        draft = apply(found, shown, form, user)
    except ChangedMeanwhileError:
        messages.error(
            request,
            _("The play has another draft by now. Check that one, or publish or discard it first."),
        )
        return redirect(back)
    except ValueError:
        messages.error(request, _("This remedy does not fit the play any more. Nothing was saved."))
        return redirect(back)
    messages.success(request, _("Applied in the draft; this is the check of the draft."))
    address = reverse("check-revision", args=[found.key, draft.number])
    return redirect(f"{address}?{request.GET.urlencode()}")


def _read(
    request: HttpRequest, user: User, key: str, number: int | None, speech: Language
) -> _Read:
    found = play_for(user, key)
    revision = revision_for(user, found, number)
    value = play_value(revision)
    teams = carriers(user, found)
    view = ViewForm(request.GET, play=value, teams=teams)
    moved = view.moved(speech)
    form = CheckForm(request.GET, play=moved.play, teams=teams)
    faults = problems(moved.play, speech)
    return _Read(found, revision, value, view, moved, form, form.asked(), faults)


def _kept(read: _Read) -> list[tuple[str, str]]:
    """The moves of the address that the switches of the check leave as they are."""
    moves = ("called", "mirror", "turn", "along", "pull_in", "court")
    return [(name, value) for name, value in read.view.kept() if name in moves]


def _switches(read: _Read) -> list[tuple[str, str]]:
    """What the address says of the check, but for the counter and the defence."""
    said = read.form.chosen()
    return [(name, value) for name, value in said.items() if name not in ("counter", "defence")]


def _seen(read: _Read, speech: Language) -> CheckView:
    return check_view(read.moved.play, read.asked, speech)


@require_safe
def check_table(request: HttpRequest) -> HttpResponse:
    """What is known of every play on the shelf. This page reckons nothing itself."""
    user_of(request)
    age = TableForm(request.GET).chosen()
    known = table(library_rows(), age)
    if known["left"]:
        keep_up()
    context = {"section": "library", "form": TableForm({"age": age}), "age": age, **known}
    return page(request, "plays/checks.html", context)
