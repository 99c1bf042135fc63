"""A second derivation of what a part must say, straight from the document.

It walks the play as written, with its own table of English words, and knows nothing of
``facts`` or of the templates. ``expected(play, role, names)`` gives, for each step, patterns
of which each must be found in exactly one sentence, and no sentence may be left over.
"""

from __future__ import annotations

import cmath
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import combinations, pairwise
from math import degrees, dist

from shapely import LineString
from shapely import Point as Place

from plays.core.court.courts import court
from plays.core.court.spoken import describe, spot_name
from plays.core.court.spots import Side, named_spots, nearest
from plays.core.play import Action, Cue, Play, Point, Role
from plays.core.sequence.cues import CueGraph, Why
from plays.core.words.role_part import RolePart
from shared.core.drawing.curves import XY, smooth
from shared.core.language import ENGLISH

VERBS = {
    "straight": "Cut to", "curl": "Curl to", "fade": "Fade to", "pop": "Pop to",
    "roll": "Roll to", "slip": "Slip to", "seal": "Seal your defender",
    "post_up": "Post up", "clear_out": "Clear out to",
}  # fmt: skip
SECONDS = {"a split second": 0.1, "half a second": 0.5, "one second": 1.0, "one and a half": 1.5}
NUMBERS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
TOGETHER = {
    "gate": ("Open a gate|mates|place", "Let|whom"),
    "double": ("Stand beside|mates|place", "double screen|whom"),
    "stagger": ("screens in a row|mates|whom", "in the row|place"),
}
NUDGES = ("half a step", "a step")
AND = " and "


@dataclass
class Told:
    """For each step the patterns that it must say, and those that another sentence may add."""

    steps: dict[int, list[str]] = field(default_factory=dict)
    start: list[str] = field(default_factory=list)
    looks: list[str] = field(default_factory=list)
    ending: str = ""


class Reader:
    """A play as written, with everybody's place before and after each action."""

    def __init__(self, play: Play, names: Mapping[Role, str]) -> None:
        self.play, self.names, self.court = play, names, court(play.court)
        self.actions = {action.id: action for action in play.actions()}
        self.path: dict[str, list[Point]] = {}
        here = {start.role: start.at for start in play.starts}
        for action in play.actions():
            if action.kind in ("pass", "handoff"):
                assert action.to is not None
                self.path[action.id] = [here[action.role], here[action.to]]
                continue
            self.path[action.id] = [here[action.role], *action.path]
            here[action.role] = self.path[action.id][-1]
        self.final = here

    def person(self, role: Role | None) -> str:
        assert role is not None
        return f"{self.names[role]} ({role})" if role in self.names else f"the {role}"

    def side(self) -> Side | None:
        spot = self.play.spot
        if spot is None or (spot.edge == "baseline" and spot.along < 0.5):
            return None
        return spot.side

    def place(self, point: Point, exact: bool = True) -> str:
        return describe(self.court, point, ENGLISH, ball_side=self.side(), exact=exact)

    def rough(self, point: Point) -> str:
        return spot_name(nearest(self.court, point).key, ENGLISH, self.side())

    def goal(self, point: Point, exact: bool = True) -> str:
        """A run or a pass goes to the place itself where that is less than 0.6 m away."""
        spots = named_spots(self.court)
        best = min(spots.values(), key=lambda spot: dist(spot, point))
        inside = self.court.contains(point)
        close = inside and dist(best, point) < 0.6
        return self.rough(point) if close else self.place(point, exact)

    def landmark(self, point: Point) -> str:
        best = min(dist(spot, point) for spot in named_spots(self.court).values())
        seen = self.court.contains(point) and best < 1.2
        return self.rough(point) if seen else self.place(point, exact=False)

    def end(self, action: Action, exact: bool = True) -> str:
        point = self.path[action.id][-1]
        where = self.place if action.kind == "screen" else self.goal
        return where(point, exact)

    def aim(self, start: Point, end: Point, name: str) -> str:
        """A move of 0.3 m or more never ends at a place of the name where it began."""
        if dist(start, end) < 0.3 or name not in (self.place(start), self.goal(start)):
            return name
        return "half a step" if dist(start, end) < 0.6 else "a step"

    def passed(self, action: Action, point: Point) -> str:
        """The named place where the way comes within half a metre of it, else the point itself."""
        spots = named_spots(self.court)
        best = min(spots, key=lambda key: round(dist(spots[key], point), 6))
        way = LineString(curve(self.path[action.id]))
        by = self.court.contains(point) and way.distance(Place(spots[best])) <= 0.5
        return f"runs past {self.rough(point)}" if by else f"as far as {self.place(point)}"

    def giver(self) -> Role:
        """Who gives the signal: the thrower, else whoever starts with the ball."""
        return self.play.thrower or self.play.ball


