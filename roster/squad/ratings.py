"""The ratings of a whole squad on one grid: a row for each player, a column for each quality."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django import forms

from plays.core.play import Quality
from roster.core.people import RATED, RATINGS
from roster.models import Player
from roster.squad.forms import RATING_LABELS
from shared.forms import CellsForm


class RatingsForm(CellsForm):
    """Every rating of every player; a cell that is empty is not rated."""

    def __init__(self, *args: Any, squad: list[Player], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.squad = squad
        for player in squad:
            for quality in RATED:
                self.fields[_name(player, quality)] = _rating(player, quality)
        self.carry_what_is_shown()

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
        widget=forms.TextInput(attrs={**signs, "autocomplete": "off"}),
    )
