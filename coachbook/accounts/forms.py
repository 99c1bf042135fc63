"""Forms of the site itself: the first page, accounts and staff."""

from __future__ import annotations

from typing import Any

from django import forms
from django.contrib.auth import authenticate
from django.contrib.auth.forms import AuthenticationForm
from django.contrib.auth.password_validation import validate_password
from django.http import HttpRequest
from django.utils import timezone
from django.utils.translation import gettext as _t
from django.utils.translation import gettext_lazy as _

from coachbook.accounts.codes import as_typed, step_of
from coachbook.accounts.names import as_sign_in_name, is_sign_in_name, suggested
from coachbook.accounts.passkeys import LONGEST
from roster.models import Duty, Staff, Team
from shared.forms import CellsForm, ClearForm, speak_plainly
from shared.models import AskedOf, User

NAME_HINT = _("Capitals do not count. Left empty, it is the first name.")
NO_SIGN_IN_NAME = _("Two letters or digits at least; dots, dashes, @ and spaces may stand in it.")
GUEST_HAS_NO_MORE = _(
    "A guest of the library has no team and no other right: take these away first."
)
LENGTH_HINT = _("Twelve characters or more; four unrelated words are good.")


def clean_new_name(value: str) -> str:
    """A sign-in name that nobody has yet. Raises ValidationError."""
    name = as_sign_in_name(value)
    if not is_sign_in_name(name):
        raise forms.ValidationError(NO_SIGN_IN_NAME)
    if User.objects.filter(username=name).exists():
        raise forms.ValidationError(_("Somebody signs in with that name already."))
    return name


def clean_new_password(password: str, person: User) -> str:
    """A password that is not guessed early. Raises ValidationError with every reason."""
    validate_password(password, person)
    return password


class PasswordField(forms.CharField):
    def __init__(self, *, autocomplete: str = "new-password", **kwargs: Any) -> None:
        widget = forms.PasswordInput(attrs={"autocomplete": autocomplete})
        super().__init__(widget=widget, strip=False, max_length=200, **kwargs)


class NewNameField(forms.CharField):
    """A name to sign in with. A script suggests one while the person's name is typed."""

    def __init__(self, *, autocomplete: str = "off") -> None:
        attrs = {"autocomplete": autocomplete, "autocapitalize": "none"}
        attrs["data-suggested-from"] = "name"
        super().__init__(
            label=_("Name to sign in with"),
            max_length=60,
            required=False,
            help_text=NAME_HINT,
            widget=forms.TextInput(attrs=attrs),
        )


class NewNameForm(ClearForm):
    """Somebody new, with ``name`` and ``username``: left empty, that is one made of the name."""

    def clean_username(self) -> str:
        typed: str = self.cleaned_data["username"]
        if not typed.strip():
            taken = User.objects.filter
            typed = suggested(
                self.cleaned_data.get("name", ""), lambda name: taken(username=name).exists()
            )
        return clean_new_name(typed)


class GuestField(forms.BooleanField):
    """Another coach, who may look into the library."""

    def __init__(self) -> None:
        told = _("Another coach: reads published plays and saves copies of them, nothing else.")
        super().__init__(label=_("Guest of the library"), required=False, help_text=told)


class SetUpForm(NewNameForm):
    """The club and the head coach's account, asked once."""

    club = forms.CharField(label=_("Name of the club"), max_length=80)
    name = forms.CharField(label=_("Your name"), max_length=60)
    username = NewNameField(autocomplete="username")
    password = PasswordField(label=_("Password"), help_text=LENGTH_HINT)

    def clean_password(self) -> str:
        data = self.cleaned_data
        person = User(username=data.get("username", ""), name=data.get("name", ""))
        return clean_new_password(data["password"], person)


class SignInForm(AuthenticationForm):
    error_messages = AuthenticationForm.error_messages | {
        "invalid_login": _(
            "Name or password is not right. Capitals count in the password, not in the name."
        )
    }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs.setdefault("label_suffix", "")
        super().__init__(*args, **kwargs)
        self.fields["username"].label = _("Name")
        speak_plainly(self.fields.values())

    def clean_username(self) -> str:
        return as_sign_in_name(self.cleaned_data["username"])


