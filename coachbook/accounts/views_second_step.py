"""The second step to sign in that a club asks for: the page that asks, and the club's rule."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from coachbook.accounts import second_step as steps
from coachbook.accounts.forms import SecondStepForm
from coachbook.accounts.onward import onward
from coachbook.accounts.passkeys import site_of
from coachbook.accounts.views_staff import host_of
from shared.access import user_of
from shared.models import AskedOf, Club
from shared.pages import page, status_of
from shared.sure import asks_password


@require_safe
def second_step(request: HttpRequest) -> HttpResponse:
    """Say what the club asks for, until when, and where it is got. Who owes nothing goes on."""
    user, now = user_of(request), timezone.now()
    leads_to = onward(request, request.GET.get("next", ""))
    if not steps.steps_of(user).owes:
        return redirect(leads_to)
    due = steps.due_for(user, now)
    request.session[steps.TOLD] = True
    context = {
        "due": due,
        "is_late": now >= due,
        "leads_to": leads_to,
        "has_passkeys": site_of(request) is not None,
    }
    return page(request, "coachbook/second_step.html", context, secret=True)


@asks_password("POST")
@require_http_methods(["GET", "POST"])
def ask_second_step(request: HttpRequest) -> HttpResponse:
    """Of whom the club asks a second step, and who has one; for who runs the club."""
    host, club = host_of(request), Club.objects.get()
    sent = request.POST if request.method == "POST" else None
    form = SecondStepForm(sent, initial={"asked_of": club.asks_second_step})
    if form.is_valid():
        steps.ask_for_second_step(host, AskedOf(form.cleaned_data["asked_of"]))
        messages.success(request, _("Saved."))
        return redirect("ask-second-step")
    rule, now = AskedOf(club.asks_second_step), timezone.now()
    rows = [
        {
            "person": person,
            "is_asked": steps.is_asked(person, rule, leads=person.leads),  # type: ignore[attr-defined]
            "is_late": person.second_step_by is not None and now >= person.second_step_by,
        }
        for person in steps.people_with_steps()
    ]
    context = {
        "section": "staff",
        "form": form,
        "rows": rows,
        "days": steps.GRACE.days,
    }
    return page(request, "coachbook/ask_second_step.html", context, status=status_of(form))
