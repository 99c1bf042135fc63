"""The inputs of a check, each with where it comes from: nothing of ours is called published.

Long since every number stands here once, in one list.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from types import ModuleType
from typing import Final

from django.utils.translation import gettext as _

from plays.core.check import chain, count, looks, rules, screens, space, throws
from plays.core.check.setting import Setting
from plays.core.defence import doubles, march, margin, parts, stance, switches, verdict, zone
from plays.core.defence.guarding import ABOUT, STANDARD
from plays.core.defence.uncertain import SHARES, Constants, range_of
from plays.core.motion import clock, flight, pace, path, throw, timeline, windows
from plays.core.motion.meaning import MEANING, TRACKED, Footing, meaning
from plays.core.motion.pace import PACES
from plays.core.motion.windows import COUNT
from plays.core.play import ROLES, Role
from shared.core.language import N_
from shared.said import figure_said, sources_said

THROWN: Final = (
    N_(
        "Logistic fitted to eleven classes of margin: 5,191 passes thrown and caught, 20,583"
        " team-mates at the same moments to whom none was thrown; within 0.03 of each class."
    ),
    TRACKED,
)


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
class Fixed:
    """A number that stands in the code of the check under ``name``, in ``module``."""

    says: str
    module: ModuleType
    name: str
    unit: str
    basis: Footing = Footing.OURS
    sources: tuple[str, ...] = ()

    @property
    def value(self) -> str:
        held: float | tuple[float, ...] = getattr(self.module, self.name)
        return " – ".join(
            figure_said(one) for one in (held if isinstance(held, tuple) else (held,))
        )


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
            figure_said(value),
            told.unit,
            basis_name(told.basis) if same else _("the team's own"),
            sources_said(told.sources) if same else _("Entered by the team's coach."),
            "" if same else figure_said(row[name]),
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
            figure_said(value),
            about.unit,
            basis_name(about.basis),
            sources_said(about.sources),
            between=_between(name, value),
        )
    for each in fixed():
        yield Input(
            each.says, each.value, each.unit, basis_name(each.basis), sources_said(each.sources)
        )


def fixed() -> tuple[Fixed, ...]:
    """Words, windows and the way defenders run: kept as they are in every draw."""
    return (
        Fixed(_("Margin from which a look is called open"), verdict, "OPEN", "s"),
        Fixed(_("Margin from which it is called contested"), verdict, "CONTESTED", "s"),
        Fixed(
            _("Share of passes with much room that professionals throw, at most"),
            verdict,
            "MOST",
            "",
            Footing.MEASURED,
            THROWN,
        ),
        Fixed(
            _("Margin at which professionals throw half of that share"),
            verdict,
            "MIDDLE",
            "s",
            Footing.MEASURED,
            THROWN,
        ),
        Fixed(
            _("How gradually that share rises with the margin"),
            verdict,
            "STEEP",
            "s",
            Footing.MEASURED,
            THROWN,
        ),
        Fixed(_("The end of the count in which no throw should be planned"), count, "LAST", "s"),
        Fixed(
            _("A cutter who has arrived on the run is a look for so long"),
            windows,
            "FRESH",
            "s",
        ),
        Fixed(_("A receiver who leaves can still be hit for so long"), windows, "GRACE", "s"),
        Fixed(_("In open play a look is followed for so long"), windows, "PATIENCE", "s"),
        Fixed(_("A runner so far past the catch is gone"), windows, "PASSING", "m"),
        Fixed(_("A ball so far from the path is still taken in passing"), windows, "ASIDE", "m"),
        Fixed(_("A place is free once who leaves it has run so far"), clock, "CLEAR", "m"),
        Fixed(_("Hand-over from hand to hand"), clock, "HAND_OVER", "s"),
        Fixed(_("From catch to release of a shot"), timeline, "SHOT", "s"),
        Fixed(
            _("Height of a chest pass, as a share of the body's"),
            throw,
            "CHEST",
            "",
            Footing.OURS,
            (
                N_(
                    "1.35 m for an adult; professionals' passes leave at 1.40 and are caught at"
                    " 1.51 m by the median (87 passes of one game, 2015-16, whatever their kind)."
                ),
            ),
        ),
        Fixed(
            _("Height of an overhead pass or lob at its release, as a share of the body's"),
            throw,
            "OVER_HEAD",
            "",
        ),
        Fixed(
            _("Height of an overhead pass at its catch, as a share of the body's"),
            throw,
            "HIGH",
            "",
        ),
        Fixed(_("Height of a bounce pass at its ends, as a share of the body's"), throw, "HIP", ""),
        Fixed(_("A lob clears a hand so far in front of the receiver"), throw, "FRONTING", "m"),
        Fixed(
            _("Height by which a lob clears that hand, ball included"), throw, "OVER_THE_HAND", "m"
        ),
        Fixed(
            _("The ball leaves and meets the hands so far in front of the body"),
            throw,
            "ARM",
            "m",
        ),
        Fixed(_("Bends within so many metres of way are one turn"), path, "ONE_TURN", "m"),
        Fixed(_("Share of the braking that a careful defender counts on"), march, "CAREFUL", ""),
        Fixed(_("A runner so fast may stop at any time"), march, "RUNS", "m/s"),
        Fixed(_("Seconds lost by a defender whom a lob is thrown over"), margin, "OUT", "s"),
        Fixed(_("A lob so far over a jumping hand is out of reach"), margin, "FINGERS", "m"),
        Fixed(_("Two cutters so near each other cross, for a switch"), switches, "CROSSING", "m"),
        Fixed(_("Step in which the defence is moved"), march, "STEP", "s"),
        Fixed(_("A look that comes so soon after its turn is still thrown"), verdict, "LATER", "s"),
        Fixed(_("From so much margin on nobody is said to come too late"), parts, "NOBODY", "s"),
        Fixed(_("The lane of a pass begins so far from the hand"), margin, "FROM", "m"),
        Fixed(_("Releases are tried so far apart"), margin, "EVERY", "s"),
        Fixed(
            _("Over so many metres one rule of the margin goes over into another"),
            margin,
            "SOFTLY",
            "m",
        ),
        Fixed(_("The last centimetres are run in no less than"), march, "SOFT", "s"),
        Fixed(_("A way goes over from free to blocked within"), march, "EDGE", "m"),
        Fixed(_("Who wants to go slower than this is in no one's way"), march, "WALKS", "m/s"),
        Fixed(_("Both must run so fast to cross, for a switch"), switches, "CROSS_SPEED", "m/s"),
        Fixed(
            _("A tight defender is never further out than this share of the way to the basket"),
            stance,
            "NEAR_BASKET",
            "",
        ),
        Fixed(
            _("Nearer to the basket than this a defender is on no side"),
            stance,
            "UNDER_BASKET",
            "m",
        ),
        Fixed(
            _("Over so many metres one way of standing goes over into another"),
            stance,
            "GENTLY",
            "m",
        ),
        Fixed(_("On the ball up to the first, off it from the second"), stance, "ON_THE_BALL", "m"),
        Fixed(
            _("The helper is never further out than this share of the way to the ball"),
            stance,
            "HELP_MOST",
            "",
        ),
        Fixed(
            _("A trap at the ball: at the first it has come, from the second it has left"),
            doubles,
            "AT_THE_BALL",
            "m",
        ),
        Fixed(_("In a zone the ball is at a place within"), zone, "NEAR", "m²"),
        Fixed(_("So steeply the nearest place of a zone takes over"), zone, "STEEP", ""),
        Fixed(_("A catch so near to the end of the path is at its end"), windows, "NEAR_END", "m"),
        Fixed(_("A shorter throw is a hand-over"), throw, "NEAR", "m"),
        Fixed(_("Two people so near leave no room for an opponent"), rules, "ADJACENT", "m"),
        Fixed(_("One step, where a rule book says just that"), rules, "ONE_STEP", "m"),
        Fixed(_("A pass so short is from hand to hand"), rules, "HAND_TO_HAND", "m"),
        Fixed(
            _("Share of the longest pass that a bounce pass may have"),
            throws,
            "BOUNCE_SHARE",
            "",
        ),
        Fixed(_("Hands meet within, from one's middle to the other's"), throws, "HANDS_MEET", "m"),
        Fixed(_("Shoulders touch within"), space, "BUMP", "m"),
        Fixed(_("People run past each other without room within"), space, "ELBOW_ROOM", "m"),
        Fixed(_("Who is faster than this runs"), space, "RUNNING", "m/s"),
        Fixed(_("In the way of a pass within"), space, "IN_THE_LANE", "m"),
        Fixed(_("A drawn start may miss a range of spacing by"), space, "NEAR_ENOUGH", "m"),
        Fixed(_("A screener whose foot is on the line stands so far in"), screens, "INSIDE", "m"),
        Fixed(_("Share of a screen that has to be used"), screens, "BARELY", ""),
        Fixed(_("Who is slower than this stands"), screens, "STANDING", "m/s"),
        Fixed(_("A step, as a share of the height"), screens, "STEP_PER_HEIGHT", ""),
        Fixed(
            _("A guess above this, of a look that is covered, is mentioned"),
            looks,
            "HOPEFUL",
            "",
        ),
        Fixed(_("So much margin is worth another order of the looks"), looks, "SOME", "s"),
        Fixed(_("A read is named if a look comes sooner by"), chain, "WORTH", "s"),
        Fixed(_("Ways to a late look are shortened by this share of theirs"), chain, "SHARES", ""),
        Fixed(_("A way is not shortened by less than"), chain, "LEAST", "m"),
        Fixed(
            _("Free fall of a lob"),
            flight,
            "GRAVITY",
            "m/s²",
            Footing.PUBLISHED,
            (N_("Standard acceleration of free fall, 9.80665 m/s², rounded."),),
        ),
        Fixed(_("A bounce pass meets the floor at this share of the way"), flight, "BOUNCE_AT", ""),
        Fixed(
            _("Standing reach as a share of the height"),
            pace,
            "REACH_PER_HEIGHT",
            "",
            Footing.PUBLISHED,
            (N_("Gryko et al. 2022, girls U13 to U15."),),
        ),
        Fixed(
            _("Share of the standing reach that a hand reaches while moving"),
            pace,
            "REACHES_SHARE",
            "",
        ),
    )


def _between(name: str, value: float) -> str:
    """Between what a number is drawn for the bands; empty for one that is not."""
    if name not in Constants.uncertain():
        return ""
    low, high = range_of(name)
    most = min(value * high, 1.0) if name in SHARES else value * high
    return f"{figure_said(value * low)} – {figure_said(most)}"


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