def curve(points: list[Point]) -> list[XY]:
    """A way as it is drawn and run, in places a fiftieth of a piece apart."""
    kept: list[XY] = [(a.x, a.y) for a, b in pairwise(points) if dist(a, b) > 1e-9]
    kept.append((points[-1].x, points[-1].y))
    if len(kept) == 1:
        return kept * 2
    return [piece.at(t / 50) for piece in smooth(kept).pieces for t in range(51)]


def words(*pieces: str) -> str:
    """A pattern for these pieces in this order, each as whole words."""
    return r"(?s)" + r".*?".join(rf"(?<!\w){re.escape(piece)}(?!\w)" for piece in pieces)


def expected(play: Play, role: Role, names: Mapping[Role, str]) -> Told:
    """What the role's part must say."""
    doc = Reader(play, names)
    told = Told()
    start = next(start.at for start in play.starts if start.role == role)
    if role == play.thrower:
        told.start.append(words("throw the ball in", describe(doc.court, start, ENGLISH)))
    else:
        told.start.append(
            words("Start", doc.place(start), *(["ball"] if role == play.ball else []))
        )
    if role == doc.giver() and gives_before_all(play, role):
        told.start.append(words("give the signal"))
    told.start += company(doc, role)
    count = 0
    before: Action | None = None
    for phase in play.phases:
        first_here = True
        for action in phase.actions:
            if action.role == role:
                count += 1
                told.steps[count] = step(doc, action, before)
                if phase.rotation and first_here:
                    told.steps[count].append(words("When the ball is in"))
                before, first_here = action, False
            elif action.to == role:
                word = "pass from" if action.kind == "pass" else "hand-off from"
                where = doc.end(action, exact=False) if moved_on(doc, before, action) else "there"
                pattern = words(word, doc.person(action.role), where)
                (told.steps[count] if count else told.start).append(pattern)
    order = list(doc.actions.values())
    mine = next((n for n, a in enumerate(order) if a.role == role), len(order))
    told.start += caught_after(doc, order[:mine], role)
    final = doc.final[role]
    runs = [a.kind for a in play.actions() if a.role == role and a.kind not in ("pass", "handoff")]
    name = doc.place if runs and runs[-1] == "screen" else doc.goal
    where = doc.aim(start, final, name(final, False))
    if where != name(final, False):
        where = doc.aim(start, final, name(final))
    told.ending = words("end", where) if final != start else words("where you started")
    told.looks = looks(doc, role)
    return told


def company(doc: Reader, role: Role) -> list[str]:
    """A place in the line of three or more, else everybody nearer than 1.2 m; between whom."""
    here = {start.role: start.at for start in doc.play.starts}
    row = line(doc)
    pair = between(doc, role)
    if role in row:
        rank = f"number {NUMBERS[row.index(role) + 1]} in the line"
        found = [words(rank, "between", *pair) if pair else words(rank, "from")]
    else:
        mates = [mate for mate in here if mate != role and dist(here[mate], here[role]) < 1.2]
        found = [words(doc.person(mate), "right beside you") for mate in mates]
        found += [words("You stand between", *pair)] if pair else []
    return found + list(room(doc, role))


