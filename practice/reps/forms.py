"""Forms for reps: one run put in by hand, and a file of taps."""

from __future__ import annotations

import uuid
from collections.abc import Sequence
from typing import Any

from django import forms
from django.conf import settings
from django.utils.translation import gettext_lazy as _

from plays.core.play import ROLES, Role
from practice.core.reps.rep import Mode, Rep, Slip
from practice.models import PRACTICE_MODES, Practice, SlipChoice
from roster.models import PackagePlay, Player
from shared.forms import ClearForm

Calls = Sequence[tuple[str, str]]  # as a rep keeps it, and as it is heard


class RepForm(ClearForm):
    """One run of a play: which, how, who in which role, and how it went.

    ``id`` is made with the form, so that sending it twice is one rep; ``calls`` are those of a play
    that has several.
    """

    id = forms.UUIDField(widget=forms.HiddenInput)
    mode = forms.ChoiceField(label=_("Mode"), choices=PRACTICE_MODES)
    erred = forms.ChoiceField(
        label=_("Who erred"), choices=[("", "–"), *((r, r) for r in ROLES)], required=False
    )
    slip = forms.ChoiceField(
        label=_("What"), choices=[("", "–"), *SlipChoice.choices], required=False
    )

    def __init__(self, *args: Any, squad: list[Player], calls: Calls = (), **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["id"].initial = uuid.uuid4
        self.calls = calls
        if calls:
            heard = [(str(n), said) for n, (_typed, said) in enumerate(calls)]
            self.fields["call"] = forms.ChoiceField(
                label=_("Call"), choices=[("", "–"), *heard], required=False
            )
        choices = [("", "–"), *((str(player.pk), str(player)) for player in squad)]
        for role in ROLES:
            self.fields[f"role-{role}"] = forms.ChoiceField(
                choices=choices, required=False, label=_("Role %(role)s") % {"role": role}
            )

    def roles(self) -> list[forms.BoundField]:
        return [self[f"role-{role}"] for role in ROLES]

    def cast(self) -> tuple[tuple[Role, int], ...]:
        chosen = [(role, self.cleaned_data.get(f"role-{role}")) for role in ROLES]
        return tuple((role, int(player)) for role, player in chosen if player)

    def rep(self, practice: Practice, entry: PackagePlay, at: Any, *, clean: bool) -> Rep:
        """The rep as a value, for its check."""
        data = self.cleaned_data
        return Rep(
            id=str(data["id"]),
            practice=practice.pk,
            play=entry.pk,
            mode=Mode(data["mode"]),
            at=at,
            cast=self.cast(),
            clean=clean,
            erred=None if clean else data["erred"] or None,
            slip=Slip(data["slip"]) if data["slip"] and not clean else None,
            revision=entry.revision_id,
            call=self.calls[int(data["call"])][0] if data.get("call") else None,
        )

    def called(self) -> forms.BoundField | None:
        """The field for the call, where the play has several."""
        return self["call"] if "call" in self.fields else None

    def show(self, place: str, sentence: str) -> None:
        """Put a finding at the field that it speaks of."""
        parts = place.strip("/").split("/")
        name = f"role-{parts[1]}" if parts[0] == "cast" and len(parts) > 1 else parts[0]
        self.add_error(name if name in self.fields else None, sentence)


class TapFileForm(ClearForm):
    """The reps that a phone handed over."""

    file = forms.FileField(
        label=_("File of waiting reps"),
        widget=forms.ClearableFileInput(attrs={"accept": ".json,application/json"}),
    )

    def clean_file(self) -> Any:
        file = self.cleaned_data["file"]
        if file.size > settings.MAX_UPLOAD:
            raise forms.ValidationError(_("This file is too large to be waiting reps."))
        return file
