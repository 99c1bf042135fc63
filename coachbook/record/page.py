"""What the page of the record shows: the lines that were asked for, newest first."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Final, Self

from django.db.models import Exists, OuterRef, QuerySet
from django.utils import timezone
from django.utils.functional import Promise
from django.utils.http import urlencode
from django.utils.translation import gettext_lazy as _

from coachbook.record.wording import details, names_in, told
from roster.models import Team
from shared.core.language import Language
from shared.core.numbers import whole_number
from shared.models import Change, User
from shared.verbs import verbs_of

EACH: Final = 25  # lines on a page: two screens and a half of a phone
SITE: Final = 0  # stands for what no person did
MATTERS: Final[Mapping[str, Promise]] = {
    "plays": _("Plays of the library"),
    "cast": _("Package and cast"),
    "plans": _("Practices and plans"),
    "reps": _("Reps"),
    "players": _("Players"),
    "links": _("Links"),
    "rights": _("Staff and rights"),
    "team": _("Team and settings"),
    "data": _("Exports and erasure"),
}


@dataclass(frozen=True, slots=True)
class RecordAsked:
    """What a reader asks for; None asks for all. ``before`` is the key of a line."""

    matter: str | None = None
    who: int | None = None
    before: int | None = None

    @classmethod
    def of(cls, sent: Mapping[str, str]) -> Self:
        """From an address; what makes no sense there asks for nothing."""
        named = sent.get("what", "")
        matter = named if named in MATTERS else None
        return cls(matter, *(whole_number(sent.get(name, "")) for name in ("who", "before")))

    def of_these(self, rows: QuerySet[Change]) -> QuerySet[Change]:
        if self.matter is not None:
            rows = rows.filter(verb__in=verbs_of(self.matter))
        if self.who is not None:
            rows = rows.filter(user=self.who or None)
        if self.before is not None:
            rows = rows.filter(pk__lt=self.before)
        return rows

    @property
    def is_all(self) -> bool:
        """Whether nothing is left out."""
        return self == RecordAsked()

    def query(self, before: int | None = None) -> str:
        """The address of what was asked for, from before this line on."""
        said = {"what": self.matter, "who": self.who, "before": before}
        return "?" + urlencode({name: value for name, value in said.items() if value is not None})


@dataclass(frozen=True, slots=True)
class RecordLine:
    at: datetime
    sentence: str
    details: list[str]
    team: Team | None

    @property
    def day(self) -> date:
        """On which day it was, at the club."""
        return timezone.localdate(self.at)


@dataclass(frozen=True, slots=True)
class RecordPage:
    """Lines, with the addresses of the newest and, where there are any, of the older ones."""

    asked: RecordAsked
    lines: list[RecordLine]
    newest: str
    older: str | None
    people: list[tuple[int, str]]


def record_page(rows: QuerySet[Change], asked: RecordAsked, language: Language) -> RecordPage:
    """The page, in as many queries for a long record as for a short one."""
    found = list(asked.of_these(rows).select_related("user").order_by("-pk")[: EACH + 1])
    shown = found[:EACH]
    names = names_in(shown)
    teams = Team.objects.in_bulk({line.team for line in shown if line.team is not None})
    lines = [
        RecordLine(
            line.at,
            told(line, language),
            details(line, names, language),
            teams.get(line.team) if line.team is not None else None,
        )
        for line in shown
    ]
    older = asked.query(shown[-1].pk) if len(found) > EACH else None
    return RecordPage(asked, lines, asked.query(), older, _people(rows))


def _people(rows: QuerySet[Change]) -> list[tuple[int, str]]:
    """Who stands in these lines, by name.

    A team's lines are few enough to be read; of the whole club each person is looked up.
    """
    lines = rows.exclude(user=None).order_by()
    if rows.query.has_filters():
        people = User.objects.filter(pk__in=lines.values("user").distinct())
    else:
        people = User.objects.filter(Exists(lines.filter(user=OuterRef("pk"))))
    return [(who.pk, str(who)) for who in people.order_by("name", "pk")]
