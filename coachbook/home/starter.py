"""The plays that come with the app: shown as pictures, brought in where they are ticked."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from django import forms
from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext_lazy as _
from django.views.decorators.http import require_safe

from coachbook.demo.files import demo_plays
from plays.core.play import Play
from plays.files.bring_in import preview_of
from plays.files.file import FilePlay, PlayFile
from plays.library.browse import ANY, levels_up_to
from plays.models import AgeGroup, Situation
from shared.access import require, user_of
from shared.forms import ClearForm
from shared.pages import page


class StarterForm(ClearForm):
    """For what and for whom. Every field may be left out; what cannot be read is."""

    situation = forms.ChoiceField(
        label=_("Situation"), required=False, choices=[*ANY, *Situation.choices]
    )
    level = forms.ChoiceField(label=_("Suits"), required=False, choices=[*ANY, *AgeGroup.choices])

    def chosen(self, plays: Iterable[Play], ticked: Collection[str]) -> list[Play]:
        """Those that fit, by situation; what is ticked stays, whether it fits or not."""
        self.is_valid()
        situation, level = (self.cleaned_data.get(name) for name in ("situation", "level"))
        levels = levels_up_to(level) if level else AgeGroup.values
        order = list(Situation.values)
        found = (
            play
            for play in plays
            if play.key in ticked
            or (play.level in levels and situation in ("", None, play.situation.value))
        )
        return sorted(found, key=lambda play: order.index(play.situation.value))


@require_safe
def starter_plays(request: HttpRequest) -> HttpResponse:
    """Show those that fit, like the plays of a file: nothing is saved before it is sent."""
    user = user_of(request)
    require(user.may_edit_library)
    ticked = request.GET.getlist("play")
    form = StarterForm(request.GET)
    plays = form.chosen(demo_plays(), ticked)
    preview = preview_of(PlayFile(tuple(FilePlay(play.name, play, ()) for play in plays)))
    context = {
        "section": "library",
        "form": form,
        "preview": preview,
        "ticked": ticked,
        "is_filtered": len(plays) < len(demo_plays()),
    }
    return page(request, "plays/starter_plays.html", context)
