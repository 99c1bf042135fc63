"""A play as shorthand: text that a coach reads aloud, and that ``read`` turns back.

text = shorthand(play)
read(text).play == canonical(play)
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import groupby

from plays.core.court.courts import Court, court
from plays.core.play import (
    Action,
    ActionKind,
    Conditions,
    Counter,
    Cue,
    CueRule,
    Defence,
    Defender,
    Formation,
    Look,
    Moment,
    PassKind,
    Phase,
    Play,
    Point,
    Role,
    Spacing,
    Spot,
    Swap,
    Translation,
    Variant,
)
from plays.core.shorthand.naming import Reference, mover_text, reference_text, scope
from plays.core.shorthand.places import number, place_text
from plays.core.shorthand.texts import quoted, text_line
from plays.core.shorthand.vocabulary import (
    BALL_IN,
    EVENTS,
    OTHER_SIDE,
    SAID,
    SIGNAL,
    STAYING,
    Verb,
)

Known = Mapping[str, Reference]


def shorthand(play: Play) -> str:
    """The whole play as text, a line for each action. Lossless but for ids."""
    floor = court(play.court)
    known = scope(play)
    parts = [list(_head(play)), ["starts:", *_starts(play, floor)]]
    parts.append(_section("spacing", map(_spacing, play.spacing)))
    for phase in play.phases:
        lines = [f"{_phase(play, phase)}: {text_line(phase.title)}"]
        parts.append([*lines, *_actions(phase.actions, floor, known)])
    parts.append(_section("looks", (look_line(look, floor, known) for look in play.looks)))
    parts += [list(_counter(play, counter, floor)) for counter in play.counters]
    parts += _tail(play, floor)
    return "\n\n".join("\n".join(part) for part in parts if part) + "\n"


def _phase(play: Play, phase: Phase) -> str:
    """ "phase", "rotation", or "rotation after look 2 and 3": looks by their places in the list."""
    place = {look.id: n for n, look in enumerate(play.looks, start=1)}
    looks = [str(place[id_]) for id_ in phase.after if id_ in place]
    after = f" after look {' and '.join(looks)}" if looks else ""
    return ("rotation" if phase.rotation else "phase") + after


def action_line(action: Action, floor: Court, known: Known) -> str:
    """One action as one line, without its teaching cues."""
    return ", ".join(_clauses(action, floor, known))


def look_line(look: Look, floor: Court, known: Known) -> str:
    """One look as one line: who passes to whom, on which of the receiver's actions, and when."""
    clauses = [f"{look.passer} to {look.receiver} on {_named(look.action, known)}"]
    if look.pass_kind is not PassKind.DIRECT:
        clauses.append(look.pass_kind.value)
    if look.at is not None:
        clauses.append(f"at {place_text(floor, look.at)}")
    if look.guess is not None:
        clauses.append(f"guess {_exact(look.guess)}")
    if look.shot:
        clauses.append("shoots")
    if look.read is not None:
        clauses.append(f"against {_against(look.read.defence, look.read.whose)}")
    if look.condition:
        clauses.append(f"if {text_line(look.condition)}")
    return ", ".join(clauses)


def _against(defence: Defence, whose: Iterable[Role]) -> str:
    named = " and ".join(whose)
    return f"{defence.value} on {named}" if named else defence.value


def _head(play: Play) -> Iterator[str]:
    yield f"play: {text_line(play.name)}"
    yield f"key: {text_line(play.key)}"
    if play.series:
        yield f"series: {text_line(play.series)}"
    if play.call:
        yield f"call: {text_line(play.call)}"
    yield f"situation: {_said(play.situation.value)}"
    if play.formation is not Formation.OTHER:
        yield f"formation: {_said(play.formation.value)}"
    yield f"court: {_said(play.court.value)}"
    yield f"level: {play.level.value}"
    if play.spot is not None or play.thrower is not None:
        yield f"throw-in: {_throw_in(play)}"
    if play.ball != play.thrower:
        yield f"ball: {play.ball}"
    if play.use:
        yield f"use: {text_line(play.use)}"
    if play.conditions is not None:
        yield f"conditions: {_conditions(play.conditions)}"
    if play.origin is not None:
        yield f"origin: {text_line(play.origin.move)} | {text_line(play.origin.content)}"


def _throw_in(play: Play) -> str:
    who = play.thrower or "nobody"
    return who if play.spot is None else f"{who}, {_spot(play.spot)}"


def _spot(spot: Spot) -> str:
    far = "own " if spot.far else ""
    return f"{spot.side} {far}{spot.edge} at {number(spot.along)}"


def _conditions(conditions: Conditions) -> str:
    limits = (
        ("at least {} s left", conditions.seconds_left_from),
        ("at most {} s left", conditions.seconds_left_to),
        ("margin at least {}", conditions.margin_from),
        ("margin at most {}", conditions.margin_to),
    )
    said = [text.format(_exact(value)) for text, value in limits if value is not None]
    return ", ".join(said) or "none"


def _starts(play: Play, floor: Court) -> Iterator[str]:
    for start in play.starts:
        yield f"  {start.role} at {place_text(floor, start.at)}"


def _spacing(each: Spacing) -> str:
    return f"{each.one} and {each.other}, {number(each.low)} to {number(each.high)} m"


