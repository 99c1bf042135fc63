"""The people of the staff: who they are, what they may do, and their sign-in links."""

from __future__ import annotations

from datetime import timedelta

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from coachbook.accounts import staff as changes
from coachbook.accounts.changes import RIGHTS, address_of, invite, rights_of
from coachbook.accounts.codes import codes_of
from coachbook.accounts.forms import GUEST_HAS_NO_MORE, InviteForm, PlaceForm, RightsForm
from shared.access import one_of, require, user_of
from shared.core.numbers import whole_number
from shared.models import SignInLink, User
from shared.once import atomic_post, once
from shared.pages import page, status_of
from shared.sure import asks_password

SHOWN = timedelta(minutes=10)  # in which an invitation can be looked at again


def host_of(request: HttpRequest) -> User:
    """Who runs the club, or PermissionDenied."""
    host = user_of(request)
    require(host.runs_club)
    return host


@asks_password("POST")
@require_http_methods(["GET", "POST"])
@once
def staff(request: HttpRequest) -> HttpResponse:
    """The people of the staff, and inviting one more."""
    host = host_of(request)
    form = InviteForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        made = invite(host, form.cleaned_data, timezone.now())
        return redirect(f"{reverse('staff-person', args=[made.user_id])}?link={made.pk}")
    everybody = list(changes.people())
    context = {
        "section": "staff",
        "form": form,
        "people": [person for person in everybody if person.is_active],
        "removed": [person for person in everybody if not person.is_active],
    }
    return page(request, "coachbook/staff.html", context, status=status_of(form), secret=True)


@asks_password("POST")
@require_http_methods(["GET", "POST"])
@atomic_post
def person(request: HttpRequest, pk: int) -> HttpResponse:
    """One person: places, rights, sign-in. A POST changes the rights."""
    host, rows = host_of(request), changes.people()
    found = one_of(rows.select_for_update() if request.POST else rows, pk=pk, is_active=True)
    sent = request.POST if request.method == "POST" else None  # no tick at all is an answer too
    form = RightsForm(sent, initial=_rights(found))
    if request.method == "POST" and form.is_valid():
        try:
            changes.set_rights(host, found, **form.cleaned_data)
        except changes.LastRunnerError:
            form.add_error("runs_club", _("Somebody has to run the club: give it away first."))
        except changes.GuestError:
            form.add_error("is_guest", GUEST_HAS_NO_MORE)
        else:
            messages.success(request, _("Saved."))
            goes_on = host.pk != pk or form.cleaned_data["runs_club"]
            return redirect("staff-person", pk) if goes_on else redirect("home")
    return _person_page(request, found, form, made=_just_made(request, found))


@asks_password("POST")
@require_POST
def place(request: HttpRequest, pk: int) -> HttpResponse:
    """Give somebody a place in a team."""
    host = host_of(request)
    found = one_of(changes.people(), pk=pk, is_active=True)
    form = PlaceForm(request.POST)
    if form.is_valid():
        try:
            changes.give_place(host, found, form.cleaned_data["team"], form.cleaned_data["duty"])
        except changes.GuestError:
            form.add_error("team", _("A guest of the library has no team: end that right first."))
    if not form.is_valid():
        return _person_page(request, found, RightsForm(initial=_rights(found)), form)
    messages.success(request, _("Saved."))
    return redirect("staff-person", pk)


@asks_password("POST")
@require_POST
def link(request: HttpRequest, pk: int) -> HttpResponse:
    """Make a new sign-in link and show it once: only its nonce is kept."""
    host = host_of(request)
    found = one_of(User.objects.filter(is_active=True), pk=pk)
    return _with_link(request, changes.issue_link(host, found, timezone.now()))


@require_POST
def withdraw(request: HttpRequest, pk: int) -> HttpResponse:
    """Close somebody's open sign-in links."""
    host = host_of(request)
    changes.withdraw_links(host, one_of(User.objects.all(), pk=pk))
    messages.success(request, _("The link opens nothing any more."))
    return redirect("staff-person", pk)


@asks_password("POST")
@require_http_methods(["GET", "POST"])
def remove(request: HttpRequest, pk: int) -> HttpResponse:
    """Ask once, then close somebody's account."""
    host = host_of(request)
    found = one_of(User.objects.filter(is_active=True), pk=pk)
    is_last = False
    if request.method == "POST":
        try:
            changes.remove(host, found)
        except changes.LastRunnerError:
            is_last = True
        else:
            messages.success(request, _("%(name)s is removed.") % {"name": found})
            return redirect("staff" if found.pk != host.pk else "sign-in")
    context = {"section": "staff", "person": found, "is_last": is_last}
    return page(request, "coachbook/remove_person.html", context, status=422 if is_last else 200)


@asks_password("POST")
@require_POST
def back(request: HttpRequest, pk: int) -> HttpResponse:
    """Open a closed account again, and show the link that opens it."""
    host = host_of(request)
    found = User.objects.filter(pk=pk).first()
    if found is None:
        raise Http404
    if found.is_active:
        return redirect("staff-person", pk)
    return _with_link(request, changes.bring_back(host, found, timezone.now()))


def _just_made(request: HttpRequest, found: User) -> SignInLink | None:
    """The invitation that has led here, for as long as its page may be looked at again."""
    since, number = timezone.now() - SHOWN, whole_number(request.GET.get("link", "")) or 0
    rows = found.sign_in_links.filter(once=True, used_at=None, made_at__gt=since)
    return rows.filter(pk=number).first()


def _rights(person: User) -> dict[str, bool]:
    return dict(zip(RIGHTS, rights_of(person), strict=True))


def _with_link(request: HttpRequest, made: SignInLink) -> HttpResponse:
    found = changes.people().get(pk=made.user_id)
    return _person_page(request, found, RightsForm(initial=_rights(found)), made=made)


def _person_page(
    request: HttpRequest,
    person: User,
    form: RightsForm,
    place_form: PlaceForm | None = None,
    made: SignInLink | None = None,
) -> HttpResponse:
    context = {
        "section": "staff",
        "person": person,
        "form": form,
        "place_form": place_form or PlaceForm(),
        "codes": codes_of(person),
        "passkeys": person.passkeys.count(),
        "address": address_of(made, request) if made else None,
    }
    status = max(status_of(form), status_of(place_form) if place_form else 200)
    return page(request, "coachbook/staff_person.html", context, status=status, secret=True)
