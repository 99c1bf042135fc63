"""One-time codes: asked for at the door, switched on and off on one's own account."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth import authenticate
from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_http_methods, require_POST

from coachbook.accounts import codes, devices, entry
from coachbook.accounts.forms import CodeForm, FirstCodeForm
from coachbook.accounts.views_staff import host_of
from roster.squad.links import qr_code
from shared.access import one_of, user_of
from shared.links import new_nonce
from shared.models import Club, OneTimeCodes, User
from shared.pages import page, status_of
from shared.sure import asks_password

# In the session: the nonce of the QR code that was shown, and of the one that was proved here. No
# row is made before the proof, and what was proved once is never shown again.
NONCE = "codes_nonce"
PROVED = "codes_proved"


@login_not_required
@require_http_methods(["GET", "POST"])
def enter_code(request: HttpRequest) -> HttpResponse:
    """Ask who has said the password for the code of their phone."""
    half = entry.who_owes(request)
    if half is None or request.user.is_authenticated:
        entry.forget(request)
        return redirect("sign-in")  # which leads on who is signed in
    form = CodeForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        said = form.cleaned_data["code"]
        if authenticate(request, username=half.user.username, code=said) is not None:
            _tell_what_is_left(request, half.codes, said)
            return entry.sign_in(
                request, half.user, half.leads_to, how=half.how, by_link=half.by_link
            )
        form.add_error("code", _why_not(half.codes))
    context = {"form": form, "person": half.user}
    return page(
        request, "coachbook/sign_in_code.html", context, status=status_of(form), secret=True
    )


def _why_not(row: OneTimeCodes) -> str:
    row.refresh_from_db()
    if codes.is_closed(row):
        return _(
            "Too many wrong codes: only a recovery code is taken now. Or who runs the club "
            "switches the codes off for you."
        )
    return _("This code is not right, or it was used already. Wait for the next one.")


def _tell_what_is_left(request: HttpRequest, row: OneTimeCodes, said: str) -> None:
    if len(codes.as_typed(said)) == codes.RECOVERY_DIGITS:
        left = codes.recovery_left(row)
        told = ngettext(
            "That recovery code is used up; %(n)d is left.",
            "That recovery code is used up; %(n)d are left.",
            left,
        )
        messages.warning(request, told % {"n": left})


@asks_password("GET", "POST")
@require_http_methods(["GET", "POST"])
def one_time_codes(request: HttpRequest) -> HttpResponse:
    """Set a phone up, and prove it by one code; once on, what there is and how to end it."""
    user = user_of(request)
    row = codes.codes_of(user)
    if row is None:
        return _set_up(request, user)
    if request.method == "POST" and row.nonce == request.session.get(PROVED):
        # Pressed twice: the codes that count are those of the answer that is seen.
        return _shown(request, codes.switch_on(user, row.nonce, row.last_step), is_first=True)
    context = {"codes": row, "left": codes.recovery_left(row)}
    return page(request, "coachbook/codes.html", context, secret=True)


def _set_up(request: HttpRequest, user: User) -> HttpResponse:
    nonce = request.session.setdefault(NONCE, new_nonce())
    secret = codes.secret_of(nonce, user)
    form = FirstCodeForm(request.POST if request.method == "POST" else None, secret=secret)
    if form.is_valid():
        shown = codes.switch_on(user, nonce, form.step)
        request.session[PROVED] = request.session.pop(NONCE)
        devices.end_others(user, request.session.session_key)
        return _shown(request, shown, is_first=True)
    address = codes.address_for_phone(secret, user, Club.objects.get().name)
    context = {
        "form": form,
        "qr": qr_code(address),
        "secret": " ".join(secret[n : n + 4] for n in range(0, len(secret), 4)),
    }
    status = status_of(form)
    return page(request, "coachbook/codes_set_up.html", context, status=status, secret=True)


def _shown(request: HttpRequest, shown: list[str], *, is_first: bool) -> HttpResponse:
    context = {"shown": shown, "is_first": is_first}
    return page(request, "coachbook/recovery_codes.html", context, secret=True)


@asks_password("POST")
@require_POST
def new_recovery_codes(request: HttpRequest) -> HttpResponse:
    """Eight new recovery codes, shown once: only their hashes are kept."""
    shown = codes.new_recovery_codes(user_of(request))
    return _shown(request, shown, is_first=False) if shown else redirect("codes")


@asks_password("POST")
@require_POST
def end_codes(request: HttpRequest) -> HttpResponse:
    """Switch one's own codes off."""
    if codes.switch_off(user_of(request), user_of(request)):
        messages.success(request, _("From now on the password alone signs you in."))
    return redirect("account")


@asks_password("POST")
@require_POST
def end_persons_codes(request: HttpRequest, pk: int) -> HttpResponse:
    """Switch off the codes of somebody who has lost the phone; for who runs the club."""
    host = host_of(request)
    found = one_of(User.objects.filter(is_active=True), pk=pk)
    if codes.switch_off(host, found):
        told = _("%(name)s is asked for no code any more.")
        messages.success(request, told % {"name": found})
    return redirect("staff-person", pk)
