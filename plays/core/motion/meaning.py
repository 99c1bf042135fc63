"""What each constant of a pace is, and where it comes from.

- PUBLISHED: read in a source, which is named;
- MEASURED: an aggregate of publicly posted player tracking, which is named with its limits;
- DERIVED: reckoned from published numbers, by a way that is named;
- OURS: a choice of ours, sensible and editable, measured by nobody we could read.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from types import MappingProxyType
from typing import Final

from plays.core.play import AgeGroup
from shared.core.language import N_


class Footing(StrEnum):
    """What a constant rests on."""

    PUBLISHED = "published"
    MEASURED = "measured"
    DERIVED = "derived"
    OURS = "our choice"


@dataclass(frozen=True, slots=True)
class Meaning:
    """What a constant is, in which unit, and where it comes from."""

    says: str
    unit: str
    basis: Footing
    sources: tuple[str, ...]

    @property
    def source(self) -> str:
        """Where it comes from, in English."""
        return " ".join(self.sources)


TRACKED: Final = N_(
    "Measured on tracking of adult professionals, 2015-16, 8,415 plays posted with the SocialVAE"
    " code (Xu et al.): one league, scoring plays mostly, nothing on children."
)
_SCALED: Final = N_("The adult row is measured; this one is scaled down by us.")
_MEMORY: Final = N_("Range from memory, no source read; measure your own.")
MEANING: Final[Mapping[str, Meaning]] = MappingProxyType(
    {
        "top_speed": Meaning(
            N_("Top speed of a sprint, V"),
            "m/s",
            Footing.OURS,
            (N_("Set between the rows that have data."),),
        ),
        "time_constant": Meaning(
            N_("Time in which 63 % of the top speed is reached, T"),
            "s",
            Footing.DERIVED,
            (N_("Near 1 s across sports (Clark and Ryan 2022, quoted by the shorts package)."),),
        ),
        "effort": Meaning(
            N_("Share of the top speed that is run in a game"),
            "",
            Footing.MEASURED,
            (
                N_(
                    "Runs from standing over 3 to 8 m: half at 0.58, a quarter above 0.70, a"
                    " tenth above 0.80; 0.9 is the hardest 3 % of professionals' runs."
                ),
                TRACKED,
            ),
        ),
        "easy": Meaning(N_("Share of the top speed for a jog to set up"), "", Footing.OURS, ()),
        "braking": Meaning(
            N_("How hard one brakes"),
            "m/s²",
            Footing.OURS,
            (
                N_(
                    "3 to 6, from memory. Professionals brake at 1.6 as a rule, above 4.6 in the"
                    " hardest 5 % (20,029 times)."
                ),
                TRACKED,
            ),
        ),
        "arrive_speed": Meaning(
            N_("Speed kept at the end of a cut that is caught on the run"), "m/s", Footing.OURS, ()
        ),
        "turn_180": Meaning(
            N_("Plant and turn about at top speed"),
            "s",
            Footing.OURS,
            (
                N_(
                    "Computed by us on the 505 test (Nimphius et al. 2016 define it): 0.25 to"
                    " 0.45 timed by gates, 0.55 to 0.75 from the first push, for deficits of 0.45"
                    " to 0.65 s, which are from memory. Use a stop-watch."
                ),
            ),
        ),
        "dribble": Meaning(
            N_("Share of the speed that is left with the ball"),
            "",
            Footing.OURS,
            (
                N_(
                    "For a sprint. In games professionals are as fast with the ball as without:"
                    " the 90th percentile of speed is 4.28 and 4.19 m/s."
                ),
                TRACKED,
            ),
        ),
        "reaction": Meaning(
            N_("From the signal to the first push"),
            "s",
            Footing.DERIVED,
            (
                N_(
                    "Adults react in 0.231 s (Woods et al. 2015, n = 1469); the younger rows are"
                    " ours."
                ),
            ),
        ),
        "read": Meaning(
            N_("From a team-mate's cue, seen coming, to the first push"),
            "s",
            Footing.OURS,
            (_MEMORY,),
        ),
        "follow": Meaning(
            N_("By how much a defender follows a cutter late"), "s", Footing.OURS, (_SCALED,)
        ),
        "choose": Meaning(
            N_("A defender's choice to go for a pass, from its release to the first push"),
            "s",
            Footing.OURS,
            (N_("Choice reactions take 0.35 to 0.45 s."), _MEMORY),
        ),
        "settle": Meaning(N_("From arriving to standing still in a screen"), "s", Footing.OURS, ()),
        "hold": Meaning(
            N_("How long a screener stays after the cutter has run past the shoulder"),
            "s",
            Footing.OURS,
            (),
        ),
        "signal": Meaning(N_("From the ball in hand to the signal"), "s", Footing.OURS, ()),
        "release": Meaning(
            N_("From the decision to the ball leaving the hand"), "s", Footing.OURS, (_MEMORY,)
        ),
        "handle": Meaning(
            N_("From a catch to the next throw"),
            "s",
            Footing.OURS,
            (
                N_(
                    "Of 3,418 passes after a catch, 18 in 100 left within 0.5 s, half within 1.56"
                    " s."
                ),
                TRACKED,
            ),
        ),
        "glance": Meaning(
            N_("To see that a look is not there and turn to the next"), "s", Footing.OURS, ()
        ),
        "direct_speed": Meaning(
            N_("Chest or push pass over six metres"), "m/s", Footing.OURS, (_SCALED,)
        ),
        "bounce_speed": Meaning(N_("Bounce pass over six metres"), "m/s", Footing.OURS, (_MEMORY,)),
        "overhead_speed": Meaning(
            N_("Two-hand overhead pass over six metres"), "m/s", Footing.OURS, (_MEMORY,)
        ),
        "arm_speed": Meaning(
            N_("Hardest throw at which a lob is still aimed"), "m/s", Footing.OURS, ()
        ),
        "lead": Meaning(
            N_("How early a runner is thrown to, for each metre of the pass"),
            "s/m",
            Footing.OURS,
            (
                N_(
                    "An adult's pass needs about this; a weaker arm does not throw earlier, but"
                    " late."
                ),
            ),
        ),
        "longest_pass": Meaning(N_("Longest pass that is safe to plan"), "m", Footing.OURS, ()),
        "ball_drag": Meaning(
            N_("Air drag k of the group's ball"),
            "1/m",
            Footing.DERIVED,
            (
                N_(
                    "Sphere, Cd 0.5, from mass and girth: size 7 as in older FIBA text, others"
                    " from memory"
                ),
            ),
        ),
        "height": Meaning(
            N_("Mean height"), "m", Footing.OURS, (N_("Set between the rows that have data."),)
        ),
        "jump": Meaning(N_("What a late jump adds to the reach"), "m", Footing.OURS, ()),
        "side_reach": Meaning(
            N_("How far to the side a hand with one step reaches"),
            "m",
            Footing.OURS,
            (N_("0.8 to 1.2 m is our guess of an arm and a step."),),
        ),
        "screened": Meaning(
            N_("What a set screen in the way costs a defender"), "s", Footing.OURS, ()
        ),
    }
)

_U14: Final = N_("Girls U13 to U15, 5/10/20 m, n = 904 (Gryko et al. 2022), gate times less 0.3 s")
_EXCEPTIONS: Final[Mapping[tuple[AgeGroup, str], tuple[Footing, tuple[str, ...]]]] = (
    MappingProxyType(
        {
            (AgeGroup.U14, "top_speed"): (Footing.DERIVED, (_U14,)),
            (AgeGroup.U14, "time_constant"): (Footing.DERIVED, (_U14,)),
            (AgeGroup.U14, "height"): (
                Footing.DERIVED,
                (N_("Girls U13 to U15: 1.653, 1.677, 1.678 m (Gryko et al. 2022)"),),
            ),
            (AgeGroup.U16, "top_speed"): (
                Footing.OURS,
                (
                    N_(
                        "Boys at peak height velocity: 20 m 3.34 s (Front Sports Act Living 2021,"
                        " 629453)"
                    ),
                ),
            ),
            (AgeGroup.ADULT, "direct_speed"): (
                Footing.MEASURED,
                (
                    N_(
                        "4,840 passes; a longer one is thrown faster, a shorter one softer."
                        " Seconds in the air agree with the median of each class of length within"
                        " 0.06."
                    ),
                    TRACKED,
                ),
            ),
            (AgeGroup.ADULT, "arrive_speed"): (
                Footing.MEASURED,
                (N_("1,382 catches on the run."), TRACKED),
            ),
            (AgeGroup.ADULT, "follow"): (
                Footing.MEASURED,
                (N_("Hard cuts: 0.33 s, half of them 0.19 to 0.44 s; students 0.29 s."), TRACKED),
            ),
            (AgeGroup.ADULT, "reaction"): (
                Footing.DERIVED,
                (N_("0.231 s for a button (Woods et al. 2015, n = 1469), rounded up for a step"),),
            ),
        }
    )
)


def meaning(age: AgeGroup, constant: str) -> Meaning:
    """What a constant is for this age group. Raises KeyError for an unknown constant."""
    general = MEANING[constant]
    basis, sources = _EXCEPTIONS.get((age, constant), (general.basis, general.sources))
    return replace(general, basis=basis, sources=sources)
