"""A forgotten password helped by mail, and the address to which it is sent."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Concatenate, ParamSpec

from django.conf import settings
from django.contrib import messages
from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from coachbook.accounts import mail
from coachbook.accounts.forms import ForgottenForm, MailForm
from shared.access import user_of
from shared.models import User
from shared.pages import page, status_of
from shared.sure import asks_password

P = ParamSpec("P")
View = Callable[Concatenate[HttpRequest, P], HttpResponse]


def needs_mail(view: View[P]) -> View[P]:
    """A page that is there only where a mail server is named."""

    @wraps(view)
    def guarded(request: HttpRequest, /, *args: P.args, **kwargs: P.kwargs) -> HttpResponse:
        if not settings.HAS_MAIL:
            raise Http404
        return view(request, *args, **kwargs)

    return guarded


@login_not_required
@needs_mail
@require_http_methods(["GET", "POST"])
def forgotten(request: HttpRequest) -> HttpResponse:
    """Ask for a way back in; the answer is the same for every name."""
    form = ForgottenForm(request.POST if request.method == "POST" else None)
    if form.is_valid() and _asked(request, form, "username"):
        told = _(
            "If somebody signs in with that name and has left a mail address, a link is on its "
            "way. It opens once, within an hour."
        )
        messages.success(request, told)
        return redirect("sign-in")
    context = {"form": form}
    return page(request, "coachbook/forgotten.html", context, status=status_of(form), secret=True)


@needs_mail
@asks_password("GET", "POST")
@require_http_methods(["GET", "POST"])
def mail_address(request: HttpRequest) -> HttpResponse:
    """Name the address for a forgotten password; it counts once a mail to it was opened."""
    user = user_of(request)
    sent = request.POST if request.method == "POST" else None
    form = MailForm(sent, initial={"mail": user.email})
    if form.is_valid():
        address = form.cleaned_data["mail"]
        if not address or address == user.email:
            if user.email and not address:
                mail.set_address(user, "")
                messages.success(request, _("No mail is sent to you any more."))
            return redirect("account")
        if _asked(request, form, "mail", user):
            told = _("A mail is on its way to %(mail)s: open its link on this device.")
            messages.success(request, told % {"mail": address})
            return redirect("account")
    context = {"form": form}
    return page(request, "coachbook/mail.html", context, status=status_of(form), secret=True)


def _asked(
    request: HttpRequest, form: ForgottenForm | MailForm, field: str, user: User | None = None
) -> bool:
    try:
        mail.ask(request, form.cleaned_data[field], user)
    except mail.AskedTooOftenError:
        form.add_error(field, _("Many mails were asked for lately: try again in an hour."))
        return False
    return True


@needs_mail
@require_http_methods(["GET", "POST"])
def prove_mail(request: HttpRequest, token: str) -> HttpResponse:
    """Take the address that a mail has reached. The GET only asks, as sign-in links do."""
    user = user_of(request)
    address = mail.proved(token, user)
    if address is None:
        return page(request, "coachbook/link_closed.html", {}, status=404)
    if request.method == "POST":
        mail.set_address(user, address)
        messages.success(request, _("Saved."))
        return redirect("account")
    return page(request, "coachbook/mail_proved.html", {"address": address}, secret=True)
