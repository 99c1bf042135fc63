"""The calendar: a month, repeating practices, cancelling, absences, and the feeds."""

from __future__ import annotations

from datetime import timedelta

from django.contrib import messages
from django.contrib.auth.decorators import login_not_required
from django.db import transaction
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.utils import timezone, translation
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from plays.core.play import AgeGroup
from practice.access import planned_practice_for
from practice.bridge import moment
from practice.core.dates.repeats import check_repeat
from practice.core.plan.load import Session, check_weeks
from practice.dates import feeds, series
from practice.dates.days_off import begin_days_off, end_days_off
from practice.dates.forms import AbsenceForm, DaysOffForm, SeriesForm
from practice.dates.month import days_of, month_of
from practice.install.plan import plan_around
from practice.models import Absence, Game, Practice
from practice.plan.length import USUAL_MINUTES
from practice.presence import absences_of
from roster.access import coached_team_for, may_coach, team_for
from roster.models import Team
from shared.access import user_of
from shared.core.numbers import whole_number
from shared.once import once
from shared.pages import page, status_of
from shared.phones import site_address
from shared.record import note_change
from shared.speech import language_now
from shared.sure import asks_password

OFF_IDS = "off_%s"  # two forms of the calendar ask for a first and a last day


@require_safe
def month(request: HttpRequest, pk: int) -> HttpResponse:
    """Practices and games of one month, who is away, and what the guideline says."""
    team = team_for(user_of(request), pk)
    return _month_page(request, team, AbsenceForm(team=team))


@require_POST
@once
def add_absence(request: HttpRequest, pk: int) -> HttpResponse:
    """Somebody is away for some days. Every coach may note it."""
    user = user_of(request)
    team = team_for(user, pk)
    form = AbsenceForm(request.POST, team=team)
    if form.is_valid():
        with transaction.atomic():
            note_change(user, "noted an absence", form.save(), team=team.pk)
        return redirect("calendar", pk)
    return _month_page(request, team, form)


@require_POST
def remove_absence(request: HttpRequest, pk: int, absence: int) -> HttpResponse:
    user = user_of(request)
    team = team_for(user, pk)
    found = get_object_or_404(Absence, pk=absence, player__team=team)
    with transaction.atomic():
        note_change(user, "took out an absence", found, team=team.pk)
        found.delete()
    return redirect("calendar", pk)


@require_POST
@once
def add_days_off(request: HttpRequest, pk: int) -> HttpResponse:
    """The team does not practise for some days."""
    user = user_of(request)
    team = coached_team_for(user, pk)
    form = DaysOffForm(request.POST, team=team, auto_id=OFF_IDS)
    if not form.is_valid():
        return _month_page(request, team, AbsenceForm(team=team), off=form)
    off = form.save(commit=False)
    gone = begin_days_off(off, user, cancelling=form.cleaned_data["cancel"])
    for practice in gone:
        plan_around(practice, timezone.now())
    if gone:
        n = len(gone)
        said = ngettext("%(n)d practice is cancelled.", "%(n)d practices are cancelled.", n)
        messages.success(request, said % {"n": n})
    return redirect("calendar", pk)


@require_POST
def remove_days_off(request: HttpRequest, pk: int, off: int) -> HttpResponse:
    """Take days off out again, and tell of the practices in them that stay cancelled."""
    user = user_of(request)
    if n := end_days_off(coached_team_for(user, pk), off, user):
        said = ngettext(
            "%(n)d practice of those days stays cancelled. Under Change it can be brought back.",
            "%(n)d practices of those days stay cancelled. Under Change each can be brought back.",
            n,
        )
        messages.warning(request, said % {"n": n})
    return redirect("calendar", pk)


@require_http_methods(["GET", "POST"])
@once
def new_series(request: HttpRequest, pk: int) -> HttpResponse:
    """Make practices that repeat."""
    user = user_of(request)
    team = coached_team_for(user, pk)
    form = SeriesForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        repeat = series.repeat_of(form.cleaned_data)
        faults = check_repeat(repeat, language_now())
        for fault in faults:
            name = fault.place.strip("/")
            form.add_error(name if name in form.fields else None, fault.sentence)
        if not faults:
            n = series.make_series(team, repeat)
            note_change(user, "repeated", team, team=team.pk, after=n)
            said = ngettext("%(n)d practice is planned.", "%(n)d practices are planned.", n)
            messages.success(request, said % {"n": n})
            return redirect("calendar", pk)
    context = {"form": form, "team": team, "section": "practices"}
    return page(request, "practice/series_form.html", context, status=status_of(form))


