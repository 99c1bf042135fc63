"""Hypothesis strategies: random sound plays.

Sound plays are built the way a coach writes: place five people, then let one after the other do
something that is possible by then. They use every kind of action, cue, joint screen, look and
counter.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from functools import cache
from itertools import combinations
from typing import Any

from hypothesis import strategies as st

from plays.core.court.courts import Court, court
from plays.core.moves.translated import own_texts
from plays.core.play import (
    ROLES,
    Action,
    ActionKind,
    AgeGroup,
    Conditions,
    Counter,
    Cue,
    CueRule,
    Cut,
    Defence,
    DefenceRead,
    Defender,
    Formation,
    Joint,
    JointShape,
    Look,
    Moment,
    Need,
    Origin,
    PassKind,
    Phase,
    Play,
    Point,
    Quality,
    Role,
    RuleSet,
    ScreenStyle,
    Situation,
    Spacing,
    Spot,
    Stance,
    Start,
    Swap,
    Translation,
    Variant,
)

Draw = Callable[[st.SearchStrategy[Any]], Any]

WORDS = st.text(
    st.characters(categories=("L", "N", "P", "S"), include_characters=" ", codec="utf-8"),
    min_size=1,
    max_size=24,
).filter(lambda text: bool(text.strip()))
PAST_SCREENS = (Defence.OVER, Defence.UNDER)
TEXTS = st.lists(WORDS, max_size=2).map(tuple)
CALLS = st.lists(
    st.one_of(st.sampled_from(["{1}", "{2}", "{5}"]), st.text("Lamp ö", min_size=1, max_size=6)),
    max_size=3,
).map("".join)


@cache
def millimetres(low: float, high: float) -> st.SearchStrategy[float]:
    return st.integers(round(low * 1000), round(high * 1000)).map(lambda number: number / 1000)


@cache
def points(floor: Court, depth: float = 14.0) -> st.SearchStrategy[Point]:
    """Places inside the lines, up to ``depth`` metres from the baseline."""
    across = millimetres(0.1 - floor.half_width, floor.half_width - 0.1)
    return st.builds(Point, across, millimetres(0.1, min(depth, floor.length - 0.1)))


@st.composite
def sound_plays(draw: Draw, situation: Situation | None = None) -> Play:
    """A play without a problem of form."""
    return _Author(draw).play(situation or draw(st.sampled_from(Situation)))


@st.composite
def plays_by_look(draw: Draw) -> Play:
    """A sound play from the side with a rotation after one of its looks, and one after others."""
    return _Author(draw, by_look=True).play(Situation.SIDELINE)


@dataclass
class _Author:
    """Writes one play: remembers who has the ball and what was written."""

    draw: Draw
    by_look: bool = False  # no pass is written until a look has brought the ball in
    floor: Court = field(init=False)
    thrower: Role | None = None
    holder: Role | None = None
    thrown: bool = False
    written: list[Action] = field(default_factory=list)
    rotating: bool = False
    aside: int = 0  # actions of another rotation, which keep their ids

    def play(self, situation: Situation) -> Play:
        self.floor = court(self.draw(st.sampled_from(RuleSet)))
        spot = self._spot(situation)
        ball: Role = self.draw(st.sampled_from(ROLES))
        self.thrower, self.holder = (ball if spot else None), ball
        starts = self._starts(spot)
        phases = [self._phase(index) for index in range(self.draw(st.integers(1, 3)))]
        phases[0] = self._everybody_busy(phases[0])
        looks = self._looks(ball)
        if self._may_rotate(looks) and (self.by_look or self.draw(st.booleans())):
            by_look = looks if self.thrower is not None and not self.thrown else ()
            before = list(self.written)
            phases.append(self._rotation(looks))
            if len(by_look) > 1 and (self.by_look or self.draw(st.booleans())):
                phases.append(self._kept(self.draw(st.sampled_from(by_look[1:])), before))
        play = Play(
            key=self.draw(st.from_regex(r"[a-z][a-z0-9-]{0,10}", fullmatch=True)),
            name=self.draw(WORDS),
            situation=situation,
            formation=self.draw(st.sampled_from(Formation)),
            court=self.floor.rule_set,
            ball=ball,
            starts=starts,
            phases=tuple(phases),
            spot=spot,
            thrower=self.thrower,
            looks=looks,
        )
        play = self._embroidered(play)
        return replace(play, counters=self._counters(play))

    def _spot(self, situation: Situation) -> Spot | None:
        edges: dict[Situation, list[str | None]] = {
            Situation.SIDELINE: ["sideline"],
            Situation.BASELINE: ["baseline"],
            Situation.HALF_COURT: [None],
        }
        edge = self.draw(st.sampled_from(edges.get(situation, [None, "sideline", "baseline"])))
        if edge is None:
            return None
        most = self.floor.half_width - 0.5 if edge == "baseline" else self.floor.half_y
        side = self.draw(st.sampled_from(["left", "right"]))
        may_be_far = edge == "baseline" and situation is not Situation.BASELINE
        far = may_be_far and self.draw(st.booleans())
        return Spot(edge, side, self.draw(millimetres(0.5, most)), far)

    def _starts(self, spot: Spot | None) -> tuple[Start, ...]:
        """One person to a cell of a metre, at least 0.4 m apart."""
        cells = [(x, y) for x in range(-6, 6) for y in range(1, 12)]
        chosen = self.draw(st.lists(st.sampled_from(cells), min_size=5, max_size=5, unique=True))
        starts = []
        for role, (x, y) in zip(self.draw(st.permutations(ROLES)), chosen, strict=True):
            at = Point(x + self.draw(millimetres(0, 0.6)), y + self.draw(millimetres(0, 0.6)))
            if role == self.thrower and spot is not None:
                at = self.floor.spot_place(spot)
            starts.append(Start(role, Point(round(at.x, 3), round(at.y, 3))))
        return tuple(starts)

    # --- actions

    def _phase(self, index: int) -> Phase:
        made: list[Action] = []
        for _ in range(self.draw(st.integers(1, 5))):
            team = self.draw(st.integers(0, 5)) == 0 and not self.rotating
            made += self._joint_screens() if team else [self._action()]
        return Phase(f"p{index}", self.draw(WORDS), self._shuffled(made), rotation=self.rotating)

    def _action(self) -> Action:
        role = self.draw(st.sampled_from(self._free_roles()))
        kinds = [ActionKind.CUT, ActionKind.SCREEN, ActionKind.HOLD]
        if role == self.holder and self.by_look and not self.thrown:
            kinds = [ActionKind.HOLD]
        elif role == self.holder:
            kinds = [ActionKind.PASS, ActionKind.PASS]
            if role != self.thrower or self.thrown:
                kinds += [ActionKind.HANDOFF, ActionKind.DRIBBLE, ActionKind.SHOT]
        return self._write(self.draw(st.sampled_from(kinds)), role)

    def _free_roles(self) -> list[Role]:
        return [role for role in ROLES if role != self.thrower or self.thrown or self.holder]

    def _write(self, kind: ActionKind, role: Role, **more: Any) -> Action:
        """One action that is possible by now; the ball goes where it sends it."""
        draw, other = self.draw, self._other(role)
        if kind is ActionKind.CUT:
            more.setdefault("cut", draw(st.none() | st.sampled_from(Cut)))
            more.setdefault("decoy", draw(st.booleans()))
        elif kind is ActionKind.SCREEN:
            more.setdefault("cutter", draw(st.sampled_from([other, None])))
            more.setdefault("screen", draw(st.none() | st.sampled_from(ScreenStyle)))
        elif kind is ActionKind.PASS:
            more |= {"to": other, "pass_kind": draw(st.none() | st.sampled_from(PassKind))}
        elif kind is ActionKind.HANDOFF:
            more["to"] = other
        action = Action(
            id=f"a{len(self.written) + self.aside}",
            role=role,
            kind=kind,
            path=self._path(kind),
            cues=more.pop("cues", None) or self._cues(),
            cue_rule=draw(st.sampled_from(CueRule)),
            easy=draw(st.booleans()),
            teach=draw(TEXTS),
            **more,
        )
        self._ball_after(action)
        self.written.append(action)
        return action

    def _other(self, role: Role) -> Role:
        """Somebody on the court: the thrower only once the ball is in."""
        others = [r for r in ROLES if r != role and (r != self.thrower or self.thrown)]
        chosen: Role = self.draw(st.sampled_from(others))
        return chosen

    def _path(self, kind: ActionKind) -> tuple[Point, ...]:
        if kind in (ActionKind.PASS, ActionKind.HANDOFF):
            return ()
        least = 1 if kind is ActionKind.CUT else 0
        return tuple(self.draw(st.lists(points(self.floor), min_size=least, max_size=3)))

    def _ball_after(self, action: Action) -> None:
        if action.to is not None:
            self.thrown = self.thrown or action.role == self.thrower
            self.holder = action.to
        elif action.kind is ActionKind.SHOT:
            self.holder = None

    def _cues(self) -> tuple[Cue, ...]:
        return tuple(self._cue() for _ in range(self.draw(st.integers(0, 2))))

    def _cue(self) -> Cue:
        wait = self.draw(millimetres(0, 2))
        alone = [Moment.SIGNAL, *([Moment.BALL_IN] if self.thrown else [])]
        if not self.written or self.draw(st.integers(0, 3)) == 0:
            return Cue(self.draw(st.sampled_from(alone)), wait=wait)
        other = self.draw(st.sampled_from(self.written))
        moments = [Moment.START]
        if other.kind is ActionKind.SCREEN:
            moments.append(Moment.SET)
        elif other.kind is not ActionKind.HOLD:
            moments.append(Moment.END)
        if other.path:
            moments += [Moment.PASSES, Moment.HAS_LEFT]
        moment = self.draw(st.sampled_from(moments))
        last = len(other.path) - 1
        point = self.draw(st.integers(0, last)) if moment is Moment.PASSES else None
        return Cue(moment, other.id, point, wait)

    def _joint_screens(self) -> list[Action]:
        """Two who screen together, the cutter who uses it, and for a gate who closes it."""
        free = [role for role in ROLES if role not in (self.thrower, self.holder)]
        if len(free) < 3:
            return [self._action()]
        one, two, cutter = self.draw(st.permutations(free))[:3]
        shape = self.draw(st.sampled_from(JointShape))
        joint = Joint(f"j{len(self.written)}", shape)
        posts = [
            self._write(ActionKind.SCREEN, role, cutter=cutter, joint=joint) for role in (one, two)
        ]
        on_set = tuple(Cue(Moment.SET, post.id) for post in posts)
        run = self._write(ActionKind.CUT, cutter, cues=on_set)
        if shape is not JointShape.GATE or self.draw(st.booleans()):
            return [*posts, run]
        behind = (Cue(Moment.PASSES, run.id, 0),)
        closing = replace(joint, part="close")
        more = {"cutter": cutter, "joint": closing, "cues": behind}
        return [*posts, run, self._write(ActionKind.SCREEN, one, **more)]

    def _shuffled(self, actions: list[Action]) -> tuple[Action, ...]:
        """Neighbours of different roles without the ball may be written either way round."""
        order = list(actions)
        for index in range(len(order) - 1):
            one, two = order[index], order[index + 1]
            balls = {ActionKind.PASS, ActionKind.HANDOFF, ActionKind.DRIBBLE, ActionKind.SHOT}
            if (
                one.role != two.role
                and not {one.kind, two.kind} <= balls
                and self.draw(st.booleans())
            ):
                order[index], order[index + 1] = two, one
        return tuple(order)

    def _everybody_busy(self, phase: Phase) -> Phase:
        idle = [role for role in ROLES if role not in {action.role for action in self.written}]
        more = []
        for role in idle:
            kind = ActionKind.HOLD if role == self.thrower else ActionKind.CUT
            action = Action(f"b{role}", role, kind, self._path(kind))
            self.written.append(action)
            more.append(action)
        return replace(phase, actions=(*phase.actions, *more))

    # --- looks, rotation, counters

    def _looks(self, ball: Role, prefix: str = "l") -> tuple[Look, ...]:
        receivers = [action for action in self.written if action.role != ball]
        least = 2 if self.by_look else 0
        chosen = self.draw(st.lists(st.sampled_from(receivers), min_size=least, max_size=3))
        return tuple(
            Look(
                id=f"{prefix}{index}",
                passer=ball,
                receiver=action.role,
                action=action.id,
                pass_kind=self.draw(st.sampled_from(PassKind)),
                condition=self.draw(st.just("") | WORDS),
                at=self.draw(st.none() | points(self.floor)),
                guess=self.draw(st.none() | millimetres(0, 1)),
                read=self._read(),
                shot=self.draw(st.booleans()),
            )
            for index, action in enumerate(chosen)
        )

    def _may_rotate(self, looks: tuple[Look, ...]) -> bool:
        return self.thrower is None or self.thrown or bool(looks)

    def _rotation(self, looks: tuple[Look, ...]) -> Phase:
        if looks and not self.thrown and self.thrower is not None:
            self.holder = looks[0].receiver
        self.rotating = True
        self.thrown = self.thrown or self.thrower is not None
        return self._phase(9)

    def _kept(self, look: Look, before: list[Action]) -> Phase:
        """What is run instead of the rotation after one of the looks; it knows nothing of that."""
        self.aside = len(self.written) - len(before)
        self.written, self.holder = before, look.receiver
        return replace(self._phase(8), after=(look.id,))

    def _counters(self, play: Play) -> tuple[Counter, ...]:
        return tuple(self._counter(play, index) for index in range(self.draw(st.integers(0, 2))))

    def _counter(self, play: Play, index: int) -> Counter:
        first = self.draw(st.integers(0, len(play.phases) - 1))
        earlier = [action for phase in play.phases[: first + 1] for action in phase.actions]
        later = [action for phase in play.phases[first:] for action in phase.actions]
        removed = self._removed(play, later)
        kept = [action for action in earlier if action.id not in removed]
        cuts = [a for a in later if a.kind is ActionKind.CUT and a.id not in removed]
        replaced = self.draw(st.lists(st.sampled_from(cuts), max_size=1)) if cuts else []
        swaps = tuple(replace(a, path=(*a.path, self.draw(points(self.floor)))) for a in replaced)
        role = self.draw(st.sampled_from([r for r in ROLES if r != play.ball]))
        cues = tuple(Cue(Moment.START, a.id) for a in kept[:1]) if self.draw(st.booleans()) else ()
        path = (self.draw(points(self.floor)),)
        added = Action(f"c{index}", role, ActionKind.CUT, path, cues)
        looks: tuple[Look, ...] = ()
        if not play.phases[-1].rotation and self.draw(st.booleans()):
            looks = (Look(f"k{index}", play.ball, role, added.id),)
        defence = self.draw(st.sampled_from(self._defences()))
        return Counter(
            id=f"counter{index}",
            defence=defence,
            from_phase=play.phases[first].id,
            says=self.draw(WORDS),
            remove=removed,
            replace=swaps,
            add=(added,),
            looks=looks,
            whose=self._whose(defence),
        )

    def _read(self) -> DefenceRead | None:
        defence = self.draw(st.none() | st.sampled_from(self._defences()))
        return None if defence is None else DefenceRead(defence, self._whose(defence))

    def _screened(self) -> list[Role]:
        return sorted({action.cutter for action in self.written if action.cutter is not None})

    def _defences(self) -> list[Defence]:
        """Nobody goes over or under a screen where there is none."""
        return [d for d in Defence if self._screened() or d not in PAST_SCREENS]

    def _whose(self, defence: Defence) -> tuple[Role, ...]:
        if defence is Defence.TRAP or self.draw(st.booleans()):
            return ()
        least = 2 if defence is Defence.SWITCH else 1
        roles = self._screened() if defence in PAST_SCREENS else ROLES
        return tuple(self.draw(st.lists(st.sampled_from(roles), min_size=least, unique=True)))

    def _removed(self, play: Play, later: list[Action]) -> tuple[str, ...]:
        """At most one action that nothing else hangs on."""
        needed = {cue.action for action in play.actions() for cue in action.cues}
        needed |= {look.action for look in play.looks}
        free = [
            action.id
            for action in later
            if action.id not in needed and action.kind is ActionKind.CUT
        ]
        return tuple(self.draw(st.lists(st.sampled_from(free), max_size=1))) if free else ()

    def _embroidered(self, play: Play) -> Play:
        """The parts that nothing else depends on."""
        draw = self.draw
        guarded = draw(st.lists(st.sampled_from(ROLES), unique=True, max_size=5))
        qualities = draw(
            st.lists(
                st.tuples(st.sampled_from(ROLES), st.sampled_from(Quality)),
                unique=True,
                max_size=4,
            )
        )
        return replace(
            play,
            series=draw(st.just("") | WORDS),
            level=draw(st.sampled_from(AgeGroup)),
            call=draw(CALLS.filter(lambda call: not call or bool(call.strip()))),
            use=draw(st.just("") | WORDS),
            teach=draw(TEXTS),
            errors=draw(TEXTS),
            cautions=draw(TEXTS),
            defenders=tuple(self._defender(role) for role in guarded),
            needs=tuple(
                Need(role, quality, draw(st.integers(1, 5)), draw(st.integers(1, 3)))
                for role, quality in qualities
            ),
            spacing=self._spacing(),
            variants=self._variants(play),
            conditions=draw(st.none() | _conditions()),
            origin=draw(st.none() | st.just(Origin("0" * 64, "mirror"))),
            translations=self._translations(play),
        )

    def _translations(self, play: Play) -> tuple[Translation, ...]:
        """Some texts of the play, and some that it no longer has, in up to two languages."""
        known = st.sampled_from(own_texts(play)) | WORDS
        keys = self.draw(
            st.lists(st.tuples(st.sampled_from(["ca", "es"]), known), unique=True, max_size=4)
        )
        return tuple(Translation(code, text, self.draw(WORDS)) for code, text in keys)

    def _variants(self, play: Play) -> tuple[Variant, ...]:
        """Mirrored ones, for jobs that are swapped may put a cutter at another place."""
        calls = self.draw(st.lists(CALLS, unique=True, max_size=2))
        swap = st.sampled_from(list(combinations(ROLES, 2)))
        return tuple(
            Variant(
                call=f"V {call}",
                sign=self.draw(st.just("") | WORDS),
                swaps=tuple(Swap(*pair) for pair in self.draw(st.lists(swap, max_size=1))),
                mirror=True,
            )
            for call in calls
        )

    def _spacing(self) -> tuple[Spacing, ...]:
        pairs = st.lists(st.sampled_from(list(combinations(ROLES, 2))), unique=True, max_size=2)
        return tuple(
            Spacing(one, other, low, round(low + self.draw(millimetres(0.1, 5)), 3))
            for one, other in self.draw(pairs)
            for low in (self.draw(millimetres(0.5, 9)),)
        )

    def _defender(self, role: Role) -> Defender:
        at = self.draw(st.none() | points(self.floor))
        stance = self.draw(st.sampled_from(Stance))
        return Defender(role, at, stance if at is None else None)


@st.composite
def _conditions(draw: Draw) -> Conditions:
    low, high = sorted(draw(st.tuples(millimetres(0, 600), millimetres(0, 600))))
    behind, ahead = sorted(draw(st.tuples(st.integers(-30, 30), st.integers(-30, 30))))
    return Conditions(
        draw(st.sampled_from([None, low])),
        draw(st.sampled_from([None, high])),
        draw(st.sampled_from([None, behind])),
        draw(st.sampled_from([None, ahead])),
    )
