"""A player answers questions about their own role; works without script."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone, translation
from django.views.decorators.http import require_http_methods

from plays.core.court.courts import court
from roster.core.paper.sheet import SheetPart
from roster.core.quiz import judging
from roster.core.quiz.making import questions
from roster.core.quiz.question import Judged, RoleQuestion, played
from roster.models import PlayerLink
from roster.player.frame import OwnPlace, base, own_place
from roster.quiz.page import floor, how_far, place_tapped, way
from roster.quiz.store import Last, due, keep, last_answers
from roster.squad.door import own_changes, token_here
from roster.squad.spoken import remembering
from shared.core.language import Language
from shared.core.numbers import whole_number
from shared.pages import page


@dataclass(frozen=True, slots=True)
class Round:
    """The questions of one role, what was answered before, and in what language they are asked."""

    place: OwnPlace
    part: SheetPart
    asked: Mapping[str, RoleQuestion]
    said: Mapping[str, Last]
    speech: Language

    def next(self, *, again: bool) -> RoleQuestion | None:
        """What is due, else None; asked again, what was answered longest ago."""
        waiting = due(self.asked, self.said, timezone.now())
        if waiting:
            return self.asked[waiting[0]]
        if not again:
            return None
        return min(self.asked.values(), key=lambda question: self.said[question.key].memory.last)

    def shown(self, question: RoleQuestion) -> dict[str, Any]:
        last, play = self.said.get(question.key), self.part.carried.play
        return {
            "question": question,
            "number": (last.number if last else 0) + 1,
            "floor": floor(play, self.part.role, question, self.speech) if question.at else None,
        }

    def done(self) -> dict[str, Any]:
        """Nothing is due: when something will be."""
        coming = min(self.said[key].memory.due for key in self.asked)
        return {"next_on": timezone.localdate(coming)}

    def judged(self, request: HttpRequest, question: RoleQuestion) -> Judged | None:
        """The answer that was sent: a place on the image, else a choice; None where neither."""
        across, down = (whole_number(request.POST.get(f"at.{axis}")) for axis in "xy")
        play = played(self.part.carried.play, question)
        if question.at is not None and across and down:  # a key presses the image at 0, 0
            return judging.point(question, court(play.court), place_tapped(play, across, down))
        chosen = whole_number(request.POST.get("choice"))
        return None if chosen is None else judging.choose(question, chosen)


@require_http_methods(["GET", "POST"])
@own_changes
def my_quiz(request: HttpRequest, link: PlayerLink, entry: int, role: int) -> HttpResponse:
    """The next question that is due, or how the last answer was."""
    own = own_place(request, link, entry, role)
    with translation.override(own.speaks):
        now = _round(own)
        context = {**base(link, request, own.speaks), **own.address(), "part": now.part}
        if request.method == "POST":
            return _answer(request, now, context)
        question = now.next(again="again" in request.GET)
        context |= now.shown(question) if question else now.done()
        return remembering(page(request, "player/quiz.html", context), request, own.speaks)


def _round(own: OwnPlace) -> Round:
    part, speech = own.part(), own.speech
    asked = questions(part.carried.play, own.role, part.names, speech)
    said = last_answers(own.player).get((own.entry, own.role), {})
    return Round(own, part, {question.key: question for question in asked}, said, speech)


def _answer(request: HttpRequest, now: Round, context: dict[str, Any]) -> HttpResponse:
    """Judge and keep an answer. One to a question that is gone leads to the next question."""
    own = now.place
    question = now.asked.get(request.POST.get("question", ""))
    number = whole_number(request.POST.get("number"))
    if question is None or number is None:
        return redirect("my-quiz", token_here(request), own.entry, own.role)
    judged = now.judged(request, question)
    if judged is None:
        context |= {**now.shown(question), "nothing_chosen": True}
        return page(request, "player/quiz.html", context, status=422)
    place = own.entry, own.role
    keep(own.player, place, question, judged, number=number, now=timezone.now())
    context |= {
        "answered": question,
        "judged": judged,
        "far": how_far(played(now.part.carried.play, question), judged, now.speech),
        "way": None if judged.right else way(now.part, question, now.speech),
    }
    return page(request, "player/quiz.html", context)
