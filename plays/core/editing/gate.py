"""A gate in one gesture: two open it, somebody runs through, and the two close it behind.

Where nothing is said, all of this is a guess by common practice (no source), changed with a tap
or a drag: the two step together until one person fits between them; the gate is for whoever
stands nearest, who runs through its middle and out on the other side; as soon as they are
through, the two meet in the face of the chaser. Lengths are metres.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import dist
from typing import Final

from plays.core.court.courts import Court, court
from plays.core.editing.commands import Bend, OpenGate
from plays.core.editing.guess import nearest_role
from plays.core.editing.looks import with_look
from plays.core.editing.phases import free_id, swapped, with_actions
from plays.core.editing.refused import GATE_BALL, NOBODY, RefusedError
from plays.core.editing.remove import without_action
from plays.core.editing.reroute import bent
from plays.core.play import (
    Action,
    ActionKind,
    Cue,
    Cut,
    Joint,
    JointShape,
    Moment,
    Phase,
    Play,
    Point,
    Role,
    ScreenStyle,
)
from plays.core.sequence.circles import circles
from plays.core.sequence.course import Leg, legs, scenes
from plays.core.shorthand.naming import slug

OPEN: Final = 0.85  # from the middle to a post: one person fits between
SHUT: Final = 0.36  # shoulder to shoulder
BEHIND: Final = 0.2  # from the posts to where they meet, the way the cutter goes
THROUGH: Final = 2.5  # how far the run goes on
BEFORE: Final = 1.0  # where somebody who comes from the side turns into the gate
NEAR: Final = 0.6  # a waypoint so near to the middle is the run through the gate
ROOM: Final = 0.4  # inside the lines


@dataclass(frozen=True, slots=True)
class _Gap:
    """The middle, the way from it to the second post, and the way through; both of length 1."""

    middle: complex
    across: complex
    through: complex
    floor: Court

    def at(self, through: float, across: float = 0.0) -> Point:
        place = self.middle + through * self.through + across * self.across
        wide, long = self.floor.half_width - ROOM, self.floor.length - ROOM
        return Point(
            round(min(max(place.real, -wide), wide), 3), round(min(max(place.imag, ROOM), long), 3)
        )


def gated(play: Play, command: OpenGate) -> Play:
    """The play with a gate of two at the end of a phase. Raises RefusedError.

    The run through it and the closing are drawn in the phase after, so that an open gate and a
    closed one are two pictures; that phase is made where there is none.
    """
    index = [phase.id for phase in play.phases].index(command.phase)
    places, holder = scenes(play)[index].at_the_end()
    one, two = command.posts
    cutter = command.cutter or _for_whom(places, command.posts, holder)
    if one == two or cutter in command.posts:
        raise RefusedError(NOBODY, one)
    if holder in command.posts:
        raise RefusedError(GATE_BALL, holder)
    if index + 1 == len(play.phases):
        id_ = slug(command.title, [phase.id for phase in play.phases], "through")
        play = replace(play, phases=(*play.phases, Phase(id_, command.title or id_, ())))
    run = _run_of(play, index, cutter)
    gap = _gap(play, (places[one], places[two]), run.start if run else places[cutter])
    made, posts = _with_screens(play, index, command.posts, cutter, gap)
    return _used(made, index, posts, cutter, gap)


def opened_for(play: Play, post: Action, cutter: Role) -> Play:
    """The gate of a post, made for somebody else, who runs through it now.

    A run that nobody has changed since the gesture goes; any other run stays, without the gate.
    """
    name = post.joint.name if post.joint else ""
    members = [each for each in play.actions() if each.joint and each.joint.name == name]
    posts = [replace(e, cutter=cutter) for e in members if e.joint and e.joint.part == "open"]
    made = swapped(play, *(replace(each, cutter=cutter) for each in members))
    closing = [each for each in members if each.joint and each.joint.part == "close"]
    passed = {cue.action for each in closing for cue in each.cues if cue.on is Moment.PASSES}
    old = next((leg for id_, leg in legs(play).items() if id_ in passed), None)
    if len(posts) != 2 or old is None:
        return made
    two = (posts[0], posts[1])
    made = swapped(made, _without_gate(old.action, two))
    unchanged = old.action.path == _way(_gap_at(play, two, old.start), old.start)
    made = without_action(made, {e.id for e in closing} | ({old.action.id} if unchanged else set()))
    index = next(n for n, p in enumerate(made.phases) if post.id in {a.id for a in p.actions})
    run = _run_of(made, index, cutter)
    start = run.start if run else scenes(made)[index].at_the_end()[0][cutter]
    return _used(made, index, two, cutter, _gap_at(made, two, start))


def _used(play: Play, index: int, posts: tuple[Action, Action], cutter: Role, gap: _Gap) -> Play:
    """The play in which somebody runs between the posts, and they close behind."""
    made, run, point = _with_run(play, index, cutter, gap)
    waiting = tuple(Cue(Moment.SET, post.id) for post in posts)
    kept = tuple(cue for cue in run.cues if cue not in waiting)
    cued = swapped(made, replace(run, cues=(*kept, *waiting)))
    made = made if circles(cued) else cued
    closing = []
    for post, side in zip(posts, (-SHUT, SHUT), strict=True):
        joint = replace(post.joint, part="close") if post.joint else None
        id_ = free_id(made, post.role, ActionKind.SCREEN)
        shut = replace(post, id=id_, path=(gap.at(BEHIND, side),), joint=joint)
        closing.append(replace(shut, cues=(Cue(Moment.PASSES, run.id, point),)))
    return _after(made, index, *closing)


def _after(play: Play, index: int, *actions: Action) -> Play:
    """At the beginning of the phase after; but after the run through the gate, if that is there."""
    later = play.phases[index + 1]
    ran = {each.action for action in actions for each in action.cues}
    at = next((n + 1 for n, each in enumerate(later.actions) if each.id in ran), 0)
    longer = replace(later, actions=(*later.actions[:at], *actions, *later.actions[at:]))
    return replace(play, phases=(*play.phases[: index + 1], longer, *play.phases[index + 2 :]))


def _without_gate(run: Action, posts: tuple[Action, Action]) -> Action:
    ids = {each.id for each in posts}
    return replace(run, cues=tuple(cue for cue in run.cues if cue.action not in ids))


def _gap_at(play: Play, posts: tuple[Action, Action], start: Point) -> _Gap:
    """The gap between two posts as they stand, for somebody who comes from there."""
    known = legs(play)
    return _gap(play, (known[posts[0].id].end, known[posts[1].id].end), start)


def _for_whom(places: dict[Role, Point], posts: tuple[Role, Role], holder: Role | None) -> Role:
    free = {role: at for role, at in places.items() if role not in posts and role != holder}
    one, two = (places[role] for role in posts)
    middle = Point((one.x + two.x) / 2, (one.y + two.y) / 2)
    return nearest_role(free, middle, "")  # type: ignore[arg-type]


def _gap(play: Play, posts: tuple[Point, Point], start: Point) -> _Gap:
    """Through is away from where the cutter comes from; from the gate's line, up the court."""
    one, two, came = (complex(*each) for each in (*posts, start))
    across = (two - one) / abs(two - one) if abs(two - one) > 0.1 else complex(1)
    middle, through = (one + two) / 2, across * 1j
    side = ((middle - came) * through.conjugate()).real
    if side < -0.1 or (abs(side) <= 0.1 and through.imag < 0):
        through = -through
    return _Gap(middle, across, through, court(play.court))


