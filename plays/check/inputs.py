"""The inputs of a check, each with where it comes from: nothing of ours is called published."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from django.utils.translation import gettext as _

from plays.core.check import count
from plays.core.check.setting import Setting
from plays.core.defence import march, margin, switches, verdict
from plays.core.defence.guarding import ABOUT, STANDARD
from plays.core.defence.uncertain import SHARES, Constants, range_of
from plays.core.motion import clock, path, throw, timeline, windows
from plays.core.motion.meaning import MEANING, Footing, meaning
from plays.core.motion.pace import PACES
from plays.core.motion.windows import COUNT
from plays.core.play import ROLES, Role


@dataclass(frozen=True, slots=True)
class Input:
    """A number that the check runs with. ``basis`` is its label, ``usual`` the table's number
    where the team has its own, ``between`` the range in which the bands draw it."""

    says: str
    value: str
    unit: str
    basis: str
    source: str
    usual: str = ""
    between: str = ""


@dataclass(frozen=True, slots=True)
class RolePace:
    """A role that runs at the speed of the person cast in it."""

    role: Role
    name: str
    top_speed: float


def basis_name(basis: Footing) -> str:
    return {
        Footing.PUBLISHED: _("published"),
        Footing.MEASURED: _("measured"),
        Footing.DERIVED: _("derived"),
        Footing.OURS: _("our choice"),
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
            _between(name, value),
        )


def defence_inputs() -> Iterator[Input]:
    """The constants of the defence, of the windows and of the words."""
    yield Input(
        _("The count of a throw-in"),
        f"{COUNT:.2g}",
        "s",
        basis_name(Footing.PUBLISHED),
        _("The rule book of the chosen rule set, cited at each finding."),
    )
    for name, value in STANDARD.to_json().items():
        about = ABOUT[name]
        yield Input(
            _(about.says),
            f"{value:.3g}",
            about.unit,
            basis_name(about.basis),
            about.source,
            between=_between(name, value),
        )
    for says, value, unit in _fixed():
        yield Input(says, f"{value:.3g}", unit, basis_name(Footing.OURS), "")


def _fixed() -> tuple[tuple[str, float, str], ...]:
    """Words, windows and the way defenders run: kept as they are in every draw."""
    return (
        (_("Margin from which a look is called open"), verdict.OPEN, "s"),
        (_("Margin from which it is called contested"), verdict.CONTESTED, "s"),
        (_("Width of the curve from margin to index"), verdict.WIDTH, "s"),
        (_("The end of the count in which no throw should be planned"), count.LAST, "s"),
        (_("A cutter who has arrived on the run is a look for so long"), windows.FRESH, "s"),
        (_("A receiver who leaves can still be hit for so long"), windows.GRACE, "s"),
        (_("In open play a look is followed for so long"), windows.PATIENCE, "s"),
        (_("A runner so far past the catch is gone"), windows.PASSING, "m"),
        (_("A ball so far from the path is still taken in passing"), windows.ASIDE, "m"),
        (_("A place is free once who leaves it has run so far"), clock.CLEAR, "m"),
        (_("Hand-over from hand to hand"), clock.HAND_OVER, "s"),
        (_("From catch to release of a shot"), timeline.SHOT, "s"),
        (_("Height of a chest pass, share of the body's"), throw.CHEST, ""),
        (_("Height of an overhead pass or lob at its release, the same"), throw.OVER_HEAD, ""),
        (_("Height of an overhead pass at its catch, the same"), throw.HIGH, ""),
        (_("Height of a bounce pass at its ends, the same"), throw.HIP, ""),
        (_("A lob clears a hand so far in front of the receiver"), throw.FRONTING, "m"),
        (_("By so much, ball included"), throw.OVER_THE_HAND, "m"),
        (_("The ball leaves and meets the hands so far in front of the body"), throw.ARM, "m"),
        (_("Bends within so many metres of way are one turn"), path.ONE_TURN, "m"),
        (_("Share of the braking that a careful defender counts on"), march.CAREFUL, ""),
        (_("A man so fast may stop at any time"), march.RUNS, "m/s"),
        (_("Seconds lost by a defender whom a lob is thrown over"), margin.OUT, "s"),
        (_("A lob so far over a jumping hand is out of reach"), margin.FINGERS, "m"),
        (_("Two cutters so near each other cross, for a switch"), switches.CROSSING, "m"),
        (_("Step of the reckoning"), march.STEP, "s"),
    )


def _between(name: str, value: float) -> str:
    """Between what a number is drawn for the bands; empty for one that is not."""
    if name not in Constants.uncertain():
        return ""
    low, high = range_of(name)
    most = min(value * high, 1.0) if name in SHARES else value * high
    return f"{value * low:.3g} – {most:.3g}"


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
