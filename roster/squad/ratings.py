"""The ratings of a whole squad on one grid: a row for each player, a column for each quality."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django import forms
from django.utils.translation import gettext as _t

from plays.core.play import Quality
from roster.core.people import RATED, RATINGS
from roster.models import Player
from roster.squad.forms import RATING_LABELS
from shared.forms import STANDS_NOW, ClearForm


class RatingsForm(ClearForm):
    """Every rating of every player; a cell that is empty is not rated.

    Each cell carries what it was shown with: what nobody changed here is left as it is, and a
    cell that somebody else has changed meanwhile is told instead of overwritten.
    """

    def __init__(self, *args: Any, squad: list[Player], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.squad = squad
        for player in squad:
            for quality in RATED:
                self.fields[_name(player, quality)] = _rating(player, quality)

    def rows(self) -> Iterator[tuple[Player, list[forms.BoundField]]]:
        """The players, each with the fields of the grid in the order of its columns."""
        for player in self.squad:
            yield player, [self[_name(player, quality)] for quality in RATED]

    def faulty(self) -> Iterator[tuple[str, forms.BoundField]]:
        """The cells that say something is wrong, each by player and quality."""
        for player, bounds in self.rows():
            for quality, bound in zip(RATED, bounds, strict=True):
                if bound.errors:
                    yield f"{player}, {RATING_LABELS[quality.value]}", bound

    def clean(self) -> dict[str, Any]:
        for player in self.squad:
            for quality in RATED:
                self._compare(player, quality)
        return self.cleaned_data

    def _compare(self, player: Player, quality: Quality) -> None:
        name, now = _name(player, quality), getattr(player, quality.value)
        if name not in self.cleaned_data or name not in self.changed_data:
            return
        seen = self.fields[name].to_python(self.data.get(f"initial-{name}"))
        if now not in (seen, self.cleaned_data[name]):
            data: Any = self.data  # what was sent is a QueryDict, which is copied to be changed
            self.data = data.copy()
            self.data[f"initial-{name}"] = "" if now is None else str(now)  # type: ignore[index]
            self.add_error(name, STANDS_NOW % {"value": now or _t("not rated")})

    def save(self) -> list[Player]:
        """Write what was changed, in one query; who has other ratings now."""
        changed = []
        for player in self.squad:
            mine = [quality for quality in RATED if _name(player, quality) in self.changed_data]
            for quality in mine:
                setattr(player, quality.value, self.cleaned_data[_name(player, quality)])
            if mine:
                changed.append(player)
        Player.objects.bulk_update(changed, [quality.value for quality in RATED])
        return changed


def _name(player: Player, quality: Quality) -> str:
    return f"{player.pk}-{quality.value}"


def _rating(player: Player, quality: Quality) -> forms.IntegerField:
    label = f"{player}, {RATING_LABELS[quality.value]}"
    signs = {"inputmode": "numeric", "maxlength": "1", "aria-label": label, "data-grid": ""}
    return forms.IntegerField(
        required=False,
        min_value=RATINGS[0],
        max_value=RATINGS[-1],
        initial=getattr(player, quality.value),
        show_hidden_initial=True,
        widget=forms.TextInput(attrs={**signs, "autocomplete": "off"}),
    )
