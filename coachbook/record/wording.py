"""A line of the record as a sentence in the reader's language."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any, Final

from practice.verbs import TOOK_BACK, TOOK_OWN_BACK
from roster.models import Availability, Duty, Player
from shared.core.language import N_, Language
from shared.models import AskedOf, Change
from shared.verbs import VERBS

Names = Mapping[int, str]

THE_SITE: Final = N_("The site")
OTHERWISE: Final = N_("{who}: {verb} {subject}")  # a verb that nothing writes any more
# By depth: who is in a role, and who was.
CELLS: Final = {
    1: N_("First in role {role}: {after}; before, {before}"),
    2: N_("Second in role {role}: {after}; before, {before}"),
    3: N_("Third in role {role}: {after}; before, {before}"),
}
NOBODY: Final = N_("nobody")
NO_RIGHTS: Final = N_("no rights in the whole club")
# In the order in which a line keeps them.
RIGHTS: Final = (N_("runs the club"), N_("keeps the play library"), N_("guest of the library"))
_SLOT: Final = re.compile(r"\{([1-5])\}")  # of a call that names who plays a role
SHOWN: Final = 8  # names in a sentence
AND_MORE: Final = N_("{n} more")


def names_in(lines: Iterable[Change]) -> Names:
    """The players whom changes of casts name by their keys: one query for all lines."""
    keys = {cell[end] for line in lines for cell in _cells(line) for end in ("before", "after")}
    return {who.pk: str(who) for who in Player.objects.filter(pk__in=keys - {None})}


def told(line: Change, language: Language) -> str:
    """The line as one sentence."""
    who = str(line.user) if line.user else language.say(THE_SITE)
    verb = VERBS.get(line.verb)
    if verb is None:
        return language.say(OTHERWISE, who=who, verb=line.verb, subject=line.subject)
    back = line.after if line.verb == TOOK_BACK and isinstance(line.after, dict) else {}
    many = back.get("reps", line.after)
    subject = _SLOT.sub(r"\1", line.subject)
    name = subject.rpartition(" ")[0]  # a revision is written down as the play and its number
    others = back.get("logged_by_others", 0)
    return language.say(
        TOOK_OWN_BACK if line.verb == TOOK_BACK and not others else verb.said,
        who=who,
        subject=subject,
        name=name,
        before=_value(line, line.before, language),
        after=_value(line, line.after, language),
        count=len(many) if isinstance(many, list) else 1,
        others=others,
    )


def details(line: Change, names: Names, language: Language) -> list[str]:
    """What changed in a cast, place by place."""
    nobody = language.say(NOBODY)

    def called(key: int | None) -> str:
        return nobody if key is None else names.get(key, "–")

    return [
        language.say(
            CELLS[int(cell["depth"])],
            role=str(cell["role"]),
            before=called(cell["before"]),
            after=called(cell["after"]),
        )
        for cell in _cells(line)
    ]


def _cells(line: Change) -> list[dict[str, Any]]:
    return line.after if line.verb == "cast" and isinstance(line.after, list) else []


def _value(line: Change, value: Any, language: Language) -> str:
    if line.verb in {"gave rights", "invited"}:
        return _rights(value or [], language)
    if line.verb == "gave duty":
        return str(dict(Duty.choices).get(value, value))
    if line.verb == "set who needs a second step":
        return str(dict(AskedOf.choices).get(value, value))
    if line.verb == "set availability":
        return str(dict(Availability.choices).get(value, value))
    if isinstance(value, list):
        return _some(value, language)
    return "–" if value is None or isinstance(value, dict) else str(value)


def _rights(has: list[bool], language: Language) -> str:
    held = [language.say(word) for word, is_held in zip(RIGHTS, has, strict=False) if is_held]
    return language.all_of(held) or language.say(NO_RIGHTS)


def _some(values: list[Any], language: Language) -> str:
    words = [str(value) for value in values[:SHOWN]]
    if len(values) > SHOWN:
        words.append(language.say(AND_MORE, n=len(values) - SHOWN))
    return language.all_of(words)