def _actions(actions: Iterable[Action], floor: Court, known: Known) -> Iterator[str]:
    for action in actions:
        yield f"  {action_line(action, floor, known)}"
        yield from _teaching(action)


def _teaching(action: Action) -> Iterator[str]:
    return (f"    - {text_line(each)}" for each in action.teach)


def _clauses(action: Action, floor: Court, known: Known) -> Iterator[str]:
    yield _verb_phrase(action, floor)
    for point in action.path[1:]:
        yield f"on to {place_text(floor, point)}"
    if action.joint is not None:
        part = "in" if action.joint.part == "open" else "closing"
        yield f"{part} {action.joint.shape.value} {quoted(action.joint.name)}"
    if action.cues:
        yield _cues(action, known)
    if action.easy:
        yield "easy"
    if action.decoy:
        yield "decoy"


def _verb_phrase(action: Action, floor: Court) -> str:
    verb = SAID[Verb(action.kind, action.cut, action.screen, action.pass_kind)]
    words = [action.role, verb]
    if action.cutter is not None:
        words.append(f"for {action.cutter}")
    if action.to is not None:
        words.append(f"to {action.to}")
    if action.path:
        words.append(
            f"{_preposition(action.kind, action.path)} {place_text(floor, action.path[0])}"
        )
    return " ".join(words)


def _preposition(kind: ActionKind, path: tuple[Point, ...]) -> str:
    stands = kind in (ActionKind.SCREEN, ActionKind.SHOT, ActionKind.HOLD)
    return "at" if stands and len(path) == 1 else "to"


def _cues(action: Action, known: Known) -> str:
    said = [_cue(cue, known) for cue in action.cues]
    joined = (" or " if action.cue_rule is CueRule.FIRST else " and ").join(said)
    return joined if action.cues[0].wait else f"when {joined}"


def _cue(cue: Cue, known: Known) -> str:
    event = _event(cue, known)
    return f"{number(cue.wait)} s after {event}" if cue.wait else event


def _event(cue: Cue, known: Known) -> str:
    if cue.on is Moment.SIGNAL:
        return SIGNAL
    if cue.on is Moment.BALL_IN:
        return BALL_IN
    who = _named(cue.action or "", known)
    if cue.on is Moment.HAS_LEFT:
        who = mover_text(known[cue.action or ""], known.values())
    if cue.on is Moment.PASSES:
        point = "?" if cue.point is None else cue.point + 1  # a draft may not say which yet
        return f"{who} passes point {point}"
    caught = cue.on is Moment.END and known[cue.action or ""].kind is ActionKind.PASS
    return f"{who} {EVENTS[cue.on][1 if caught else 0]}"


def _named(id_: str, known: Known) -> str:
    return reference_text(known[id_], known.values())


def _counter(play: Play, counter: Counter, floor: Court) -> Iterator[str]:
    base, known = scope(play), scope(play, counter)
    phase = [each.id for each in play.phases].index(counter.from_phase) + 1
    against = _against(counter.defence, counter.whose)
    yield f"counter {against} from phase {phase}: {text_line(counter.says)}"
    for id_ in counter.remove:
        yield f"  without {_named(id_, base)}"
    for action in counter.replace:
        yield f"  instead of {_named(action.id, base)}: {action_line(action, floor, known)}"
        yield from _teaching(action)
    yield from _actions(counter.add, floor, known)
    yield from _section("  looks", (look_line(look, floor, known) for look in counter.looks))


def _variant(variant: Variant) -> str:
    clauses = [f"call {quoted(variant.call)}"]
    if variant.sign:
        clauses.append(f"sign {quoted(variant.sign)}")
    clauses += map(_swap, variant.swaps)
    if variant.mirror:
        clauses.append(OTHER_SIDE)
    return ", ".join(clauses)


def _swap(swap: Swap) -> str:
    stay = f" {STAYING}" if swap.stay else ""
    return f"{swap.one} and {swap.other} swap{stay}"


def _tail(play: Play, floor: Court) -> Iterator[list[str]]:
    yield _section("variants", map(_variant, play.variants))
    yield _section(
        "needs",
        (f"{n.role} needs {n.quality.value} {n.level}, weight {n.weight}" for n in play.needs),
    )
    yield _section("defenders", (_defender(each, floor) for each in play.defenders))
    for heading, texts in (
        ("teach", play.teach),
        ("errors", play.errors),
        ("cautions", play.cautions),
    ):
        yield _section(heading, (f"- {text_line(text)}" for text in texts))
    told = sorted(play.translations, key=lambda each: each.language)
    for language, lines in groupby(told, key=lambda each: each.language):
        yield _section(f"in {language}", map(_translation, lines))


def _translation(each: Translation) -> str:
    text = quoted(each.text) if "|" in each.text else text_line(each.text)
    return f"- {text} | {text_line(each.said)}"


def _defender(defender: Defender, floor: Court) -> str:
    stance = "" if defender.stance is None else f" {defender.stance.value}"
    at = "" if defender.at is None else f" at {place_text(floor, defender.at)}"
    return f"on {defender.guards}{stance}{at}"


def _section(heading: str, lines: Iterable[str]) -> list[str]:
    found = [f"  {line}" for line in lines]
    return [f"{heading}:", *found] if found else []


def _said(value: str) -> str:
    return value.replace("_", " ")


def _exact(value: float) -> str:
    return repr(value).removesuffix(".0")