def between(doc: Reader, role: Role) -> tuple[str, str] | None:
    """The next on both sides in the line, or two right beside; else one of them and an edge.

    One is between two others where the way from one to the other passes within 0.5 m, and
    between another and an edge that is within 2 m straight behind.
    """
    here = {start.role: start.at for start in doc.play.starts}
    row, mine = line(doc), here[role]
    if role == doc.play.thrower:
        return None
    if role in row:
        mates = [mate for mate in row if abs(row.index(mate) - row.index(role)) == 1]
        if doc.side() == "right" and here[row[0]].x > here[row[-1]].x:
            mates.reverse()
    else:
        mates = [mate for mate in here if mate != role and dist(here[mate], mine) < 1.2]
        mates.sort(key=lambda mate: (dist(here[mate], mine), mate))
    for one, other in combinations(mates, 2):
        way = LineString([here[one], here[other]])
        if way.distance(Place(mine)) <= 0.5 and 0 < way.project(Place(mine)) < way.length:
            return doc.person(one), doc.person(other)
    for mate in mates:
        if (edge := edge_behind(doc, mine, here[mate])) is not None:
            return doc.person(mate), edge
    return None


def edge_behind(doc: Reader, mine: Point, mate: Point) -> str | None:
    """The edge on the other side of the role than a team-mate, at most 2 m away."""
    if not doc.court.contains(mine):
        return None
    across, up = mine.x - mate.x, mine.y - mate.y
    if abs(up) <= 0.5 and abs(up) < abs(across):
        left, right = mine.x + doc.court.half_width, doc.court.half_width - mine.x
        near = (right if across > 0 else left) <= 2
        return "the sideline" if near and across * mine.x > 0 else None
    if abs(across) > 0.5:
        return None
    if up < 0:
        return "the baseline" if mine.y <= 2 else None
    return "our own baseline" if doc.court.length - mine.y <= 2 else None


def room(doc: Reader, role: Role) -> Iterator[str]:
    """From whom to keep what distance; the person and the metres in a sentence each."""
    for each in doc.play.spacing:
        if role in (each.one, each.other):
            other = each.other if role == each.one else each.one
            low, high = (ENGLISH.number(metres) for metres in (each.low, each.high))
            yield words("room between you and", doc.person(other))
            yield words("Anywhere", f"{low} to {high} m")


def line(doc: Reader) -> list[Role]:
    """The longest: from the baseline up, or across from the ball side (the left without one)."""
    here = {start.role: start.at for start in doc.play.starts if start.role != doc.play.thrower}
    for size in range(len(here), 2, -1):
        for group in combinations(here, size):
            for axis in (1, 0):
                row = sorted(group, key=lambda role, axis=axis: here[role][axis])  # type: ignore[misc]
                off = [here[role][1 - axis] for role in row]
                gaps = [here[b][axis] - here[a][axis] for a, b in pairwise(row)]
                if max(off) - min(off) <= 0.5 and min(gaps) > 0 and max(gaps) <= 1.8:
                    return row[::-1] if axis == 0 and doc.side() == "right" else row
    return []


def gives_before_all(play: Play, role: Role) -> bool:
    """Whether somebody waits for the signal, and no step of the giver is on it."""
    on_signal: set[Role] = set()
    seen: set[Role] = set()
    for action in play.actions():
        plain_first = not action.cues and action.role not in seen
        seen.add(action.role)
        if plain_first or any(cue.on == "signal" for cue in action.cues):
            on_signal.add(action.role)
    return bool(on_signal) and role not in on_signal


def step(doc: Reader, action: Action, before: Action | None) -> list[str]:
    """Patterns for what comes before the action, the action, and how it is done."""
    patterns = after_what(doc, action, before)
    patterns += used_screens(doc, action)
    places = toward(doc, action)
    patterns += [words("First run toward", *places)] if places else []
    patterns += deed(doc, action, before)
    plain = action.kind == "cut" and action.cut in (None, "straight")
    if action.easy and not plain:
        patterns.append(words("an easy jog"))
    if action.decoy:
        patterns.append(words("decoy"))
    return patterns + after_look(doc, action)


