"""What a game showed, put into the install plan of the next one, and taken out again."""

from __future__ import annotations

from collections.abc import Iterable

from django.db import transaction
from django.utils import timezone

from practice.bridge import moment
from practice.core.learning.after_game import ToPractise, after_game, lesson_text
from practice.games.possessions import possessions_of
from practice.install.plan import propose
from practice.models import Game, InstallPlan, LessonInPlan
from roster.cast.changes import package_with_cast
from roster.models import PackagePlay, Team
from shared.core.language import Language
from shared.models import User
from shared.record import note_change
from shared.speech import language_now

LessonKey = tuple[int, str, str]  # play, lesson, role


def next_game(team: Team) -> Game | None:
    """The game that is practised for now, or nothing."""
    now = timezone.localtime()
    rows = team.games.filter(cancelled=False, date__gte=now.date()).select_related("team")
    ahead = (row for row in rows.order_by("date", "start") if moment(row.date, row.start) > now)
    return next(ahead, None)


def key_of(item: ToPractise) -> LessonKey:
    """By what a thing to practise is known in forms and rows."""
    return int(item.play), item.lesson.value, item.slip.role if item.slip else ""


def row_key(row: LessonInPlan) -> LessonKey:
    return row.entry_id, row.lesson, row.role


def text_of(row: LessonInPlan, call: str, language: Language) -> str:
    """A row in the sentence that the page after the game has."""
    return lesson_text(ToPractise.of(row.entry_id, row.lesson, row.role, row.times), call, language)


@transaction.atomic
def put_in(shown: Game, key: LessonKey, user: User) -> Game | None:
    """Let the next plan weigh a play more for what a game showed; pressed twice it is once.

    A plan that is proposed already is made anew around its locks. None where nothing is ahead,
    the play is carried no longer, or the game, put right meanwhile, shows it no more.
    """
    planned = next_game(shown.team)
    item = next(
        (
            one
            for one in after_game(possessions_of(shown.team, game=shown)).practise
            if key_of(one) == key
        ),
        None,
    )
    entry = package_with_cast(shown.team).filter(pk=key[0]).first()
    if planned is None or item is None or entry is None:
        return None
    row, is_new = LessonInPlan.objects.get_or_create(
        planned=planned,
        shown=shown,
        entry=entry,
        lesson=item.lesson.value,
        role=key[2],
        defaults={"times": item.times},
    )
    if is_new:
        _plan_again(planned)
        _note(user, "put a lesson into the install plan", row, entry)
    return planned


@transaction.atomic
def take_out(planned: Game, lesson: int, user: User) -> bool:
    """Let a plan forget what a game showed. False where it has done so already."""
    row = planned.lessons_in_plan.filter(pk=lesson).select_related("planned__team").first()
    if row is None:
        return False
    entry = PackagePlay.objects.prefetch_related("castings__player").get(pk=row.entry_id)
    _note(user, "took a lesson out of the install plan", row, entry)
    row.delete()
    _plan_again(planned)
    return True


def lessons_told(rows: Iterable[LessonInPlan], language: Language) -> list[tuple[int, str, Game]]:
    """Each with its sentence and the game that showed it."""
    return [(row.pk, text_of(row, row.entry.spoken(), language), row.shown) for row in rows]


def lessons_of(planned: Game) -> list[LessonInPlan]:
    """What games put into a plan, with their plays: three queries."""
    rows = planned.lessons_in_plan.select_related("shown", "entry__play")
    return list(rows.defer("entry__play__search").prefetch_related("entry__castings__player"))


def _plan_again(planned: Game) -> None:
    """A proposal that is there follows; where there is none, the first one will."""
    if InstallPlan.objects.filter(game=planned).exclude(entries=[]).exists():
        propose(planned, timezone.now())


def _note(user: User, verb: str, row: LessonInPlan, entry: PackagePlay) -> None:
    said = text_of(row, entry.spoken(), language_now())
    more = {"after": said} if verb.startswith("put") else {"before": said}
    note_change(user, verb, row.planned, team=row.planned.team_id, **more)
