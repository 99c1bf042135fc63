"""The form of a drill, and the choice of drills to take over from another team."""

from __future__ import annotations

from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext_lazy as _

from practice.models import Drill
from roster.models import Team
from roster.squad.forms import TeamRowForm
from shared.forms import ClearForm, RowsField
from shared.photos import ACCEPTED


class DrillForm(TeamRowForm):
    file = forms.Field(
        label=_("Picture (JPEG, PNG or WebP)"),
        required=False,
        widget=forms.FileInput(attrs={"accept": ACCEPTED}),
        help_text=_("A sketch or a photo of the board. Photograph no people."),
    )
    no_picture = forms.BooleanField(label=_("Without the picture"), required=False)

    class Meta:
        model = Drill
        fields = ("name", "minutes", "purpose", "equipment", "text")
        widgets: ClassVar[dict[str, Any]] = {"text": forms.Textarea(attrs={"rows": 6})}

    def __init__(self, *args: Any, team: Team, **kwargs: Any) -> None:
        super().__init__(*args, team=team, **kwargs)
        if not self.instance.picture_mark:
            del self.fields["no_picture"]


class DrillsField(RowsField):
    """Drills of several teams, each with its team."""

    def label_from_instance(self, obj: Drill) -> str:
        return f"{obj.name} · {obj.team}"


class TakeOverForm(ClearForm):
    """Drills of the other teams that somebody is on the staff of."""

    drills = DrillsField(queryset=None, widget=forms.CheckboxSelectMultiple, label=_("Drills"))

    def __init__(self, *args: Any, teams: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        field = self.fields["drills"]
        assert isinstance(field, forms.ModelMultipleChoiceField)
        rows = Drill.objects.filter(team__in=teams).select_related("team").without_picture()
        field.queryset = rows.order_by("team__name", "team__season", "name")
