"""Passkeys: asked for at the door, added to and removed from one's own account."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth import authenticate
from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from coachbook.accounts import entry, passkeys
from coachbook.accounts.devices import in_words
from coachbook.accounts.forms import PasskeyForm
from coachbook.accounts.onward import onward
from coachbook.accounts.sign_in_log import WayIn
from coachbook.accounts.views_staff import host_of
from shared.access import one_of, user_of
from shared.models import User
from shared.pages import page, status_of
from shared.sure import asks_password

JSON = "application/json"


def site_here(request: HttpRequest) -> passkeys.Site:
    """Under which name passkeys work here. Raises Http404 where they do not."""
    site = passkeys.site_of(request)
    if site is None:
        raise Http404
    return site


@login_not_required
@require_POST
def ask_to_sign_in(request: HttpRequest) -> HttpResponse:
    """What the browser is to show to a device, whoever's it is."""
    site = site_here(request)
    question = passkeys.ask(request, passkeys.SIGN_IN)
    return HttpResponse(passkeys.as_json_to_sign_in(site, question), content_type=JSON)


@login_not_required
@require_POST
def enter_by_passkey(request: HttpRequest) -> HttpResponse:
    """Sign in whom a device answers for; no code is asked, as the device has asked for its own."""
    site = site_here(request)
    question = passkeys.asked(request, passkeys.SIGN_IN)
    wish = request.POST.get("next", "")
    if request.user.is_authenticated:
        return redirect("home")
    text = request.POST.get("said", "")[: passkeys.LONGEST]
    said = passkeys.Said(site, question, text) if question else None
    name = passkeys.counted_as(passkeys.found(text))
    user = authenticate(request, username=name, passkey=said) if said else None
    if not isinstance(user, User):
        messages.error(
            request, _("This passkey did not sign you in. Try it again, or say the password.")
        )
        return redirect(f"{reverse('sign-in')}?{urlencode({'next': wish})}" if wish else "sign-in")
    return entry.sign_in(request, user, onward(request, wish), how=WayIn.PASSKEY)


@asks_password("GET", "POST")
@require_http_methods(["GET", "POST"])
def own_passkeys(request: HttpRequest) -> HttpResponse:
    """Somebody's own passkeys, and adding one more."""
    site, user = site_here(request), user_of(request)
    if not user.has_usable_password():
        messages.info(request, _("Choose a password first: it is asked for before this."))
        return redirect("account")
    sent = request.POST if request.method == "POST" else None
    form = PasskeyForm(sent, initial={"name": in_words(request.headers.get("User-Agent", ""))})
    if form.is_valid():
        question = passkeys.asked(request, passkeys.ADD)
        try:
            if question is None:
                raise passkeys.PasskeyError  # noqa: TRY301 - one answer for both
            said = passkeys.Said(site, question, form.cleaned_data["said"])
            passkeys.add(user, form.cleaned_data["name"], said)
        except passkeys.PasskeyError:
            form.add_error(None, _("No passkey was made. Press the button once more."))
        else:
            messages.success(request, _("From now on this passkey signs you in."))
            return redirect("passkeys")
    rows = list(user.passkeys.all())
    context = {"form": form, "passkeys": rows, "full": len(rows) >= passkeys.MOST}
    return page(request, "coachbook/passkeys.html", context, status=status_of(form), secret=True)


@asks_password("POST")
@require_POST
def ask_to_add(request: HttpRequest) -> HttpResponse:
    """What the browser is to show to the device that makes a passkey."""
    site, user = site_here(request), user_of(request)
    question = passkeys.ask(request, passkeys.ADD, passkeys.handle_of(user))
    return HttpResponse(passkeys.as_json_to_add(site, user, question), content_type=JSON)


@asks_password("POST")
@require_POST
def remove_passkey(request: HttpRequest, pk: int) -> HttpResponse:
    """End one of one's own passkeys. Raises Http404 for somebody else's."""
    site_here(request)
    user = user_of(request)
    passkeys.remove(user, one_of(user.passkeys.all(), pk=pk))
    messages.success(request, _("That passkey opens nothing any more."))
    return redirect("passkeys")


@asks_password("POST")
@require_POST
def end_persons_passkeys(request: HttpRequest, pk: int) -> HttpResponse:
    """End all passkeys of somebody who has lost a device; for who runs the club."""
    host = host_of(request)
    person = one_of(User.objects.filter(is_active=True), pk=pk)
    if passkeys.remove_all(host, person):
        told = _("No passkey of %(name)s opens anything any more.")
        messages.success(request, told % {"name": person})
    return redirect("staff-person", pk)
