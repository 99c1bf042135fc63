"""The demo club's drills: invented like everything in it."""

from __future__ import annotations

from dataclasses import dataclass
from io import BytesIO
from typing import Final

from coachbook.demo.files import demo_play
from plays.core.drawing.phase import diagram
from practice.core.plan.plan import BlockKind
from practice.models import Drill
from roster.models import Team
from shared.core.drawing.png import write_png
from shared.photos import plain_photo


@dataclass(frozen=True, slots=True)
class DemoDrill:
    """``kind`` is that of the blocks that have it; ``drawn`` a play whose first phase shows it."""

    kind: BlockKind
    name: str
    minutes: int
    purpose: str
    text: str
    equipment: str = ""
    drawn: str = ""


DRILLS: Final = (
    DemoDrill(
        BlockKind.WARM_UP,
        "Lanterns out",
        10,
        "getting warm, heads up while dribbling",
        "Everybody has a ball inside the arc. The coach calls a colour: whoever wears it runs "
        "the length of the court and back, the others keep dribbling.\n"
        "Last two minutes: weak hand only.",
        "bibs in three colours",
    ),
    DemoDrill(
        BlockKind.SKILL,
        "Three doors",
        8,
        "passing out of a pivot under pressure",
        "Three cones a long step apart, a passer behind the middle one, a defender in front. The "
        "passer gets the ball through one of the three gaps to the partner at the arc.\n"
        "Two passes each, then defence. Fakes count, lobs do not.",
        "3 cones for each pair",
    ),
    DemoDrill(
        BlockKind.SHOOTING,
        "Tide marks",
        8,
        "shots from where our plays end",
        "Five spots from corner to corner. Two makes and the line moves one spot on; three misses "
        "and it goes back one. First line home rests.",
        "2 balls for each line",
        "half-tide",
    ),
)


def make_drills(team: Team) -> dict[str, Drill]:
    """The drills of one team, by the kind of block that has them."""
    made = {}
    for told in DRILLS:
        drill = Drill(
            team=team,
            name=told.name,
            minutes=told.minutes,
            purpose=told.purpose,
            text=told.text,
            equipment=told.equipment,
        )
        if told.drawn:
            drill.show(_picture(told.drawn))
        drill.save()
        made[told.kind.value] = drill
    return made


def _picture(key: str) -> bytes:
    out = BytesIO()
    play = demo_play(key)
    write_png(diagram(play, play.phases[0].id), out)
    return plain_photo(out.getvalue())
