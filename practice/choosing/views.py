"""Which plays for us: the choice, what the coach wants of it, and taking it into the package."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import ngettext
from django.views.decorators.http import require_POST, require_safe

from plays.checking import keep_up
from plays.models import Play
from practice.choosing import search, wishes
from practice.choosing.asked import AskedPackage, asked_for
from practice.choosing.beside import TwoPlaysForm, beside, starts_in_common
from practice.choosing.forms import PackageTermsForm
from practice.choosing.page import choice
from practice.core.choosing.question import RuledOut
from roster.access import coached_team_for, may_coach, team_for
from roster.models import Team
from roster.package.taking import tell_taken
from shared.access import one_of, user_of
from shared.core.numbers import whole_number
from shared.models import User
from shared.once import once
from shared.pages import page, status_of
from shared.speech import language_now


@require_safe
def which_plays(request: HttpRequest, pk: int) -> HttpResponse:
    """The package that is proposed, at once; what is better comes from the background."""
    user = user_of(request)
    team = team_for(user, pk)
    asked = asked_for(team, timezone.now())
    return _page(request, user, asked, PackageTermsForm(asked=asked))


@require_safe
def two_plays(request: HttpRequest, pk: int) -> HttpResponse:
    """Two plays of the library side by side, as this team would run them."""
    user = user_of(request)
    team = team_for(user, pk)
    asked = asked_for(team, timezone.now())
    form = TwoPlaysForm(request.GET, asked=asked)
    two = beside(asked, form.chosen(), language_now())
    context = {
        "team": team,
        "section": "package",
        "may_coach": may_coach(user, team),
        "form": form,
        "two": two,
        "shared": starts_in_common(two),
    }
    return page(request, "practice/two_plays.html", context)


@require_safe
def progress(request: HttpRequest, pk: int) -> HttpResponse:
    """How far the search is: a small part that the page asks for again and again."""
    team = team_for(user_of(request), pk)
    run = search.latest_of(team)
    response = page(request, "practice/choice_progress.html", {"team": team, "run": run})
    if getattr(request, "htmx", False) and not (run and run.is_running):
        response.headers["HX-Refresh"] = "true"
    return response


@require_POST
def wish(request: HttpRequest, pk: int) -> HttpResponse:
    """Want a play in, or out, or neither: one tap."""
    user = user_of(request)
    team = coached_team_for(user, pk)
    want, _dash, number = request.POST.get("wish", "").partition("-")
    if want in wishes.VERBS:
        play = one_of(Play.objects.on_shelf(), pk=whole_number(number) or 0)
        wishes.wish(team, user, play, want)
        return redirect(f"{reverse('which-plays', args=[pk])}?play={play.pk}#play-{play.pk}")
    return redirect("which-plays", pk)


@require_POST
def terms(request: HttpRequest, pk: int) -> HttpResponse:
    """What the package is for: occasions, date, minutes, opponents."""
    user = user_of(request)
    team = coached_team_for(user, pk)
    asked = asked_for(team, timezone.now())
    form = PackageTermsForm(request.POST, asked=asked)
    if not form.is_valid():
        return _page(request, user, asked, form)
    wishes.set_terms(team, user, form.terms())
    return redirect("which-plays", pk)


@require_POST
@once
def take(request: HttpRequest, pk: int) -> HttpResponse:
    """Take the plays that the page has shown into the package. Nothing is dropped for them."""
    user = user_of(request)
    team = coached_team_for(user, pk)
    numbers = [whole_number(text) or 0 for text in request.POST.getlist("play")]
    shelf = Play.objects.on_shelf().with_current()
    plays = {play.pk: play for play in shelf.filter(pk__in=numbers)}
    fresh = wishes.take(team, user, [plays[n] for n in dict.fromkeys(numbers) if n in plays])
    tell_taken(request, len(fresh))
    return redirect("which-plays", pk)


@require_POST
@once
def take_back(request: HttpRequest, pk: int) -> HttpResponse:
    """Take out again what was last taken in at once."""
    user = user_of(request)
    team = coached_team_for(user, pk)
    gone = len(wishes.take_back(team, user))
    if gone:
        said = ngettext(
            "%(n)s play is out of the package again.",
            "%(n)s plays are out of the package again.",
            gone,
        )
        messages.success(request, said % {"n": gone})
    return redirect("which-plays", pk)


def _page(
    request: HttpRequest, user: User, asked: AskedPackage, form: PackageTermsForm
) -> HttpResponse:
    team: Team = asked.team
    coaches = may_coach(user, team)
    if any(one.bar is RuledOut.UNCHECKED for one in asked.question.candidates):
        keep_up()
    run = search.begin(asked, user) if coaches else search.latest_of(team)
    context = {
        "team": team,
        "section": "package",
        "may_coach": coaches,
        "asked": asked,
        "form": form,
        "run": run,
        "shown": whole_number(request.GET.get("play", "")),
        **choice(asked, run, language_now()),
    }
    return page(request, "practice/which_plays.html", context, status=status_of(form))
