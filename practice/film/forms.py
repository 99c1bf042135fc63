"""The form of a link to a film, and a time in it."""

from __future__ import annotations

import re
from typing import Any, Final
from urllib.parse import urlsplit

from django import forms
from django.core.validators import URLValidator
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from practice.models import LONGEST_FILM, LONGEST_LINK
from shared.forms import ClearForm

TIME: Final = re.compile(r"(?:(\d{1,2}):)?(\d{1,3}):([0-5]\d)", re.ASCII)


class FilmForm(ClearForm):
    """An address by https, without a name or password in it, and minutes and seconds."""

    address = forms.CharField(label=gettext_lazy("Link to the film"), max_length=LONGEST_LINK)
    time = forms.CharField(
        label=gettext_lazy("Time in the film"),
        required=False,
        max_length=9,
        help_text=gettext_lazy("Minutes and seconds, as in 4:30. Empty: from the start."),
    )

    def clean_address(self) -> str:
        said: str = self.cleaned_data["address"]
        try:
            URLValidator(schemes=["https"])(said)
            parts = urlsplit(said)
            fits = bool(parts.hostname) and parts.username is None and parts.password is None
        except (forms.ValidationError, ValueError):
            fits = False
        if not fits or not said.isascii() or not said.isprintable():
            raise forms.ValidationError(_("Write a link that begins with https:// and a site."))
        return said

    def clean_time(self) -> int:
        """Seconds."""
        said = self.cleaned_data["time"].strip()
        found = TIME.fullmatch(said or "0:00")
        parts = found.groups() if found else ("99", "0", "0")
        hours, minutes, seconds = (int(part or 0) for part in parts)
        total = 3600 * hours + 60 * minutes + seconds
        if total > LONGEST_FILM:
            raise forms.ValidationError(_("Write minutes and seconds, as in 4:30."))
        return total

    def facts(self) -> dict[str, Any]:
        """The fields of FilmLink, once the form is valid."""
        return {"address": self.cleaned_data["address"], "seconds": self.cleaned_data["time"]}