def after_look(doc: Reader, action: Action) -> list[str]:
    """What goes with the ball of one look: a rotation is written as if the first was thrown."""
    numbers = assumed(doc)
    withs = ("pass", "handoff", "shot", "dribble")
    order = list(doc.actions.values())
    if action.kind in withs and phase_of(doc, action) in numbers:
        stays = action.kind in ("pass", "handoff") or not action.path
        return said_after(numbers, phase_of(doc, action), stays=stays)
    later = [a for a in order[order.index(action) + 1 :] if a.role == action.role]
    until = order.index(later[0]) if later else len(order)
    return caught_after(doc, order[order.index(action) : until], action.role)


def caught_after(doc: Reader, among: list[Action], role: Role) -> list[str]:
    given = [phase_of(doc, each) for each in among if each.to == role]
    found = (said_after(assumed(doc), phase, stays=True) for phase in given)
    return next(filter(None, found), [])


def said_after(numbers: dict[str, list[int]], phase: str, *, stays: bool) -> list[str]:
    if phase not in numbers:
        return []
    looks = " or ".join(", ".join(map(str, numbers[phase])).rsplit(", ", 1))
    only = words(f"Do so only after look {looks}")
    return [only] if stays else [only, words("After another look, run there without the ball")]


def phase_of(doc: Reader, action: Action) -> str:
    return next(phase.id for phase in doc.play.phases if action in phase.actions)


def assumed(doc: Reader) -> dict[str, list[int]]:
    """Rotations, and what comes after them, whose ball only the first look's receiver has."""
    play = doc.play
    into = {n: look for n, look in enumerate(play.looks, 1) if look.passer == play.thrower}
    if not play.looks or play.thrower is None:
        return {}
    same = [n for n, look in into.items() if look.receiver == play.looks[0].receiver]
    if len(same) == len(into):
        return {}
    found, played, branched = {}, False, False
    for phase in play.phases:
        branched = branched or (phase.rotation and not played)
        played = played or branched
        kinds = {a.kind for a in phase.actions} & {"pass", "handoff", "shot", "dribble"}
        if branched and kinds:
            found[phase.id] = same
        played = played or bool(kinds)
    return found


def after_what(doc: Reader, action: Action, before: Action | None) -> list[str]:
    """Patterns for the written cues, one for a screen that is held for its cutter."""
    verb = "Wait"
    if before is not None and before.kind == "screen":
        verb = {"open": "Keep the gate open", "close": "Keep the gate shut"}.get(
            gate(doc, before), "Hold the screen"
        )
    asked = asked_for(doc, action, before)
    patterns = []
    if len(asked) == 1 and before is not None and asked[0].action == before.id:
        patterns.append(words(verb))
    elif asked:
        patterns += written(doc, action, asked, verb)
    for link in CueGraph(doc.play).waits[action.id].implied:
        if link.why is Why.SHOULDER and link.action is not None:
            other = doc.actions[link.action]
            patterns.append(words(f"{verb} until", doc.person(other.role), "past your shoulder"))
    if before is None and not action.cues:
        thrower = doc.giver() == action.role
        patterns.append(words("Give the signal" if thrower else "Wait for the signal"))
    return patterns


def asked_for(doc: Reader, action: Action, before: Action | None) -> list[Cue]:
    """The written cues that have to be told."""
    asked = []
    for cue in action.cues:
        mine = before is not None and cue.action == before.id and cue.on in ("end", "set")
        rotates = cue.on == "ball_in" and rotation(doc, action)
        fallen = cue.action is not None and cue.action not in doc.actions  # left out by a counter
        if not fallen and (cue.wait or not (mine or rotates)):
            asked.append(cue)
    return asked


