"""What the court shows while a play is drawn: one phase, its people, lines and what follows.

What is judged here is one run of the check, so the answer comes at once; the bands follow when
the hand rests.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass, replace

from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

from plays.core.court.courts import Court, court
from plays.core.court.spoken import describe, spot_name
from plays.core.court.spots import named_spots
from plays.core.document.file import to_json
from plays.core.document.form import problems
from plays.core.drawing.frame import Frame, frame, places_of
from plays.core.drawing.options import PLAIN, WIDTH, on_page
from plays.core.drawing.phase import diagram
from plays.core.editing.join import partner_of
from plays.core.editing.stand import is_undrawn
from plays.core.motion.busy import asked_while_busy
from plays.core.play import ROLES, Action, ActionKind, Counter, Phase, Play, Point, Role
from plays.core.sequence.circles import circles
from plays.core.sequence.course import BALL_MOVERS, Scene, lanes, scenes
from plays.core.words.part import part_of
from plays.core.words.terms import answered
from plays.editor.branches import afters, answers, drawn_run, look_choices, whose
from plays.editor.cues import Choice, cue_choices, folded, more_choices, sent
from plays.editor.doing import cuts, joints, throws
from plays.editor.formations import formation_choices
from plays.editor.judged import JudgedDrawing, judged, report_of
from plays.editor.told import busy
from plays.play.page import UNDRAWABLE, svg_of
from plays.play.strip import BESIDE, StripView, strip_view
from shared.core.finding import Finding
from shared.core.language import Language


@dataclass(frozen=True, slots=True)
class Hand:
    """Something on the court that can be taken hold of: metres, points in the picture, words.

    ``outset`` is where somebody's disc is drawn who has gone elsewhere when the phase is done.
    """

    role: Role
    at: Point
    x: float
    y: float
    label: str
    action: str = ""
    point: int = 0
    outset: Point | None = None


@dataclass(frozen=True, slots=True)
class Line:
    """One action in words, with what can be changed about it by a tap."""

    id: str
    role: Role
    said: tuple[str, ...]
    cues: tuple[Choice, ...]
    later: tuple[Choice, ...]
    more: tuple[Choice, ...]
    others: tuple[Choice, ...]
    hows: tuple[Choice, ...]
    remove: str
    path: str
    fault: str
    note: str


@dataclass(frozen=True, slots=True)
class Drawn:
    """The whole answer to a gesture."""

    svg: SafeString
    frame: Frame
    number: int
    phase: Phase
    pieces: tuple[Hand, ...]
    starts: tuple[Hand, ...]
    ways: tuple[Hand, ...]
    lines: tuple[Line, ...]
    looks: tuple[Choice, ...]
    counters: tuple[tuple[str, str], ...]
    afters: tuple[Choice, ...]
    answers: tuple[Choice, ...]
    whose: tuple[Choice, ...]
    counter: Counter | None
    problems: tuple[Finding, ...]
    strip: StripView | None
    judged: JudgedDrawing | None
    document: str
    busy: tuple[Role, ...]
    formations: tuple[Choice, ...]
    resting: tuple[Choice, ...]

    @property
    def missing(self) -> tuple[Finding, ...]:
        """The problems, without those who are offered to hold where they are."""
        offered = bool(self.resting)
        return tuple(each for each in self.problems if not (offered and each.code == "idle_role"))


def drawn(play: Play, number: int, counter_id: str, language: Language) -> Drawn:
    """Everything that is shown of a phase, from 1, in the play or in one of its counters."""
    counter, run = drawn_run(play, counter_id)
    number = min(max(number, 1), len(run.phases))
    floor = scenes(run)
    scene = floor[number - 1]
    window = frame(court(run.court), places_of(run, floor, lanes(run, floor)), "half", WIDTH)
    faults = problems(play, language)
    report = report_of(run, counter, language, faults if run is play else None)
    late = asked_while_busy(report.line) if report else frozenset()
    shown = _Shown(run, scene, window, language, late)
    picture = diagram(play, scene.phase.id, on_page(PLAIN, language), counter=counter)
    return Drawn(
        svg=svg_of(picture, f"{play.key}-drawn"),
        frame=window,
        number=number,
        phase=scene.phase,
        pieces=tuple(shown.pieces()),
        starts=tuple(shown.starts()) if number == 1 and counter is None else (),
        ways=tuple(shown.ways()),
        lines=tuple(shown.lines()),
        looks=look_choices(run, language),
        counters=tuple((each.id, answered(each, language)) for each in play.counters),
        afters=afters(play, scene.phase, language) if counter is None else (),
        answers=answers(play, scene.phase, language),
        whose=whose(counter) if counter else (),
        counter=counter,
        problems=tuple(_plainly(each) for each in faults),
        strip=strip_view(run, report.line, {}, language, report, wide=BESIDE) if report else None,
        judged=judged(play, counter, report, language) if report else None,
        document=json.dumps(to_json(play), ensure_ascii=False),
        busy=tuple(leg.action.role for leg in scene.legs),
        resting=_resting(play, scene.phase) if counter is None else (),
        formations=formation_choices(play) if is_undrawn(play) else (),
    )


def under_court(window: Frame, floor: Court) -> dict[str, float]:
    """Where a straightened photo of the half court lies in the picture, in points."""
    left, top = window.to((-floor.half_width, 0.0))
    right, bottom = window.to((floor.half_width, floor.half_y))
    return {"x": left, "y": top, "width": right - left, "height": bottom - top}


def places(play: Play, language: Language) -> list[tuple[str, float, float]]:
    """The named places of the court with their names, for snapping and for choosing by name."""
    here = court(play.court)
    spots = named_spots(here)
    found = [(spot_name(key, language), *point) for key, point in spots.items()]
    return [each for each in found if each[2] <= here.half_y]


@dataclass(frozen=True, slots=True)
class _Shown:
    """One scene on its way to the page."""

    run: Play
    scene: Scene
    window: Frame
    language: Language
    busy: frozenset[str]

    @property
    def floor(self) -> Court:
        return court(self.run.court)

    def pieces(self) -> Iterator[Hand]:
        """Everybody where they stand when the phase is done: what they do next begins there."""
        ends = dict(self.scene.places)
        for leg in self.scene.legs:
            if leg.action.kind not in BALL_MOVERS:
                ends[leg.action.role] = leg.end
        for role in ROLES:
            here, hand = self.scene.places[role], self._hand(role, ends[role])
            yield hand if here == ends[role] else replace(hand, outset=here)

    def starts(self) -> Iterator[Hand]:
        return (self._hand(start.role, start.at) for start in self.run.starts)

    def ways(self) -> Iterator[Hand]:
        for leg in self.scene.legs:
            for point, at in enumerate(leg.action.path):
                label = _("way of %(role)s: %(place)s") % {
                    "role": leg.action.role,
                    "place": describe(self.floor, at, self.language),
                }
                yield self._hand(leg.action.role, at, label, leg.action.id, point)

    def lines(self) -> Iterator[Line]:
        said = _sentences(self.run, self.language)
        stuck = {id_ for circle in circles(self.run) for id_ in circle}
        for leg in self.scene.legs:
            action = leg.action
            yield Line(
                action.id,
                action.role,
                said.get(action.id, (action.kind.value,)),
                *folded(tuple(cue_choices(self.run, self.scene, action, self.language))),
                tuple(more_choices(self.run, self.scene, action, self.language)),
                tuple(_others(action)),
                (*_hows(action), *_joins(self.scene.phase, action)),
                sent("remove", action=action.id),
                json.dumps(leg.points if action.path else ()),
                _waiting() if action.id in stuck else "",
                busy(action.role) if action.id in self.busy else "",
            )

    def _hand(
        self, role: Role, at: Point, label: str = "", action: str = "", point: int = 0
    ) -> Hand:
        x, y = self.window.to(at)
        words = label or _("%(role)s at %(place)s") % {
            "role": role,
            "place": describe(self.floor, at, self.language),
        }
        return Hand(role, at, round(x, 2), round(y, 2), words, action, point)


def _waiting() -> str:
    return _("They wait for one another in a circle: change when one of them goes.")


def _plainly(found: Finding) -> Finding:
    """Without the ids, which nobody who draws has seen."""
    return replace(found, sentence=_waiting()) if found.code == "cue_cycle" else found


def _sentences(run: Play, language: Language) -> dict[str, tuple[str, ...]]:
    """What each action says to who does it; nothing for a play that cannot be told yet.

    What the counters say of it is not asked: it is not on this page, and takes most of the time.
    """
    plain = replace(run, counters=())
    try:
        steps = [step for role in ROLES for step in part_of(plain, role, {}, language).steps]
    except UNDRAWABLE:
        return {}
    return {step.action: step.sentences for step in steps}


def _others(action: Action) -> Iterator[Choice]:
    if action.kind is not ActionKind.SCREEN and action.kind not in BALL_MOVERS:
        return
    now = action.cutter if action.kind is ActionKind.SCREEN else action.to
    for role in ROLES:
        if role != action.role:
            yield Choice(role, sent("other", action=action.id, other=role), role == now)


def _hows(action: Action) -> Iterator[Choice]:
    """How it is done: the cut or the throw, at ease, or only to draw a defender."""
    if action.kind is ActionKind.CUT:
        for cut, label in cuts():
            yield Choice(label, sent("how", action=action.id, cut=cut), cut == action.cut)
    if action.kind is ActionKind.PASS:
        for thrown, label in throws():
            command = sent("how", action=action.id, pass_kind=thrown)
            yield Choice(label, command, thrown == action.pass_kind)
    if action.path:
        easy = sent("how", action=action.id, easy=not action.easy)
        yield Choice(_("at an easy pace"), easy, action.easy)
        decoy = sent("how", action=action.id, decoy=not action.decoy)
        yield Choice(_("as a decoy"), decoy, action.decoy)


def _joins(phase: Phase, action: Action) -> Iterator[Choice]:
    """Where somebody else screens for the same cutter: how the two work together."""
    if partner_of(phase, action) is None:
        return
    now = action.joint.shape.value if action.joint else None
    for shape, label in (None, _("each alone")), *joints():
        yield Choice(label, sent("join", action=action.id, shape=shape), shape == now)


def _resting(play: Play, phase: Phase) -> tuple[Choice, ...]:
    """For each who does nothing in the whole play: a tap lets them hold where they are."""
    active = {each.role for each in play.actions()}
    return tuple(
        Choice(
            _("%(role)s holds") % {"role": role},
            sent("act", phase=phase.id, role=role, kind="hold"),
            on=False,
        )
        for role in ROLES
        if active and role not in active
    )
