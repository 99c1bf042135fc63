"""The inputs of a check, each with where it comes from: nothing of ours is called published."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from django.utils.translation import gettext as _

from plays.core.check import count as findings_count
from plays.core.check.setting import Setting
from plays.core.defence import march as defence_march
from plays.core.defence import margin as defence_margin
from plays.core.defence import stance as defence_stance
from plays.core.defence import verdict as defence
from plays.core.motion.meaning import MEANING, Basis, meaning
from plays.core.motion.pace import PACES
from plays.core.motion.windows import COUNT
from plays.core.play import ROLES, Role


@dataclass(frozen=True, slots=True)
class Input:
    """A number that the check runs with. ``basis`` is its label, ``usual`` the table's number
    where the team has its own."""

    says: str
    value: str
    unit: str
    basis: str
    source: str
    usual: str = ""


@dataclass(frozen=True, slots=True)
class RolePace:
    """A role that runs at the speed of the person cast in it."""

    role: Role
    name: str
    top_speed: float


def basis_name(basis: Basis) -> str:
    return {
        Basis.PUBLISHED: _("published"),
        Basis.MEASURED: _("measured"),
        Basis.DERIVED: _("derived"),
        Basis.OURS: _("our choice"),
    }[basis]


def pace_inputs(setting: Setting) -> Iterator[Input]:
    """The constants of the clock, with the team's own where it has any."""
    row, used = PACES[setting.age].to_json(), setting.pace.base(setting.age, setting.effort)
    for name, value in used.to_json().items():
        told = meaning(setting.age, name)
        same = name == "effort" or abs(value - row[name]) < 1e-9
        yield Input(
            _(MEANING[name].says),
            f"{value:.3g}",
            told.unit,
            basis_name(told.basis) if same else _("the team's own"),
            told.source if same else _("Entered by the team's coach."),
            "" if same else f"{row[name]:.3g}",
        )


def defence_inputs() -> Iterator[Input]:
    """The constants of the defence and of the words: choices of ours but for the count."""
    ours, number = basis_name(Basis.OURS), "{:.2g}".format
    table = (
        (_("Margin from which a look is called open"), defence.OPEN, "s"),
        (_("Margin from which it is called contested"), defence.CONTESTED, "s"),
        (_("Width of the curve from margin to chance"), defence.WIDTH, "s"),
        (_("Reaction faster and slower, for the band"), defence_march.REACTIONS[-1], "s"),
        (_("Reach longer and shorter, for the band"), defence_margin.REACHES[-1], "m"),
        (_("Man and defender apart, towards the basket"), defence_stance.USUAL_GAP, "m"),
        (_("The same, when they sag"), defence_stance.GAP[defence_stance.Tactic.SAG], "m"),
        (_("The helper stands so far from the basket"), defence_stance.HELP, "m"),
        (_("A cutter so near the screener loses the defender"), defence_stance.TIGHT, "m"),
        (_("So wide the defender runs through"), defence_stance.WIDE, "m"),
        (_("The end of the count in which no throw should be planned"), findings_count.LAST, "s"),
    )
    yield Input(
        _("The count of a throw-in"),
        number(COUNT),
        "s",
        basis_name(Basis.PUBLISHED),
        _("The rule book of the chosen rule set, cited at each finding."),
    )
    for says, value, unit in table:
        yield Input(says, number(value), unit, ours, "")


def role_paces(setting: Setting, names: dict[Role, str]) -> tuple[RolePace, ...]:
    """Who runs at a speed of their own."""
    paces = setting.pace.paces(setting.age, setting.effort)
    return tuple(
        RolePace(role, names.get(role, ""), paces[role].top_speed)
        for role in ROLES
        if role in paces
    )


def left_out() -> tuple[str, ...]:
    """What the sum does not know, plainly."""
    return (
        _("Deception: fakes, eyes, a cut that sells something else."),
        _("Skill: how well anybody passes, catches, finishes or defends."),
        _("Contact: bumps, holding, a screen that is fought through."),
        _("Tiredness, nerves, noise, a slippery floor."),
        _("Help from more than one defender, and defenders who know the play."),
        _("The referee: what is judged in a game is only named here."),
    )