def _with_screens(
    play: Play, index: int, roles: tuple[Role, Role], cutter: Role, gap: _Gap
) -> tuple[Play, tuple[Action, Action]]:
    taken = {each.joint.name for each in play.actions() if each.joint}
    joint = Joint(slug("gate", taken, "gate"), JointShape.GATE)
    posts = []
    for role, side in zip(roles, (-OPEN, OPEN), strict=True):
        id_, path = free_id(play, role, ActionKind.SCREEN), (gap.at(0.0, side),)
        style = ScreenStyle.OTHER
        post = Action(id_, role, ActionKind.SCREEN, path, screen=style, cutter=cutter, joint=joint)
        play = with_actions(play, index, post)
        posts.append(post)
    return play, (posts[0], posts[1])


def _with_run(play: Play, index: int, cutter: Role, gap: _Gap) -> tuple[Play, Action, int]:
    """The play with the cutter's run through the middle, that run, and the point that is there."""
    leg, middle = _run_of(play, index, cutter), gap.at(0.0)
    if leg is None:
        places, holder = scenes(play)[index].at_the_end()
        path = _way(gap, places[cutter])
        id_ = free_id(play, cutter, ActionKind.CUT)
        run = Action(id_, cutter, ActionKind.CUT, path, cut=Cut.STRAIGHT)
        made = _after(play, index, run)
        return with_look(made, run, holder, places), run, len(path) - 2
    for point, at in enumerate(leg.action.path):
        if dist(at, middle) < NEAR:
            return play, leg.action, point
    point = min(range(len(leg.points) - 1), key=lambda n: _detour(leg.points[n : n + 2], middle))
    made = bent(play, Bend(leg.action.id, point, middle))
    return made, next(each for each in made.actions() if each.id == leg.action.id), point


def _run_of(play: Play, index: int, cutter: Role) -> Leg | None:
    """The cutter's last run of a phase, else the first one of the phase after; None for none."""
    floor = scenes(play)[index : index + 2]
    here, *later = (
        [leg for leg in scene.legs if leg.action.role == cutter and _runs(leg.action)]
        for scene in floor
    )
    return here[-1] if here else next((leg for found in later for leg in found[:1]), None)


def _runs(action: Action) -> bool:
    return action.kind is ActionKind.CUT and bool(action.path)


def _way(gap: _Gap, start: Point) -> tuple[Point, ...]:
    """Through the middle; who comes rather from the side turns in first."""
    came = gap.middle - complex(*start)
    along, aside = (abs((came * way.conjugate()).real) for way in (gap.through, gap.across))
    turn = (gap.at(-BEFORE),) if aside > along else ()
    return (*turn, gap.at(0.0), gap.at(THROUGH))


def _detour(stretch: Iterable[Point], by: Point) -> float:
    one, two = stretch
    return dist(one, by) + dist(by, two) - dist(one, two)