@require_POST
def cancel_practice(request: HttpRequest, pk: int) -> HttpResponse:
    """Cancel a practice, or bring it back; with ``following`` the rest of its series too."""
    user = user_of(request)
    found = planned_practice_for(user, pk)
    cancelled = "back" not in request.POST
    series.cancel(found, cancelled=cancelled, following="following" in request.POST)
    verb = "cancelled" if cancelled else "brought a practice back"
    note_change(user, verb, found, team=found.team_id)
    if cancelled and "plan_again" in request.POST and plan_around(found, timezone.now()):
        messages.success(request, _("The install plan is made anew without this practice."))
    return redirect("practice", pk)


@asks_password("GET", "POST")
@require_http_methods(["GET", "POST"])
@once
def feed_addresses(request: HttpRequest, pk: int) -> HttpResponse:
    """The secret addresses of the calendars: make and withdraw them."""
    user = user_of(request)
    team = coached_team_for(user, pk)
    if request.method == "POST":
        named = whole_number(request.POST.get("player"))
        players = team.players.present()
        player = get_object_or_404(players, pk=named) if named is not None else None
        change = feeds.withdraw if "withdraw" in request.POST else feeds.give
        change(team, player, user)
        return redirect("feeds", pk)
    return page(request, "practice/feeds.html", _feeds_context(request, team), secret=True)


@login_not_required
@require_safe
def feed(_request: HttpRequest, token: str) -> HttpResponse:
    """The calendar behind a secret address. One that opens nothing is a 404."""
    link = feeds.link_behind(token)
    if link is None:
        raise Http404
    with translation.override(link.team.language):
        return HttpResponse(feeds.feed(link), content_type="text/calendar; charset=utf-8")


def _feeds_context(request: HttpRequest, team: Team) -> dict[str, object]:
    links = team.feed_links.filter(withdrawn_at=None)
    base = site_address(request)
    by_player = {
        link.player_id: f"{base}{reverse('feed', args=[feeds.token(link)])}" for link in links
    }
    people = [(None, team.name), *((p, str(p)) for p in team.players.present())]
    rows = [(who, name, by_player.get(who.pk if who else None)) for who, name in people]
    return {"team": team, "section": "calendar", "rows": rows}


def _month_page(
    request: HttpRequest, team: Team, form: AbsenceForm, *, off: DaysOffForm | None = None
) -> HttpResponse:
    today = timezone.localdate()
    first = month_of(request.GET.get("month", ""), today)
    days = days_of(team, first)
    rows = [row for _day, held in days for row in held if not row.cancelled]
    found = check_weeks(
        [_session(row) for row in rows],
        AgeGroup(team.age_group),
        language_now(),
    )
    shown = [(day, [(row, isinstance(row, Game)) for row in held]) for day, held in days]
    is_now = first == month_of("", today)
    context = {
        "team": team,
        "section": "calendar",
        "first": first,
        "before": first - timedelta(days=1),
        "after": (first + timedelta(days=32)).replace(day=1),
        "today": today,
        "over": [each for each in shown if is_now and each[0] < today],
        "days": [each for each in shown if not is_now or each[0] >= today],
        "findings": found,
        "absences": [each for each in absences_of(team.pk) if each.last >= today],
        "form": form,
        "off_form": off or DaysOffForm(team=team, auto_id=OFF_IDS),
        "days_off": [each for each in team.days_off.all() if each.last >= today],
        "may_coach": may_coach(user_of(request), team),
    }
    bound = off or form
    return page(request, "practice/calendar.html", context, status=status_of(bound))


def _session(row: Practice | Game) -> Session:
    starts = moment(row.date, row.start)
    minutes: float = USUAL_MINUTES
    if isinstance(row, Practice):
        minutes = getattr(row, "planned", None) or minutes
    return Session(starts, minutes, is_game=isinstance(row, Game))
