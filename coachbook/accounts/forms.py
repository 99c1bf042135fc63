"""Forms of the site itself: the first page, accounts and staff."""

from __future__ import annotations

from typing import Any

from django import forms
from django.contrib.auth.forms import AuthenticationForm
from django.contrib.auth.password_validation import validate_password
from django.core.validators import RegexValidator
from django.utils.translation import gettext_lazy as _

from roster.models import Duty, Team
from shared.forms import ClearForm
from shared.models import User

SIGN_IN_NAME = RegexValidator(
    r"^[a-z0-9][a-z0-9.@_-]{1,58}$", _("Use small letters, digits, dots and dashes only.")
)


def clean_new_name(value: str) -> str:
    """A sign-in name that nobody has yet. Raises ValidationError."""
    name = value.strip().lower()
    SIGN_IN_NAME(name)
    if User.objects.filter(username=name).exists():
        raise forms.ValidationError(_("Somebody signs in with that name already."))
    return name


class PasswordField(forms.CharField):
    def __init__(self, **kwargs: Any) -> None:
        widget = forms.PasswordInput(attrs={"autocomplete": "new-password"})
        super().__init__(widget=widget, strip=False, **kwargs)


class SetUpForm(ClearForm):
    """The club and the head coach's account, asked once."""

    club = forms.CharField(label=_("Name of the club"), max_length=80)
    name = forms.CharField(label=_("Your name"), max_length=60)
    username = forms.CharField(
        label=_("Name to sign in with"), max_length=60, help_text=_("Small letters, no spaces.")
    )
    password = PasswordField(label=_("Password"), help_text=_("Ten characters or more."))

    def clean_username(self) -> str:
        return clean_new_name(self.cleaned_data["username"])

    def clean_password(self) -> str:
        password: str = self.cleaned_data["password"]
        validate_password(password)
        return password


class SignInForm(AuthenticationForm):
    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs.setdefault("label_suffix", "")
        super().__init__(*args, **kwargs)
        self.fields["username"].label = _("Name")


class NewPasswordForm(ClearForm):
    password = PasswordField(label=_("New password"), help_text=_("Ten characters or more."))

    def clean_password(self) -> str:
        password: str = self.cleaned_data["password"]
        validate_password(password)
        return password


class InviteForm(ClearForm):
    """A new person of the staff: the answer is a link to hand over."""

    name = forms.CharField(label=_("Name"), max_length=60)
    username = forms.CharField(label=_("Name to sign in with"), max_length=60)
    team = forms.ModelChoiceField(Team.objects.all(), label=_("Team"), required=False)
    duty = forms.ChoiceField(label=_("Duty"), choices=Duty, initial=Duty.ASSISTANT)
    keeps_library = forms.BooleanField(label=_("Keeps the play library"), required=False)

    def clean_username(self) -> str:
        return clean_new_name(self.cleaned_data["username"])