def moved_on(doc: Reader, before: Action | None, ball: Action) -> bool:
    """Whether the ball is caught elsewhere than where the role has just been told to be."""
    told = before is not None and before.kind in ("cut", "dribble", "hold")
    assert before is None or doc.path[before.id]
    return not told or dist(doc.path[before.id][-1], doc.path[ball.id][-1]) >= 0.3  # type: ignore[union-attr]


def waited_there(doc: Reader, action: Action, before: Action | None) -> bool:
    """Whether the last thing that a pass waits for says where its receiver is."""
    implied = CueGraph(doc.play).waits[action.id].implied
    asked = asked_for(doc, action, before)
    if not asked or any(link.why in (Why.SHOULDER, Why.SIGNAL) for link in implied):
        return False
    last = asked[-1]
    other = doc.actions.get(last.action or "")
    if other is None or other.role != action.to:
        return False
    moments = {"cut": ("start", "end"), "dribble": ("start", "end"), "hold": ("start",)}
    said = last.on in moments.get(other.kind, ())
    if last.on == "start" and heads(doc, other):
        return False
    return said and dist(doc.path[other.id][-1], doc.path[action.id][-1]) < 0.3


def rotation(doc: Reader, action: Action) -> bool:
    return any(action in phase.actions and phase.rotation for phase in doc.play.phases)


def gate(doc: Reader, screen: Action) -> str:
    """Which part of a gate a screen plays: a gate has two posts at least."""
    joint = screen.joint
    if joint is None or joint.shape != "gate":
        return ""
    posts = [a for a in doc.actions.values() if a.kind == "screen" and a.joint == joint]
    return joint.part if joint.part == "close" or len(posts) > 1 else ""


def written(doc: Reader, action: Action, cues: list[Cue], verb: str) -> list[str]:
    """A sentence for each cue; one more for the seconds after it, unless the first one counts."""
    if len(cues) == 1 and cues[0].on == "signal" and verb == "Wait":
        thrower = doc.giver() == action.role
        if thrower or not cues[0].wait:
            return [words("Give the signal" if thrower else "Wait for the signal")]
        if cues[0].wait:
            return [words("Wait for the signal", "more")]
    first = len(cues) > 1 and action.cue_rule == "first"
    patterns = []
    for index, alike in enumerate([[cue] for cue in cues] if first else together_set(doc, cues)):
        cue = alike[0]
        opening = f"{verb} until" if not index else "Or until" if first else "also until"
        closing = ["if that comes first"] if index and first else []
        said = event(doc, cue, action)
        if len(alike) > 1:
            who = list(dict.fromkeys(doc.person(doc.actions[c.action or ""].role) for c in alike))
            said = [*who, *(piece.replace("has ", "have ") for piece in said if piece != who[0])]
        patterns.append(words(opening, *said, *closing))
        if cue.wait and not first:
            patterns.append(r"^Then (wait|hold it) .* more\.$")
    return patterns


def together_set(doc: Reader, cues: list[Cue]) -> list[list[Cue]]:
    """The cues in order; screens, or posts of an open gate, that are set for one are one."""
    found: dict[object, list[Cue]] = {}
    for index, cue in enumerate(cues):
        screen = doc.actions.get(cue.action or "")
        key: object = index
        if screen is not None and cue.on == "set" and screen.cutter is not None:
            part = gate(doc, screen)
            key = index if part == "close" else (part, screen.cutter, cue.wait)
        found.setdefault(key, []).append(cue)
    return list(found.values())


def event(doc: Reader, cue: Cue, action: Action) -> list[str]:
    """What a cue says: who, the word of the moment, whom and where."""
    if cue.action is None:
        return ["signal" if cue.on == "signal" else "throw-in"]
    other = doc.actions[cue.action]
    if other.role == action.role:
        return ["your pass" if other.kind == "pass" and cue.on == "end" else "you"]
    who = doc.person(other.role)
    if cue.on in ("passes", "has_left"):
        return [who, *on_the_way(doc, cue, action)]
    return event_of(doc, cue, other, action)


