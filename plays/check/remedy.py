"""Applying a remedy of the check: into the play's draft, never into what is published."""

from __future__ import annotations

import json
from typing import Any, Final

from django import forms
from django.utils.translation import gettext as _

from plays.core.check.remedy import Fix, apply_remedy
from plays.core.document.form import problems
from plays.library.changes import save_draft
from plays.models import Play, Revision
from plays.values import play_value
from shared.forms import ClearForm
from shared.models import User

LONGEST: Final = 10.0  # seconds by which a remedy may move a start


class RemedyForm(ClearForm):
    """A remedy as the check gave it, and what the keeper had before their eyes."""

    fix = forms.CharField(max_length=2000)
    note = forms.CharField(max_length=200, required=False)
    seen = forms.CharField(max_length=64)

    def clean_fix(self) -> Fix:
        try:
            data: Any = json.loads(self.cleaned_data["fix"])
            fix = Fix.from_json(data)
        except (TypeError, ValueError) as wrong:
            raise forms.ValidationError(_("This is no remedy.")) from wrong
        if abs(fix.later) > LONGEST:
            raise forms.ValidationError(_("This is no remedy."))
        return fix


def apply(play: Play, shown: Revision, form: RemedyForm, user: User) -> Revision:
    """The draft in which the remedy is applied to the revision that was shown.

    Raises ValueError where it does not fit, ChangedMeanwhileError where the revision shown
    is not the newest any more.
    """
    said = form.cleaned_data
    mended = apply_remedy(play_value(shown), said["fix"])
    if problems(mended):
        raise ValueError("the remedy would leave the play with faults of form")
    note = said["note"] or _("A remedy of the check")
    return save_draft(play, mended, user, note=note[:200], seen=said["seen"])
