"""Before rights, links, exports and erasing the password is asked again.

Who has signed in, or said the password here, within ``LASTS`` is not asked; but a link is no
password, and who came by one is asked where there is a password to say. The question stands at the
address of what was asked for and carries what was sent, so that nothing is typed twice.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any, Concatenate, Final, ParamSpec

from django import forms
from django.contrib import messages
from django.contrib.auth import authenticate
from django.contrib.auth.signals import user_logged_in
from django.dispatch import receiver
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.translation import gettext as _t
from django.utils.translation import gettext_lazy as _

from shared.access import user_of
from shared.forms import ClearForm
from shared.models import User
from shared.pages import page, status_of

LASTS: Final = 10 * 60  # seconds
KEPT: Final = "sure_at"
PASSWORD: Final = "sure_password"
WAS_GET: Final = "sure_get"
P = ParamSpec("P")
View = Callable[Concatenate[HttpRequest, P], HttpResponse]


class SureForm(ClearForm):
    """The present password; wrong tries count towards the lock of the name."""

    sure_password = forms.CharField(
        label=_("Your password"),
        strip=False,
        max_length=200,
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password", "autofocus": True}),
    )

    def __init__(self, data: Any, *, request: HttpRequest, person: User) -> None:
        super().__init__(data)
        self.request, self.person = request, person

    def clean_sure_password(self) -> str:
        said: str = self.cleaned_data[PASSWORD]
        if authenticate(self.request, username=self.person.username, password=said) is None:
            raise forms.ValidationError(_t("This is not your present password."))
        return said


def is_sure(request: HttpRequest) -> bool:
    """Whether the person at this device has just said the password."""
    since = timezone.now().timestamp() - request.session.get(KEPT, 0)
    return bool(0 <= since < LASTS)


def be_sure(request: HttpRequest) -> None:
    request.session[KEPT] = timezone.now().timestamp()


def be_unsure(request: HttpRequest) -> None:
    """Ask for the password from now on, as if it had been said long ago."""
    request.session.pop(KEPT, None)


@receiver(user_logged_in, dispatch_uid="sure")
def _has_signed_in(request: HttpRequest, **_facts: Any) -> None:
    be_sure(request)


def asks_password(*methods: str) -> Callable[[View[P]], View[P]]:
    """A view that asks for the password before it is run by one of these methods.

    It stands above the view's other decorators. Who has no password yet is led to choose one.
    """

    def wrap(view: View[P]) -> View[P]:
        @wraps(view)
        def guarded(request: HttpRequest, /, *args: P.args, **kwargs: P.kwargs) -> HttpResponse:
            asked = request.method in methods or WAS_GET in request.POST
            if asked and not is_sure(request):
                question = _question(request)
                if question is not None:
                    return question
            if WAS_GET in request.POST:
                return redirect(request.get_full_path())
            return view(request, *args, **kwargs)

        return guarded

    return wrap


def _question(request: HttpRequest) -> HttpResponse | None:
    """The page that asks; None once the password is said and right."""
    person = user_of(request)
    if not person.has_usable_password():
        messages.info(request, _t("Choose a password first: it is asked for before this."))
        return redirect("account")
    data = request.POST if PASSWORD in request.POST else None
    form = SureForm(data, request=request, person=person)
    if data is not None and form.is_valid():
        be_sure(request)
        return None
    context = {"form": form, "carried": _carried(request)}
    return page(request, "parts/ask_password.html", context, status=status_of(form), secret=True)


def _carried(request: HttpRequest) -> list[tuple[str, str]]:
    """What was sent, to be sent again with the password."""
    if request.method == "GET":
        return [(WAS_GET, "1")]
    left_out = {PASSWORD, "csrfmiddlewaretoken"}
    sent = request.POST.lists()
    return [(name, value) for name, values in sent if name not in left_out for value in values]