def event_of(doc: Reader, cue: Cue, other: Action, action: Action) -> list[str]:
    """What the start, the set moment or the end of another's action is called."""
    who = doc.person(other.role)
    if other.kind == "screen" and gate(doc, other):
        return [who, *at_gate(doc, cue, other, action)]
    if cue.on == "set":
        return [who, "set", *([you_or(doc, other.cutter, action.role)] if other.cutter else [])]
    if other.kind in ("pass", "handoff"):
        pieces = [who, you_or(doc, other.to, action.role)]
        return pieces if cue.on == "start" else pieces[::-1]
    if cue.on == "start" and heads(doc, other):
        return [who, f"toward {doc.rough(doc.path[other.id][-1])}"]
    return [who] if other.kind == "shot" else [who, doc.end(other, exact=False)]


def heads(doc: Reader, run: Action) -> bool:
    """Whether a named place that is not quite its end says where a run goes, and which run.

    It lies within 25 degrees of the way, who runs comes nearer to it, and no other run of the
    role ends by it.
    """
    spots = named_spots(doc.court)
    start, end = doc.path[run.id][0], doc.path[run.id][-1]
    if run.kind not in ("cut", "dribble") or not doc.court.contains(end) or start == end:
        return False
    key = nearest(doc.court, end).key
    way, there = complex(*end) - complex(*start), complex(*spots[key]) - complex(*start)
    if doc.end(run, exact=False) == doc.rough(end) or dist(end, spots[key]) >= abs(there):
        return False
    runs = [a for a in doc.actions.values() if a.role == run.role and a.kind in ("cut", "dribble")]
    alone = all(nearest(doc.court, doc.path[a.id][-1]).key != key for a in runs if a is not run)
    return alone and abs(degrees(cmath.phase(way / there))) <= 25.0


def at_gate(doc: Reader, cue: Cue, screen: Action, action: Action) -> list[str]:
    whom = [you_or(doc, screen.cutter, action.role)] if screen.cutter else []
    opens = gate(doc, screen) == "open"
    if cue.on == "set":
        return ["has opened the gate" if opens else "has closed the gate", *whom]
    if cue.on == "end":
        return ["leaves the gate", doc.end(screen, exact=False)]
    return (
        [doc.end(screen, exact=False), "open the gate"] if opens else ["starts to close the gate"]
    )


def on_the_way(doc: Reader, cue: Cue, action: Action) -> list[str]:
    path = doc.path[cue.action or ""]
    if cue.on == "has_left":
        return ["left their place", doc.place(path[0], exact=False)]
    assert cue.point is not None
    point = path[cue.point + 1]
    if shoulder(doc, point, action):
        return ["past"]
    return [doc.passed(doc.actions[cue.action or ""], point)]


def you_or(doc: Reader, role: Role | None, reader: Role) -> str:
    return "you" if role == reader else doc.person(role)


def shoulder(doc: Reader, point: Point, action: Action) -> bool:
    own = [a for a in doc.play.actions() if a.role == action.role]
    index = own.index(action)
    if index == 0 or own[index - 1].kind != "screen":
        return False
    return dist(point, doc.path[action.id][0]) <= 2.0


def used_screens(doc: Reader, action: Action) -> list[str]:
    """One pattern for each person's screen, or each joint of screens, that frees this move."""
    patterns = []
    for screen in used(doc, action):
        if screen.joint is None:
            patterns.append(words("past the screen by", doc.person(screen.role)))
        else:
            patterns += joint_use(doc, screen.joint.name)
    return list(dict.fromkeys(patterns))


def used(doc: Reader, action: Action) -> list[Action]:
    if action.kind not in ("cut", "dribble", "shot") or not action.path:
        return []
    screens = [a for a in doc.actions.values() if a.kind == "screen" and a.cutter == action.role]
    opening = [a for a in screens if a.joint is None or a.joint.part == "open"]
    return [screen for screen in opening if user(doc, screen) == action.id]


