"""The first page of a new installation."""

from __future__ import annotations

from django.contrib.auth import login
from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from coachbook.accounts.changes import found_club
from coachbook.accounts.forms import SetUpForm
from shared.models import Club
from shared.pages import page, status_of


@login_not_required
@require_http_methods(["GET", "POST"])
def set_up(request: HttpRequest) -> HttpResponse:
    """Ask for the club and the head coach's account; gone once there is a club."""
    if Club.objects.exists():
        raise Http404
    form = SetUpForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        user = found_club(**form.cleaned_data)
        login(request, user, backend="django.contrib.auth.backends.ModelBackend")
        return redirect("home")
    return page(request, "coachbook/set_up.html", {"form": form}, status=status_of(form))
