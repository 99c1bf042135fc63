"""The form of what plays are chosen for: occasions, the date, the minutes, the opponents."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final

from django import forms
from django.utils.formats import date_format
from django.utils.translation import gettext as _t
from django.utils.translation import gettext_lazy as _

from plays.core.defence.verdict import Tactic
from plays.core.defence.words import TACTICS
from practice.choosing.asked import AskedPackage
from practice.core.choosing.question import Occasion
from practice.core.choosing.words import OCCASIONS
from practice.core.learning.coming import KINDS
from shared import stood
from shared.core.language import sentence
from shared.forms import ClearForm, tell_what_stands
from shared.speech import language_now

MOST_MINUTES: Final = 3000  # fifty hours: more than a season installs
MOST_PARTS: Final = 100


class PackageTermsForm(ClearForm):
    """What is left empty is as usual: minutes from the calendar, opponents as they were seen."""

    occasions = forms.MultipleChoiceField(
        label=_("What the package has to cover"),
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )
    game = forms.ChoiceField(label=_("To be ready for"), required=False)
    minutes = forms.IntegerField(
        label=_("Minutes for learning until then"),
        required=False,
        min_value=0,
        max_value=MOST_MINUTES,
        help_text=_("Left empty: what the practices until then have for installing."),
    )

    def __init__(self, *args: Any, asked: AskedPackage, **kwargs: Any) -> None:
        self.asked, self.now = asked, self._stands(asked)
        speech = language_now()
        initial = self.now | {stood.FIELD: stood.mark_of(self.now)}
        super().__init__(*args, initial=initial, **kwargs)
        self.fields[stood.FIELD] = forms.CharField(required=False, widget=forms.HiddenInput)
        occasions, game = self.fields["occasions"], self.fields["game"]
        assert isinstance(occasions, forms.MultipleChoiceField)
        assert isinstance(game, forms.ChoiceField)
        occasions.choices = [(each.value, speech.say(OCCASIONS[each])) for each in Occasion]
        game.choices = [
            ("", _t("the next game with a practice before it")),
            *((str(g.pk), f"{g.opponent}, {date_format(g.date, _t('j F'))}") for g in asked.games),
        ]
        for tactic in KINDS:
            self.fields[tactic.value] = self._part(tactic, sentence(speech.say(TACTICS[tactic])))

    def _part(self, tactic: Tactic, label: str) -> forms.IntegerField:
        """Left empty it is what was seen, which stands in it faintly, of a hundred."""
        seen = self.asked.facing.expected(tactic)
        shown = {} if seen is None or self.asked.facing.is_own else {"placeholder": str(seen)}
        return forms.IntegerField(
            label=label,
            required=False,
            min_value=0,
            max_value=MOST_PARTS,
            widget=forms.NumberInput(attrs=shown),
        )

    def clean(self) -> dict[str, Any]:
        """What somebody else has set meanwhile is told, and sent again it is overwritten."""
        cleaned = super().clean() or self.cleaned_data
        cleaned |= {tactic.value: cleaned.get(tactic.value) or None for tactic in KINDS}
        if seen := cleaned.get(stood.FIELD):
            tell_what_stands(self, seen, self.now)
        return cleaned

    def parts(self) -> Iterator[forms.BoundField]:
        """The fields of the opponents' defences."""
        return (self[tactic.value] for tactic in KINDS)

    def terms(self) -> dict[str, Any]:
        """The fields of PackageWishes, once the form is valid."""
        said = self.cleaned_data
        if "as_seen" in self.data:  # the button that takes the coach's own parts away
            said |= {tactic.value: None for tactic in KINDS}
        shares = {tactic.value: said.get(tactic.value) or 0 for tactic in KINDS}
        return {
            "occasions": list(said["occasions"]),
            "game_id": int(said["game"]) if said["game"] else None,
            "minutes": said["minutes"],
            "shares": {name: part for name, part in shares.items() if part},
        }

    @staticmethod
    def _stands(asked: AskedPackage) -> dict[str, Any]:
        wishes = asked.wishes
        return {
            "occasions": sorted(each.value for each in asked.question.occasions),
            "game": "" if wishes.game_id is None else str(wishes.game_id),
            "minutes": wishes.minutes,
            **{tactic.value: wishes.shares.get(tactic.value) or None for tactic in KINDS},
        }