def user(doc: Reader, screen: Action) -> str | None:
    moves = [
        a
        for a in doc.actions.values()
        if a.role == screen.cutter and a.kind in ("cut", "dribble", "shot") and a.path
    ]
    for move in moves:
        if any(cue.action == screen.id and cue.on != "passes" for cue in move.cues):
            return move.id
    order = list(doc.actions)
    later = [move for move in moves if order.index(move.id) > order.index(screen.id)]
    return later[0].id if later else None


def joint_use(doc: Reader, name: str) -> list[str]:
    members = [a for a in doc.actions.values() if a.joint is not None and a.joint.name == name]
    opened = [doc.person(a.role) for a in members if a.joint and a.joint.part == "open"]
    closers = [doc.person(a.role) for a in members if a.joint and a.joint.part == "close"]
    shape = members[0].joint.shape if members[0].joint and len(opened) > 1 else "screen"
    word = {"gate": "gate", "double": "double screen", "stagger": "in a row"}.get(shape, "screen")
    shut = words(*closers, "it behind you").replace("(?s)", "(?si)")
    return [words(word, *opened), *([shut] if shape == "gate" and closers else [])]


def toward(doc: Reader, action: Action) -> list[str]:
    """Places on the way that a straight line misses by 1.2 m or more, found by shapely.

    Its ``simplify`` is the algorithm of Douglas and Peucker.
    """
    path = doc.path[action.id]
    if action.kind in ("pass", "handoff") or len(path) < 3:
        return []
    simple = LineString(path).simplify(1.1999, preserve_topology=False)
    inner = [Point(x, y) for x, y in simple.coords][1:-1]
    return [doc.landmark(point) for point in inner if not near_screen(doc, action, point)]


def near_screen(doc: Reader, action: Action, point: Point) -> bool:
    ends = [doc.path[action.id][0], *(doc.path[a.id][-1] for a in (action, *used(doc, action)))]
    keys = {nearest(doc.court, end).key for end in ends}
    close = any(dist(end, point) <= 1.5 for end in ends)
    return close or nearest(doc.court, point).key in keys


def deed(doc: Reader, action: Action, before: Action | None) -> list[str]:
    """The verb, whom it concerns and where it ends."""
    if action.kind in ("pass", "handoff") and waited_there(doc, action, before):
        return [done(doc, action, "there")]
    if action.kind == "screen":
        return screened(doc, action, aimed(doc, action))
    return [done(doc, action, aimed(doc, action))]


def aimed(doc: Reader, action: Action) -> str:
    if action.kind in ("pass", "handoff"):
        return doc.end(action, exact=False)
    way = doc.path[action.id]
    return doc.aim(way[0], way[-1], doc.end(action))


def done(doc: Reader, action: Action, place: str) -> str:
    if action.kind == "cut":
        style = action.cut or "straight"
        verb = "Jog to" if action.easy and style == "straight" else VERBS[style]
        return words(verb.removesuffix(" to") if place in NUDGES else verb, place)
    if action.kind == "pass":
        kind = {"bounce": "bounce pass", "lob": "lob", "overhead": "overhead pass"}
        word = kind.get(action.pass_kind or "direct")
        into = (
            "Throw the ball in" if thrown_in(doc, action) else "Pass" if word is None else "Throw"
        )
        return words(into, *([word] if word else []), doc.person(action.to), place)
    if action.kind == "handoff":
        return words("Hand the ball to", doc.person(action.to), place)
    verb = {"dribble": "(Dribble|dribble)", "shot": "Shoot", "hold": "(Stay|stay)"}[action.kind]
    return rf"(?=.*\b{verb}\b)(?=.*{re.escape(place)})"


def thrown_in(doc: Reader, action: Action) -> bool:
    """The first thing done with the ball, by the thrower; in a rotation it is in by a look."""
    for phase in doc.play.phases:
        if phase.rotation and doc.play.looks:
            return False
        for each in phase.actions:
            if each.kind in {"pass", "handoff"}:
                return (
                    each.id == action.id and each.kind == "pass" and each.role == doc.play.thrower
                )
    return False


