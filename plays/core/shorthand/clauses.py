"""One line of shorthand taken apart: an action, a look, what an action waits for.

Each function turns text into a draft or raises ``LineError`` with a sentence for the line.
References stay text here: what "4's second screen" is can be said only once all lines are read.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final, Literal, cast

from plays.core.court.courts import Court
from plays.core.play import (
    CueRule,
    Defence,
    DefenceRead,
    Joint,
    Moment,
    PassKind,
    Point,
    Role,
    Translation,
)
from plays.core.shorthand.places import UnknownPlaceError, place_of
from plays.core.shorthand.vocabulary import (
    ANY_VERB,
    BALL_IN,
    EVENTS,
    READS_AS_ACTION,
    SHAPES,
    SIGNAL,
    VERBS,
    Verb,
)
from shared.core.language import N_, Slot

NO_ACTION: Final = N_(
    "“{text}” is no action. Begin with a role and what it does, as in "
    "“4 screens for 5 at the left elbow”."
)
NO_PLACE: Final = N_("No place is called “{name}”.")
NO_PLACE_BUT: Final = N_("No place is called “{name}”. Did you mean “{nearby}”?")
NO_CLAUSE: Final = N_("“{text}” says nothing that an action can have.")
NO_CUE: Final = N_(
    "“{text}” is nothing that an action can wait for, as in “when 4's screen is set”."
)
MIXED_CUES: Final = N_("Say “and” or “or” between what an action waits for, not both.")
NO_LOOK: Final = N_("“{text}” is no look. Write it as in “1 to 5 on 5's cut, lob”.")
NO_DEFENCE: Final = N_("“{found}” is nothing that a defence does here. Known are: {known}.")
NO_TRANSLATION: Final = N_("Write the text as it stands above, a bar, and what is said for it.")
NO_TEXT: Final = N_("The quotation mark of this text has no partner.")

_HEAD: Final = re.compile(
    rf"([1-5]) ({ANY_VERB})(?: (?:for|to) ([1-5])(?= |$))?(?: (?:to|at) (\S.*))?"
)
_LOOK: Final = re.compile(r"([1-5]) to ([1-5]) on (\S.*)")
_WAITED: Final = re.compile(r"(\d{1,4}(?:\.\d{1,3})?) s after (\S.*)")
_PASSES: Final = re.compile(r"(\S.*) passes point (\d{1,3})")
_BOTH_LEFT: Final = re.compile(
    r"((?:\d{1,4}(?:\.\d{1,3})? s after )?)([1-5]) and ([1-5]) have left"
)
_JOINT: Final = re.compile(r'(in|closing) ([a-z]+) ("(?:[^"\\]|\\.)*")')
_PASS_KINDS: Final = frozenset(kind.value for kind in PassKind)
_READ: Final = re.compile(r"against ([a-z]+)((?: (?:on|and) [1-5])*)")
_GUESS: Final = re.compile(r"guess (\d(?:\.\d{1,20})?(?:e-\d{1,3})?)")


class LineError(ValueError):
    """A line that cannot be read: the template of the sentence, and what fills it."""

    def __init__(self, template: str, **slots: Slot) -> None:
        super().__init__(template)
        self.template = template
        self.slots = slots


@dataclass(frozen=True, slots=True)
class CueDraft:
    """What an action waits for; ``of`` still as the line says it."""

    on: Moment
    of: str | None = None
    point: int | None = None
    wait: float = 0.0


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
    """An action line without its teaching cues."""
    head, *rest = split(line)
    found = _HEAD.fullmatch(head)
    if found is None:
        raise LineError(NO_ACTION, text=head)
    path = () if found[4] is None else (place(found[4], floor),)
    draft: dict[str, Any] = {"path": path}
    for clause in rest:
        _take_clause(draft, clause, floor)
    return ActionDraft(cast("Role", found[1]), VERBS[found[2]], _role(found[3]), **draft)


def look_of(line: str, floor: Court) -> LookDraft:
    """A look line; the condition, if there is one, is the rest of the line after "if"."""
    said, _, condition = line.partition(", if ")
    head, *rest = split(said)
    found = _LOOK.fullmatch(head)
    if found is None:
        raise LineError(NO_LOOK, text=head)
    draft: dict[str, Any] = {"condition": text_of(condition)}
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


def text_of(text: str) -> str:
    """A text as written, or what a JSON string in its place says."""
    text = text.strip()
    if not text.startswith('"'):
        return text
    try:
        said = json.loads(text)
    except ValueError:
        raise LineError(NO_TEXT) from None
    return str(said)


def text_line(text: str) -> str:
    """A text as it is, or as a JSON string where a reader of lines would change it."""
    plain = text == " ".join(text.split()) and text[:1] not in ('"', "") and " | " not in text
    return text if plain and not READS_AS_ACTION.match(text) else quoted(text)


def quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)


def translation_of(text: str, language: str) -> Translation:
    """One text and what it is in a language; a text in quotation marks may hold the bar itself."""
    entered, bar, said = text.partition(" | ")
    entered = entered.strip()
    if text.startswith('"'):
        try:
            entered, end = json.JSONDecoder().raw_decode(text)
        except ValueError:
            raise LineError(NO_TEXT) from None
        bar, said = text[end : end + 3], text[end + 3 :]
    if bar != " | " or not said.strip():
        raise LineError(NO_TRANSLATION)
    return Translation(language, entered, text_of(said))


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
    said = _BOTH_LEFT.sub(r"\1\2 has left and \1\3 has left", said)
    both, either = re.split(r" and (?:when )?", said), re.split(r" or (?:when )?", said)
    if len(both) > 1 and len(either) > 1:
        raise LineError(MIXED_CUES)
    events = both if len(either) == 1 else either
    return tuple(_cue(event) for event in events), CueRule.FIRST if len(either) > 1 else CueRule.ALL


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
