"""One line of shorthand taken apart: an action, a look, what an action waits for.

Each function turns text into a draft or raises ``LineError`` with a sentence for the line.
References stay text here: what "4's second screen" is can be said only once all lines are read.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Any, Final, Literal, cast

from plays.core.court.courts import Court
from plays.core.play import (
    ROLES,
    CueRule,
    Defence,
    DefenceRead,
    Joint,
    Moment,
    PassKind,
    Point,
    Role,
)
from plays.core.shorthand.places import UnknownPlaceError, place_of
from plays.core.shorthand.texts import LineError, text_of
from plays.core.shorthand.typed import QUOTED, typed
from plays.core.shorthand.vocabulary import (
    ALSO_SAID,
    ANY_VERB,
    BALL_IN,
    EVENTS,
    SHAPES,
    SIGNAL,
    VERBS,
    Verb,
)
from shared.core.language import N_

NO_ACTION: Final = N_(
    "“{text}” is no action. Begin with a role and what it does, as in "
    "“4 screens for 5 at the left elbow”."
)
NO_VERB_BUT: Final = N_("Nobody “{found}” here. Did you mean “{nearby}”?")
NO_FOR_OR_TO: Final = N_("Say for whom or to whom: “{example}”.")
NO_ROLE: Final = N_("“{found}” is no role. The roles are 1 to 5.")
NO_PLACE: Final = N_("No place is called “{name}”.")
NO_PLACE_BUT: Final = N_("No place is called “{name}”. Did you mean “{nearby}”?")
NO_CLAUSE: Final = N_("“{text}” says nothing that an action can have.")
NO_CUE: Final = N_(
    "“{text}” is nothing that an action can wait for, as in “when 4's screen is set”."
)
MIXED_CUES: Final = N_("Say “and” or “or” between what an action waits for, not both.")
NO_LOOK: Final = N_("“{text}” is no look. Write it as in “1 to 5 on 5's cut, lob”.")
NO_DEFENCE: Final = N_("“{found}” is nothing that a defence does here. Known are: {known}.")

_HEAD: Final = re.compile(
    rf"([1-5]) ({ANY_VERB})(?: (?:for|to) ([1-5])(?= |$))?(?: (?:to|at) (\S.*))?"
)
_VERB: Final = re.compile(rf"(?:{ANY_VERB})\b")
_BARE_OTHER: Final = re.compile(
    rf"([1-5] (?:{'|'.join(verb for verb in VERBS if 'screen' in verb or 'pass' in verb)}"
    r"|throws|lobs|hands off)) ([1-5])(?: .*)?"
)
_MANNER: Final = re.compile(r"(.*) (easy|decoy)")  # without the comma before it
_CATCHES: Final = re.compile(r"([1-5]) (?:catches(?: it| the ball)?|has the ball)")
_IF: Final = re.compile(", if ", re.IGNORECASE)
_LOOK: Final = re.compile(r"([1-5]) to ([1-5]) on (\S.*)")
_WAITED: Final = re.compile(r"(\d{1,4}(?:\.\d{1,3})?) s after (\S.*)")
_PASSES: Final = re.compile(r"(\S.*) passes point (\d{1,3})")
_BOTH: Final = re.compile(
    r"((?:\d{1,4}(?:\.\d{1,3})? s after )?)([1-5]) and ([1-5]) (have left|are set)"
)
_EACH: Final = {"have left": "has left", "are set": "is set"}
_JOINT: Final = re.compile(rf"(in|closing) ([a-z]+) ({QUOTED.pattern})")
_PASS_KINDS: Final = frozenset(kind.value for kind in PassKind)
_READ: Final = re.compile(r"against ([a-z]+)((?: (?:on|and) [1-5])*)")
_GUESS: Final = re.compile(r"guess (\d(?:\.\d{1,20})?(?:e-\d{1,3})?)")


@dataclass(frozen=True, slots=True)
class CueDraft:
    """What an action waits for; ``of`` still as the line says it, or who ``catches``."""

    on: Moment
    of: str | None = None
    point: int | None = None
    wait: float = 0.0
    catches: Role | None = None


@dataclass(frozen=True, slots=True)
class ActionDraft:
    """An action whose id and cues are not known yet."""

    role: Role
    verb: Verb
    other: Role | None
    path: tuple[Point, ...]
    cues: tuple[CueDraft, ...] = ()
    cue_rule: CueRule = CueRule.ALL
    joint: Joint | None = None
    easy: bool = False
    decoy: bool = False
    unread: tuple[LineError, ...] = ()


@dataclass(frozen=True, slots=True)
class LookDraft:
    """A look whose action is still as the line says it."""

    passer: Role
    receiver: Role
    action: str
    pass_kind: PassKind = PassKind.DIRECT
    condition: str = ""
    at: Point | None = None
    guess: float | None = None
    read: DefenceRead | None = None
    shot: bool = False


def action_of(line: str, floor: Court) -> ActionDraft:
    """An action line without its teaching cues; what it says beyond its beginning may be unread.

    Raises LineError where not even the beginning can be read.
    """
    head, *rest = split(typed(line))
    while (manner := _MANNER.fullmatch(head)) is not None:
        head, rest = manner[1], [manner[2], *rest]
    found = _HEAD.fullmatch(head)
    if found is None:
        raise _no_action(head)
    path = () if found[4] is None else (place(found[4], floor),)
    draft: dict[str, Any] = {"path": path}
    unread = []
    for clause in rest:
        try:
            _take_clause(draft, clause, floor)
        except LineError as error:
            unread.append(error)
    draft["unread"] = tuple(unread)
    return ActionDraft(
        cast("Role", found[1]), VERBS[ALSO_SAID.get(found[2], found[2])], _role(found[3]), **draft
    )


def _no_action(head: str) -> LineError:
    """What keeps a line from being an action: who, what they do, or all of it."""
    who, _, does = head.partition(" ")
    if _VERB.match(does) and who not in ROLES:
        return LineError(NO_ROLE, found=who)
    if bare := _BARE_OTHER.fullmatch(head):
        said = f"{bare[1]} {'for' if 'screen' in bare[1] else 'to'} {bare[2]}"
        return LineError(NO_FOR_OR_TO, example=said)
    near = get_close_matches(" ".join(does.split()[:1]), VERBS, n=1, cutoff=0.7)
    if who in ROLES and near and not _VERB.match(does):
        return LineError(NO_VERB_BUT, found=does.split()[0], nearby=near[0])
    return LineError(NO_ACTION, text=head)


def look_of(line: str, floor: Court) -> LookDraft:
    """A look line; the condition, if there is one, is the rest of the line after "if"."""
    said, *conditions = _IF.split(line, maxsplit=1)
    head, *rest = split(typed(said))
    found = _LOOK.fullmatch(head)
    if found is None:
        raise LineError(NO_LOOK, text=head)
    draft: dict[str, Any] = {"condition": text_of("".join(conditions))}
    for clause in rest:
        draft |= _look_clause(clause, floor)
    return LookDraft(cast("Role", found[1]), cast("Role", found[2]), found[3].strip(), **draft)


def place(text: str, floor: Court) -> Point:
    """A place by its name or its metres, or a line error that suggests one."""
    try:
        return place_of(floor, text)
    except UnknownPlaceError as unknown:
        if unknown.nearby:
            raise LineError(NO_PLACE_BUT, name=unknown.name, nearby=unknown.nearby[0]) from None
        raise LineError(NO_PLACE, name=unknown.name) from None


def split(line: str) -> list[str]:
    """The clauses of a line: parted by commas that stand outside quotes and brackets."""
    parts, begin, depth, quoted = [], 0, 0, False
    for index, sign in enumerate(line):
        if sign == '"' and line[index - 1 : index] != "\\":
            quoted = not quoted
        elif not quoted:
            depth += {"(": 1, ")": -1}.get(sign, 0)
            if sign == "," and depth <= 0:
                parts.append(line[begin:index])
                begin = index + 1
    parts.append(line[begin:])
    return [" ".join(part.split()) if '"' not in part else part.strip() for part in parts]


def cues_of(clause: str) -> tuple[tuple[CueDraft, ...], CueRule]:
    """What an action waits for, from "when … and …" or "when … or …"."""
    said = re.sub(r"^(?:when|with) ", "", clause)
    said = _BOTH.sub(_each_of_both, said)
    both, either = re.split(r" and (?:when )?", said), re.split(r" or (?:when )?", said)
    if len(both) > 1 and len(either) > 1:
        raise LineError(MIXED_CUES)
    events = both if len(either) == 1 else either
    return tuple(_cue(event) for event in events), CueRule.FIRST if len(either) > 1 else CueRule.ALL


def _each_of_both(found: re.Match[str]) -> str:
    """ "3 and 4 are set" as what is said of each."""
    after, one, other, said = found.groups()
    return f"{after}{one} {_EACH[said]} and {after}{other} {_EACH[said]}"


def _take_clause(draft: dict[str, Any], clause: str, floor: Court) -> None:
    if clause in ("easy", "decoy"):
        draft[clause] = True
    elif clause.startswith("on to "):
        draft["path"] = (*draft["path"], place(clause.removeprefix("on to "), floor))
    elif clause.startswith(("when ", "with ")) or _WAITED.match(clause):
        draft["cues"], draft["cue_rule"] = cues_of(clause)
    elif found := _JOINT.fullmatch(clause):
        draft["joint"] = _joint(found)
    else:
        raise LineError(NO_CLAUSE, text=clause)


def _joint(found: re.Match[str]) -> Joint:
    if found[2] not in SHAPES:
        raise LineError(NO_CLAUSE, text=found[0])
    part: Literal["open", "close"] = "open" if found[1] == "in" else "close"
    return Joint(text_of(found[3]), SHAPES[found[2]], part)


def _cue(event: str) -> CueDraft:
    event, wait = event.strip(), 0.0
    if found := _WAITED.fullmatch(event):
        wait, event = float(found[1]), found[2]
    if event == SIGNAL:
        return CueDraft(Moment.SIGNAL, wait=wait)
    if event == BALL_IN:
        return CueDraft(Moment.BALL_IN, wait=wait)
    if found := _PASSES.fullmatch(event):
        return CueDraft(Moment.PASSES, found[1], max(int(found[2]), 1) - 1, wait)
    if found := _CATCHES.fullmatch(event):
        return CueDraft(Moment.END, wait=wait, catches=cast("Role", found[1]))
    for moment, endings in EVENTS.items():
        for ending in endings:
            if event.endswith(f" {ending}"):
                return CueDraft(moment, event.removesuffix(ending).strip(), None, wait)
    raise LineError(NO_CUE, text=event)


def _look_clause(clause: str, floor: Court) -> Mapping[str, Any]:
    if clause in _PASS_KINDS:
        return {"pass_kind": PassKind(clause)}
    if clause.startswith("at "):
        return {"at": place(clause.removeprefix("at "), floor)}
    if found := _GUESS.fullmatch(clause):
        return {"guess": float(found[1])}
    if clause == "shoots":
        return {"shot": True}
    if found := _READ.fullmatch(clause):
        return {"read": DefenceRead(defence_of(found[1]), roles_of(found[2]))}
    raise LineError(NO_LOOK, text=clause)


def defence_of(text: str) -> Defence:
    """What a defence does, by its word. Raises LineError."""
    if text not in {each.value for each in Defence}:
        raise LineError(NO_DEFENCE, found=text, known=", ".join(each.value for each in Defence))
    return Defence(text)


def roles_of(text: str) -> tuple[Role, ...]:
    """The roles in " on 4 and 5", in that order."""
    return cast("tuple[Role, ...]", tuple(re.findall("[1-5]", text)))


def _role(text: str | None) -> Role | None:
    return cast("Role", text) if text else None
