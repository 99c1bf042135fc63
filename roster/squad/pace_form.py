"""The form for a team's own pace: its sprint times, its constants, its players' times."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from typing import Any, Final

from django import forms
from django.utils.translation import gettext as _t
from django.utils.translation import gettext_lazy as _

from plays.core.motion.meaning import Meaning, meaning
from plays.core.motion.pace import PACES, Pace
from plays.core.motion.sprint import BEHIND_GATE
from plays.core.motion.team_pace import EDITABLE, TeamPace, Timed, bounds
from plays.core.play import AgeGroup
from roster.models import Player, Team
from shared.forms import CellsForm
from shared.said import figure_said, sources_said

TEN: Final = (1.2, 6.0)  # seconds over 10 m that can be true
TWENTY: Final = (2.2, 12.0)
GATE: Final = (0.0, 2.0)


@dataclass(frozen=True, slots=True)
class ConstantRow:
    """One constant: what the table of the age group says, and the field for the team's own."""

    name: str
    meaning: Meaning
    says: str
    source: str
    usual: str
    field: forms.BoundField


@dataclass(frozen=True, slots=True)
class TimesRow:
    """Somebody's times, and the top speed that follows from those that are saved."""

    player: Player
    fields: tuple[forms.BoundField, ...]
    top_speed: float | None


class PaceForm(CellsForm):
    """Every field may stay empty: what is not known is taken from the age group's row."""

    def __init__(self, *args: Any, team: Team, squad: Iterable[Player], **kwargs: Any) -> None:
        self.team, self.squad = team, list(squad)
        self.age = AgeGroup(team.age_group)
        self.known = TeamPace.from_json(team.pace, {})
        super().__init__(*args, **kwargs)
        self._add_times("team", self.known.timed)
        for player in self.squad:
            gate = BEHIND_GATE if player.sprint_gate is None else player.sprint_gate
            self._add_times(str(player.pk), Timed(player.sprint_10, player.sprint_20, gate))
        for name in EDITABLE:
            self._add_number(
                f"c-{name}", _inward(*bounds(name)), self.known.constants.get(name), name
            )
        self.carry_what_is_shown()

    def _add_times(self, who: str, timed: Timed) -> None:
        gate = timed.gate if timed.splits else None
        self._add_number(f"ten-{who}", TEN, timed.ten, _("10 m, seconds"))
        self._add_number(f"twenty-{who}", TWENTY, timed.twenty, _("20 m, seconds"))
        self._add_number(f"gate-{who}", GATE, gate, _("To the gate, metres"))

    def _add_number(
        self, name: str, limits: tuple[float, float], value: float | None, label: Any
    ) -> None:
        field = forms.FloatField(
            required=False, min_value=limits[0], max_value=limits[1], initial=value, label=label
        )
        field.widget.attrs.update({"step": "any", "inputmode": "decimal"})
        if name.startswith("gate-"):
            field.widget.attrs["placeholder"] = f"{BEHIND_GATE:g}"
        self.fields[name] = field

    def times(self, who: str) -> tuple[forms.BoundField, ...]:
        return tuple(self[f"{kind}-{who}"] for kind in ("ten", "twenty", "gate"))

    def team_times(self) -> tuple[forms.BoundField, ...]:
        return self.times("team")

    def people(self) -> Iterator[TimesRow]:
        """The squad with its times, each with the speed that its saved times give."""
        base = self.known.base(self.age)
        for player in self.squad:
            gate = BEHIND_GATE if player.sprint_gate is None else player.sprint_gate
            saved = Timed(player.sprint_10, player.sprint_20, gate)
            own = _fitted(base, saved).top_speed if saved.splits else None
            yield TimesRow(player, self.times(str(player.pk)), own)

    def constants(self) -> Iterator[ConstantRow]:
        row = PACES[self.age].to_json()
        for name in EDITABLE:
            told = meaning(self.age, name)
            says, source = _t(told.says), sources_said(told.sources)
            yield ConstantRow(name, told, says, source, figure_said(row[name]), self[f"c-{name}"])

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        for who in ("team", *(str(player.pk) for player in self.squad)):
            ten, twenty = cleaned.get(f"ten-{who}"), cleaned.get(f"twenty-{who}")
            if ten is not None and twenty is not None and twenty <= ten:
                self.add_error(f"twenty-{who}", _t("20 m take longer than 10 m."))
        if cleaned.get("c-top_speed") is not None and self._timed("team").splits:
            self.add_error(
                "c-top_speed", _t("Give the team's sprint times or its top speed, not both.")
            )
        return cleaned

    def _timed(self, who: str) -> Timed:
        said = self.cleaned_data
        gate = said.get(f"gate-{who}")
        return Timed(
            said.get(f"ten-{who}"),
            said.get(f"twenty-{who}"),
            BEHIND_GATE if gate is None else gate,
        )

    def pace(self) -> TeamPace:
        """What the team keeps of itself."""
        given = {name: self.cleaned_data.get(f"c-{name}") for name in EDITABLE}
        own = {name: value for name, value in given.items() if value is not None}
        return TeamPace(own, self._timed("team"))

    def changed_players(self) -> list[Player]:
        """The players whose times are others now, with these times, not saved."""
        changed = []
        for player in self.squad:
            timed = self._timed(str(player.pk))
            new = (timed.ten, timed.twenty, self.cleaned_data.get(f"gate-{player.pk}"))
            if new != (player.sprint_10, player.sprint_20, player.sprint_gate):
                player.sprint_10, player.sprint_20, player.sprint_gate = new
                changed.append(player)
        return changed


def _fitted(base: Pace, timed: Timed) -> Pace:
    return base.with_splits(timed.splits, timed.gate)


def _inward(low: float, high: float) -> tuple[float, float]:
    """The same limits in three figures, neither beyond the true one, so that they can be told."""

    def told(limit: float, rounding: str) -> float:
        exact = Decimal(repr(limit))
        return float(exact.quantize(Decimal(1).scaleb(exact.adjusted() - 2), rounding))

    return told(low, ROUND_CEILING), told(high, ROUND_FLOOR)