class NewPasswordForm(ClearForm):
    """A new password, with the old one except for who has just come by a link."""

    old = PasswordField(label=_("Present password"), autocomplete="current-password")
    password = PasswordField(label=_("New password"), help_text=LENGTH_HINT)

    def __init__(self, request: HttpRequest, person: User, *, asks_old: bool) -> None:
        super().__init__(request.POST or None)
        self.request, self.person = request, person
        if not asks_old:
            del self.fields["old"]

    def clean_old(self) -> str:
        """Wrong tries count towards the lock of the name, as those of signing in do."""
        old: str = self.cleaned_data["old"]
        if authenticate(self.request, username=self.person.username, password=old) is None:
            raise forms.ValidationError(_("This is not your present password."))
        return old

    def clean_password(self) -> str:
        return clean_new_password(self.cleaned_data["password"], self.person)


class ForgottenForm(ClearForm):
    """Who wants a way back in."""

    username = forms.CharField(
        label=_("Name to sign in with"),
        max_length=60,
        widget=forms.TextInput(attrs={"autocomplete": "username"}),
    )

    def clean_username(self) -> str:
        return as_sign_in_name(self.cleaned_data["username"])


class MailForm(ClearForm):
    """Where a way back in is sent."""

    mail = forms.EmailField(
        label=_("Mail address"),
        max_length=254,
        required=False,
        help_text=_("Left empty, no mail is sent to you."),
        widget=forms.EmailInput(attrs={"autocomplete": "email"}),
    )


class CodeForm(ClearForm):
    """A code of the phone, or a recovery code; gaps between the digits do no harm."""

    code = forms.CharField(
        label=_("Code"),
        max_length=40,
        help_text=_("Six digits from your phone, or one of your recovery codes."),
        widget=forms.TextInput(
            attrs={"autocomplete": "one-time-code", "inputmode": "numeric", "autofocus": True}
        ),
    )


class FirstCodeForm(CodeForm):
    """The code that proves that the phone was set up; ``step`` is its half minute, once valid."""

    step = 0

    def __init__(self, data: Any, *, secret: str) -> None:
        super().__init__(data)
        self.secret = secret
        self.fields["code"].help_text = _("The six digits that it shows now.")
        del self.fields["code"].widget.attrs["autofocus"]  # the QR code comes first

    def clean_code(self) -> str:
        said = as_typed(self.cleaned_data["code"])
        step = step_of(self.secret, said, timezone.now().timestamp())
        if step is None:
            raise forms.ValidationError(
                _t("This code is not right. Do the clocks of your phone and of the server agree?")
            )
        self.step = step
        return said


class PasskeyForm(ClearForm):
    """What somebody calls a device, and what the device has said, as JSON."""

    name = forms.CharField(
        label=_("Name of the device"),
        max_length=60,
        help_text=_("So that you know later which one it is."),
    )
    said = forms.CharField(max_length=LONGEST, widget=forms.HiddenInput)


class SecondStepForm(ClearForm):
    """Of whom the club asks a second step to sign in."""

    asked_of = forms.ChoiceField(
        label=_("Of whom it is asked"), choices=AskedOf, required=False, widget=forms.RadioSelect
    )


class InviteForm(NewNameForm):
    """A new person of the staff: the answer is a link to hand over."""

    name = forms.CharField(label=_("Name"), max_length=60)
    username = NewNameField()
    team = forms.ModelChoiceField(Team.objects.all(), label=_("Team"), required=False)
    duty = forms.ChoiceField(label=_("Duty"), choices=Duty, initial=Duty.ASSISTANT)
    keeps_library = forms.BooleanField(label=_("Keeps the play library"), required=False)
    is_guest = GuestField()

    def clean(self) -> dict[str, Any]:
        data = self.cleaned_data
        if data.get("is_guest") and (data.get("team") or data.get("keeps_library")):
            self.add_error("is_guest", GUEST_HAS_NO_MORE)
        return data


class DutyForm(ClearForm):
    duty = forms.ChoiceField(label=_("Duty"), choices=Duty, initial=Duty.ASSISTANT)

    @classmethod
    def for_place(cls, place: Staff) -> DutyForm:
        """The form of one row among several: its field has a number and a name of its own."""
        form = cls(initial={"duty": place.duty}, auto_id=f"id_%s_{place.pk}")
        told = _("Duty of %(name)s") % {"name": place.user}
        form.fields["duty"].widget.attrs["aria-label"] = told
        return form


class PlaceForm(DutyForm):
    team = forms.ModelChoiceField(Team.objects.all(), label=_("Team"))
    field_order = ("team", "duty")


class RightsForm(CellsForm):
    """What somebody may do in the whole club, beyond their teams."""

    runs_club = forms.BooleanField(
        label=_("Runs the club"),
        required=False,
        help_text=_("Sees every team, makes teams, invites and removes staff."),
    )
    keeps_library = forms.BooleanField(label=_("Keeps the play library"), required=False)
    is_guest = GuestField()