def screened(doc: Reader, action: Action, place: str) -> list[str]:
    """One pattern, and one more for what two or more screeners do together."""
    if action.cutter is None:
        return [words("Set a screen", place)]
    whom = doc.person(action.cutter)
    mates = [
        doc.person(a.role)
        for a in doc.actions.values()
        if a.id != action.id and a.joint is not None and action.joint is not None
        and (a.joint.name, a.joint.part) == (action.joint.name, action.joint.part)
    ]  # fmt: skip
    shape = action.joint.shape if action.joint else ""
    if action.joint is not None and action.joint.part == "close":
        word = "Close the gate"
    elif mates:
        return [together(pattern, whom, place, mates) for pattern in TOGETHER[shape]]
    else:
        style = action.screen or "other"
        word = "Screen for" if style == "other" else f"{style} screen for"
    return [all_of(word, whom, place, *mates)]


def together(pattern: str, whom: str, place: str, mates: list[str]) -> str:
    word, *about = pattern.split("|")
    known = {"whom": [whom], "place": [place], "mates": mates}
    return all_of(word, *(piece for each in about for piece in known[each]))


def all_of(*pieces: str) -> str:
    """A pattern for these pieces in any order."""
    return "".join(rf"(?=.*{words(piece)[4:]})" for piece in pieces)


def looks(doc: Reader, role: Role) -> list[str]:
    """One pattern for each look that the role reads or may be."""
    patterns = []
    for number, look in enumerate(doc.play.looks, 1):
        if role not in (look.passer, look.receiver):
            continue
        kind = "pass" if look.pass_kind in ("direct", "bounce", "overhead") else "lob"
        other = doc.person(look.receiver if role == look.passer else look.passer)
        by = doc.actions[look.action].role
        exact = role == look.receiver != look.passer and by != role
        at = look.at or where_received(doc, look.action, look.receiver)
        place = doc.goal(at, exact)
        pieces = [f"(L|l)ook {number}\\b", rf"(?i:{kind})", re.escape(other), re.escape(place)]
        patterns.append("".join(rf"(?=.*{piece})" for piece in pieces))
    return patterns


def where_received(doc: Reader, action_id: str, receiver: Role) -> Point:
    here = {start.role: start.at for start in doc.play.starts}
    for action in doc.play.actions():
        if action.kind not in ("pass", "handoff"):
            here[action.role] = doc.path[action.id][-1]
        if action.id == action_id:
            break
    return here[receiver]


def complaints(told: Told, part: RolePart) -> list[str]:
    """Every pattern not found exactly once, and every sentence that no pattern asked for."""
    found = matched(told.start, part.start, "start")
    found += matched([told.ending], (part.ending,), "ending")
    if [step.number for step in part.steps] != list(told.steps):
        found.append("other steps")
    for step_ in part.steps:
        found += matched(told.steps.get(step_.number, []), step_.sentences, f"step {step_.number}")
    lines = tuple(line.text for line in part.looks if line.sentences)
    return found + matched(told.looks, lines, "looks")


def matched(patterns: list[str], sentences: tuple[str, ...], where: str) -> list[str]:
    found = []
    if len(patterns) != len(sentences):
        found.append(
            f"{where}: {len(patterns)} facts in {len(sentences)} sentences: {patterns} {sentences}"
        )
    for pattern in patterns:
        hits = [said for said in sentences if re.search(pattern, said)]
        if len(hits) != patterns.count(pattern):
            found.append(f"{where}: {pattern} found {len(hits)} times in {sentences}")
    return found


def seconds_said(text: str) -> list[float]:
    """The waits that a text asks for, read back as seconds."""
    plain = [value for phrase, value in SECONDS.items() if phrase in text]
    found = re.findall(r"about (\w+)( and a half)? seconds", text)
    counted = [(said, half) for said, half in found if said != "one"]
    return plain + [NUMBERS.index(said) + (0.5 if half else 0) for said, half in counted]
