"""Editing what a play says in words, and the order of its looks; who runs where stays.

The fields follow the play: one title for each phase, a line for each look, a text for each
counter. What cannot be saved is told at its field by the same checks that judge a play file.

Long since it is one form: what is typed, what it makes and what is wrong with it share its fields.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final, cast

from django import forms
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from plays.core.document.counters import screened_for
from plays.core.document.file import to_json
from plays.core.document.problem import tokens
from plays.core.document.review import review
from plays.core.limits import MAX_NAME, MAX_TEXT
from plays.core.play import AgeGroup as Level
from plays.core.play import Defence, DefenceRead, Look, PassKind, Play, Role
from plays.core.play import Formation as FormationValue
from plays.core.words.reads import when
from plays.core.words.terms import LOOKS, answered
from plays.models import AgeGroup, Formation
from plays.play.call_fields import (
    CallRow,
    call_faults,
    call_field,
    call_fields,
    call_rows,
    call_values,
    called,
)
from shared.core.finding import Finding
from shared.core.language import Language
from shared.forms import ClearForm
from shared.speech import language_now

PASSES = [
    (PassKind.DIRECT.value, _("direct")),
    (PassKind.BOUNCE.value, _("bounce")),
    (PassKind.LOB.value, _("lob")),
    (PassKind.OVERHEAD.value, _("overhead")),
]


class Paragraphs(forms.CharField):
    """A text of several lines, with the line ends of a play document instead of a browser's."""

    def __init__(self, *, rows: int, **kwargs: Any) -> None:
        super().__init__(widget=forms.Textarea(attrs={"rows": rows}), **kwargs)

    def to_python(self, value: Any) -> str:
        return str(super().to_python(value) or "").replace("\r\n", "\n").replace("\r", "\n")


def _lines(label: Any) -> forms.CharField:
    return Paragraphs(rows=4, label=label, required=False, help_text=_("One a line."))


@dataclass(frozen=True, slots=True)
class LookFields:
    """The fields of one look, with what it is."""

    title: str
    fields: tuple[forms.BoundField, ...]


@dataclass(frozen=True, slots=True)
class LookTable:
    """The looks of the play, or of a counter whose own words stand above them."""

    title: str
    says: forms.BoundField | None
    rows: tuple[LookFields, ...]


