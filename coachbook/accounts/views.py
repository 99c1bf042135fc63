"""The first page, signing in and out, and one's own account."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.contrib import messages
from django.contrib.auth import logout, update_session_auth_hash
from django.contrib.auth.decorators import login_not_required
from django.contrib.auth.forms import AuthenticationForm
from django.contrib.auth.views import LoginView
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone
from django.utils.decorators import method_decorator
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from coachbook.accounts import devices
from coachbook.accounts.changes import (
    ClubExistsError,
    choose_password,
    found_club,
    open_link,
    opens_set_up,
    use_link,
)
from coachbook.accounts.codes import codes_of
from coachbook.accounts.entry import BY_LINK, ask_for_passkey, enter
from coachbook.accounts.forms import NewPasswordForm, SetUpForm, SignInForm
from coachbook.accounts.mail import failed_lately
from coachbook.accounts.passkeys import site_of
from coachbook.accounts.sign_in_log import WayIn, note_closed_link
from shared.access import user_of
from shared.models import Club
from shared.pages import page, status_of
from shared.sure import be_sure

FRESH = 15 * 60  # seconds in which a link that has signed somebody in stands for the old password


@method_decorator(login_not_required, name="dispatch")
class SignIn(LoginView):
    template_name = "coachbook/sign_in.html"
    authentication_form = SignInForm
    redirect_authenticated_user = True
    extra_context = {"base": "base.html", "has_mail": lambda: settings.HAS_MAIL}

    def get(self, request: HttpRequest, *args: object, **kwargs: object) -> HttpResponse:
        if not Club.objects.exists():
            return redirect("set-up")
        return super().get(request, *args, **kwargs)

    def get_context_data(self, **more: Any) -> dict[str, Any]:
        return super().get_context_data(has_passkeys=site_of(self.request) is not None, **more)

    def form_valid(self, form: AuthenticationForm) -> HttpResponse:
        return enter(self.request, form.get_user(), self.get_success_url(), how=WayIn.PASSWORD)


@login_not_required
@require_http_methods(["GET", "POST"])
def by_link(request: HttpRequest, token: str) -> HttpResponse:
    """Sign in through a link. The GET only asks: a chat that previews it must not use it up."""
    link = open_link(token, timezone.now())
    if link is not None and request.method == "GET":
        return page(request, "coachbook/sign_in_link.html", {"person": link.user}, secret=True)
    if link is not None and (asked := ask_for_passkey(request, link.user, WayIn.LINK)) is not None:
        return asked  # and the link is not used up
    if link is None or not use_link(link, timezone.now()):
        note_closed_link(request)
        return page(request, "coachbook/link_closed.html", {}, status=404)
    leads_to = reverse("account" if link.once else "home")
    return enter(request, link.user, leads_to, how=WayIn.LINK, by_link=link.once)


@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    """Also let the browser forget its pages, so that a step back shows none of them."""
    logout(request)
    response = redirect("sign-in")
    response.headers["Clear-Site-Data"] = '"cache"'
    return response


@require_http_methods(["GET", "POST"])
def account(request: HttpRequest) -> HttpResponse:
    """Choose a new password. Who has just come by a link need not know the old one."""
    user = user_of(request)
    by_link = _came_by_link(request)
    form = NewPasswordForm(request, user, asks_old=user.has_usable_password() and not by_link)
    if request.method == "POST" and form.is_valid():
        choose_password(user, form.cleaned_data["password"])
        devices.end_others(user, request.session.session_key)
        update_session_auth_hash(request, user)
        request.session.pop(BY_LINK, None)
        be_sure(request)
        messages.success(request, _("Your password is changed."))
        return redirect("home")
    context = {
        "form": form,
        "by_link": by_link and user.has_usable_password(),
        "codes": codes_of(user),
        "has_passkeys": site_of(request) is not None,
        "passkeys": user.passkeys.count(),
        "has_mail": settings.HAS_MAIL,
        "mail_fault": failed_lately(request, user, timezone.now()) if settings.HAS_MAIL else None,
        "devices": devices.devices_of(user, request.session.session_key),
    }
    return page(request, "coachbook/account.html", context, status=status_of(form), secret=True)


def _came_by_link(request: HttpRequest) -> bool:
    """Whether a link that opens once has opened this session a moment ago."""
    since = timezone.now().timestamp() - request.session.get(BY_LINK, 0)
    return bool(0 <= since < FRESH)


@login_not_required
@require_safe
def set_up(request: HttpRequest) -> HttpResponse:
    """Say where the first page is; gone once there is a club."""
    if Club.objects.exists():
        raise Http404
    return page(request, "coachbook/set_up_closed.html", {})


@login_not_required
@require_http_methods(["GET", "POST"])
def set_up_link(request: HttpRequest, token: str) -> HttpResponse:
    """Ask for the club and the head coach's account; gone once there is a club."""
    if Club.objects.exists() or not opens_set_up(token):
        raise Http404
    form = SetUpForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            user = found_club(**form.cleaned_data)
        except ClubExistsError as error:
            raise Http404 from error
        messages.success(request, _("You sign in as “%(name)s”.") % {"name": user.username})
        return enter(request, user, reverse("home"), how=WayIn.FIRST_PAGE)
    context = {"form": form}
    return page(request, "coachbook/set_up.html", context, status=status_of(form), secret=True)