class TextsForm(ClearForm):
    """The words of one play. Bound or not, it needs the play that is edited."""

    seen = forms.CharField(widget=forms.HiddenInput, required=False)
    name = forms.CharField(label=_("Name"), max_length=MAX_NAME)
    series = forms.CharField(
        label=_("Series"),
        required=False,
        max_length=40,
        help_text=_("Plays that start from one formation."),
    )
    formation = forms.ChoiceField(label=_("Formation"), choices=Formation.choices)
    level = forms.ChoiceField(
        label=_("Suits from"), choices=AgeGroup.choices, help_text=_("The youngest group.")
    )
    call = forms.CharField(
        label=_("Call"),
        required=False,
        max_length=60,
        help_text=_("{5} is filled with the name of the player in role 5."),
    )
    use = Paragraphs(rows=3, label=_("When to use it"), required=False, max_length=MAX_TEXT)
    teach = _lines(_("Teaching cues"))
    errors_ = _lines(_("Common errors"))
    cautions = _lines(_("Cautions"))
    note = forms.CharField(
        label=_("What is new, and why"),
        required=False,
        max_length=200,
        help_text=_("Shown in the list of versions."),
    )

    def __init__(self, *args: Any, play: Play, language: Language, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.play, self.language = play, language
        self.initial = {**_initial(play), **self.initial}
        for number, phase in enumerate(play.phases):
            label = gettext("Title of phase %(n)d") % {"n": number + 1}
            self.fields[f"phase-{number}"] = forms.CharField(label=label, max_length=MAX_NAME)
            self.initial[f"phase-{number}"] = phase.title
        self._add_looks("", play.looks)
        for number, counter in enumerate(play.counters):
            label = gettext("What to do")
            self.fields[f"says-{number}"] = Paragraphs(rows=2, label=label, max_length=MAX_TEXT)
            self.initial[f"says-{number}"] = counter.says
            self._add_looks(f"counter-{number}-", counter.looks)
        self.fields.update(call_fields(play))
        self.initial = {**call_values(play), **self.initial}

    def call_rows(self) -> Iterator[CallRow]:
        return call_rows(self, self.play, self.language)

    def _add_looks(self, prefix: str, looks: Sequence[Look]) -> None:
        for number, look in enumerate(looks):
            start = f"{prefix}look-{number}"
            self.fields.update(_look_fields(start, len(looks), _reads(look, self.play)))
            self.initial.update(
                {
                    f"{start}-place": number + 1,
                    f"{start}-kind": look.pass_kind.value,
                    f"{start}-condition": look.condition,
                    f"{start}-read": _read_key(look.read),
                    f"{start}-shot": look.shot,
                    f"{start}-guess": None if look.guess is None else round(100 * look.guess),
                }
            )

    def phase_fields(self) -> list[forms.BoundField]:
        return [self[f"phase-{number}"] for number in range(len(self.play.phases))]

    def plain_fields(self) -> list[forms.BoundField]:
        return [self[name] for name in ("name", "series", "formation", "level", "call")]

    def long_fields(self) -> list[forms.BoundField]:
        return [self[name] for name in ("use", "teach", "errors_", "cautions")]

    def look_tables(self) -> Iterator[LookTable]:
        """The looks of the play, then those of each counter under what it says."""
        yield LookTable(gettext("Looks"), None, self._rows("", self.play.looks))
        for number, counter in enumerate(self.play.counters):
            rows = self._rows(f"counter-{number}-", counter.looks)
            yield LookTable(answered(counter, language_now()), self[f"says-{number}"], rows)

    def _rows(self, prefix: str, looks: Sequence[Look]) -> tuple[LookFields, ...]:
        speech = language_now()
        return tuple(
            LookFields(
                speech.say(LOOKS[PassKind.DIRECT], passer=look.passer, receiver=look.receiver),
                tuple(self[f"{prefix}look-{number}-{each}"] for each in _LOOK_FIELDS),
            )
            for number, look in enumerate(looks)
        )

    def clean(self) -> dict[str, Any]:
        """Judge the edited play as if it had come as a file."""
        cleaned = super().clean() or self.cleaned_data
        for name, sentence in call_faults(cleaned, self.play):
            self.add_error(name, sentence)
        if not self.errors:
            for problem in review(to_json(self.edited()), self.language).problems:
                place = self._field_of(problem)
                if place is not None:
                    self.add_error(place, problem.sentence)
        return cleaned

    def edited(self) -> Play:
        """The play with the words of the form. Nothing else of it changes."""
        said = self.cleaned_data
        return replace(
            self.play,
            name=said["name"],
            series=said["series"],
            formation=FormationValue(said["formation"]),
            level=Level(said["level"]),
            call=said["call"],
            use=said["use"],
            teach=_split(said["teach"]),
            errors=_split(said["errors_"]),
            cautions=_split(said["cautions"]),
            phases=tuple(
                replace(phase, title=said[f"phase-{number}"])
                for number, phase in enumerate(self.play.phases)
            ),
            looks=self._looks("", self.play.looks),
            variants=called(said, self.play),
            counters=tuple(
                replace(
                    counter,
                    says=said[f"says-{number}"],
                    looks=self._looks(f"counter-{number}-", counter.looks),
                )
                for number, counter in enumerate(self.play.counters)
            ),
        )

    def _looks(self, prefix: str, looks: Sequence[Look]) -> tuple[Look, ...]:
        order = self._order(prefix, looks)
        return tuple(self._look(f"{prefix}look-{number}", looks[number]) for number in order)

    def _order(self, prefix: str, looks: Sequence[Look]) -> list[int]:
        """The old numbers in the new order; looks with one place keep their order."""
        said = self.cleaned_data
        return sorted(range(len(looks)), key=lambda n: (said[f"{prefix}look-{n}-place"], n))

    def _look(self, start: str, look: Look) -> Look:
        said = self.cleaned_data
        guess = said[f"{start}-guess"]
        kept = look.guess if look.guess is not None and round(100 * look.guess) == guess else None
        return replace(
            look,
            pass_kind=PassKind(said[f"{start}-kind"]),
            condition=said[f"{start}-condition"],
            read=_read_of(said[f"{start}-read"]),
            shot=said[f"{start}-shot"],
            guess=None if guess is None else kept if kept is not None else guess / 100,
        )

    def _field_of(self, problem: Finding) -> str | None:
        """The field that a problem is about, if it is about any of them."""
        name: str | None = None
        match tokens(problem.place):
            case ("phases", int(number), "title"):
                name = f"phase-{number}"
            case ("looks", int(number), key):
                name = self._look_field("", self.play.looks, number, key)
            case ("variants", int(number), *rest):
                name = call_field(self.cleaned_data, self.play, number, rest)
            case ("counters", int(number), "says"):
                name = f"says-{number}"
            case ("counters", int(number), "looks", int(look), key):
                looks = self.play.counters[number].looks
                name = self._look_field(f"counter-{number}-", looks, look, key)
            case (str(key), *_rest):
                name = "errors_" if key == "errors" else key
        return name if name in self.fields else None

    def _look_field(
        self, prefix: str, looks: Sequence[Look], number: int, key: int | str
    ) -> str | None:
        names = {"pass_kind": "kind", "read": "read", "condition": "condition", "guess": "guess"}
        if key not in names:
            return None
        old = self._order(prefix, looks)[number]
        return f"{prefix}look-{old}-{names[str(key)]}"


_LOOK_FIELDS: Final = ("place", "kind", "shot", "read", "condition", "guess")
# What can be read of the receiver's own defender; a switch is by two, and a trap by the thrower's.
# Over and under are read of who is screened for.
_READ: Final = (Defence.FRONT, Defence.BEHIND, Defence.CHASE, Defence.SAG, Defence.DENY)
_PAST_SCREENS: Final = (Defence.OVER, Defence.UNDER)


def _read_key(read: DefenceRead | None) -> str:
    return "" if read is None else "-".join((read.defence.value, *read.whose))


def _read_of(key: str) -> DefenceRead | None:
    defence, *whose = key.split("-")
    return DefenceRead(Defence(defence), cast("tuple[Role, ...]", tuple(whose))) if key else None


def _reads(look: Look, play: Play) -> list[tuple[str, str]]:
    """What a look can be thrown by, and how it is now."""
    screened = look.receiver in screened_for(play)
    known = (*_READ, *_PAST_SCREENS) if screened else _READ
    own = [DefenceRead(each, (look.receiver,)) for each in known]
    found = [*own, DefenceRead(Defence.SWITCH), DefenceRead(Defence.TRAP)]
    found += [look.read] if look.read is not None and look.read not in found else []
    speech = language_now()
    return [
        ("", gettext("whatever they do")),
        *((_read_key(each), when(each.defence, each.whose, speech)) for each in found),
    ]


def _look_fields(start: str, count: int, reads: list[tuple[str, str]]) -> dict[str, forms.Field]:
    return {
        f"{start}-place": forms.IntegerField(label=_("Place"), min_value=1, max_value=count),
        f"{start}-kind": forms.ChoiceField(label=_("Pass"), choices=PASSES),
        f"{start}-shot": forms.BooleanField(label=_("Who catches it shoots"), required=False),
        f"{start}-read": forms.ChoiceField(label=_("Read"), required=False, choices=reads),
        f"{start}-condition": forms.CharField(label=_("When"), required=False, max_length=MAX_TEXT),
        f"{start}-guess": forms.IntegerField(
            label=_("Guess, %"), required=False, min_value=0, max_value=100
        ),
    }


def _initial(play: Play) -> Mapping[str, Any]:
    return {
        "name": play.name,
        "series": play.series,
        "formation": play.formation.value,
        "level": play.level.value,
        "call": play.call,
        "use": play.use,
        "teach": "\n".join(play.teach),
        "errors_": "\n".join(play.errors),
        "cautions": "\n".join(play.cautions),
    }


def _split(text: str) -> tuple[str, ...]:
    return tuple(line.strip() for line in text.splitlines() if line.strip())
