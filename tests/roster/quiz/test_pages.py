"""Questions on the player's phone: asked, judged, kept once, spaced; and what the staff sees."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import timedelta

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from coachbook.demo.files import demo_play
from plays.core.play import Point, Variant
from plays.library.changes import publish, save_draft
from roster.core.quiz.making import questions
from roster.core.quiz.question import QuestionKind, RoleQuestion, played
from roster.models import QuizAnswer
from roster.quiz.page import WIDTH, place_tapped
from shared.core.language import ENGLISH
from tests.cast import Cast
from tests.phone import opened_by

pytestmark = pytest.mark.django_db


@pytest.fixture
def address(client: Client, cast: Cast) -> str:
    return f"{opened_by(client, cast.players[4])}{cast.entry.pk}/5/quiz/"


def asked(cast: Cast) -> dict[str, RoleQuestion]:
    play = cast.play.published().value()
    return {each.key: each for each in questions(play, "5", {}, ENGLISH)}


def shown(client: Client, address: str) -> tuple[str, int, str]:
    """The key that is asked, its turn, and the page."""
    text = client.get(address).content.decode()
    key = re.search(r'name="question" value="([^"]+)"', text)
    turn = re.search(r'name="number" value="(\d+)"', text)
    assert key
    assert turn
    return key[1], int(turn[1]), text


def answer(client: Client, address: str, key: str, turn: int, **more: object) -> str:
    found = client.post(address, {"question": key, "number": turn, **more})
    assert found.status_code == 200
    return found.content.decode()


def choice(cast: Cast, key: str, *, right: bool) -> int:
    question = asked(cast)[key]
    return next(n for n in range(len(question.choices)) if (n in question.right) == right)


def tapped(cast: Cast, at: Point) -> dict[str, int]:
    """Where a thumb lands for a place on the floor, in the image's pixels, as browsers send it."""
    play = cast.play.published().value()
    origin, far = place_tapped(play, 0, 0), place_tapped(play, WIDTH, WIDTH)
    scale = WIDTH / (far.x - origin.x)
    return {"at.x": round((at.x - origin.x) * scale), "at.y": round((at.y - origin.y) * scale)}


def test_the_first_question_is_where_to_start_and_works_without_script(
    client: Client, cast: Cast, address: str
) -> None:
    key, turn, text = shown(client, address)
    assert asked(cast)[key].kind is QuestionKind.START
    assert turn == 1
    assert '<input type="image" name="at"' in text
    assert text.count('type="radio"') == 4
    assert "<script" not in text


def test_the_ball_is_drawn_unless_it_would_tell_the_answer(
    client: Client, cast: Cast, address: str
) -> None:
    """Who throws in starts at the ball: neither the court nor the words show it then."""
    _, _, text = shown(client, address)
    thrower = f"{opened_by(client, cast.players[0])}{cast.entry.pk}/1/quiz/"
    _, _, own = shown(client, thrower)
    assert "Where do you start?" in own
    for page, drawn in ((text, True), (own, False)):
        court = page[page.index('<div class="court">') : page.index('type="image"')]
        assert ("<circle" in court.rsplit("</g>", 1)[1]) == drawn
        assert ("the dot is the ball" in page) == drawn


def test_a_tap_near_enough_is_right_and_one_far_off_shows_the_way(
    client: Client, cast: Cast, address: str
) -> None:
    key, turn, _ = shown(client, address)
    at = asked(cast)[key].at
    assert at
    text = answer(client, address, key, turn, **tapped(cast, Point(at.x + 0.4, at.y)))
    assert "Right." in text
    assert "Your way" not in text
    row = QuizAnswer.objects.get()
    assert row.right
    assert row.metres == pytest.approx(0.4, abs=0.06)
    QuizAnswer.objects.all().delete()
    text = answer(client, address, key, turn, **tapped(cast, Point(at.x, at.y + 3)))
    assert "Not quite." in text
    assert re.search(r"You pointed (2\.9|3|3\.1) m from there", text)
    assert "Your way" in text
    assert text.count("<svg") == 1


def test_a_choice_counts_as_well_and_nothing_chosen_is_asked_again(
    client: Client, cast: Cast, address: str
) -> None:
    key, turn, _ = shown(client, address)
    empty = client.post(address, {"question": key, "number": turn})
    assert empty.status_code == 422
    assert "choose one below" in empty.content.decode()
    by_key = client.post(address, {"question": key, "number": turn, "at.x": 0, "at.y": 0})
    assert by_key.status_code == 422  # a key presses an image at its corner
    assert not QuizAnswer.objects.exists()
    assert "Right." in answer(client, address, key, turn, choice=choice(cast, key, right=True))
    assert QuizAnswer.objects.get().metres is None


def test_sent_twice_it_counts_once(client: Client, cast: Cast, address: str) -> None:
    key, turn, _ = shown(client, address)
    for _ in range(2):
        answer(client, address, key, turn, choice=choice(cast, key, right=False))
    assert QuizAnswer.objects.count() == 1


def test_a_question_of_an_older_revision_leads_to_the_next(client: Client, address: str) -> None:
    gone = client.post(address, {"question": "start-000000000000", "number": 1, "choice": 0})
    assert gone.status_code == 302
    assert gone.headers["Location"] == address


def test_all_answered_nothing_is_due_until_the_model_says_so(
    client: Client, cast: Cast, address: str
) -> None:
    index = address.rsplit("/", 4)[0] + "/"
    assert f"{len(asked(cast))} questions due" in client.get(index).content.decode()
    for _ in asked(cast):
        key, turn, _text = shown(client, address)
        answer(client, address, key, turn, choice=choice(cast, key, right=True))
    text = client.get(address).content.decode()
    assert "Nothing is due" in text
    assert "due" not in re.sub(r"<[^>]+>", "", client.get(index).content.decode())
    _, turn, _ = shown(client, f"{address}?again")
    assert turn == 2
    row = QuizAnswer.objects.order_by("pk")[0]
    row.memory["due"] = (timezone.now() - timedelta(hours=1)).isoformat()
    row.save()
    assert shown(client, address)[0] == row.question


def test_a_guardian_and_a_coach_answer_for_nobody(client: Client, cast: Cast, address: str) -> None:
    coach = cast.client(cast.head)
    assert coach.get(address).status_code == 403
    assert "quiz/" not in coach.get(address.removesuffix("quiz/")).content.decode()


def test_the_staff_sees_roles_that_are_not_understood_and_no_child(
    client: Client, cast: Cast, address: str
) -> None:
    page = reverse("understood", args=[cast.team.pk])
    coach = cast.client(cast.assistant)
    assert "Nobody has answered a question yet" in coach.get(page).content.decode()
    key, turn, _ = shown(client, address)
    answer(client, address, key, turn, choice=choice(cast, key, right=False))
    other = Client()
    second = f"{opened_by(other, cast.players[5])}{cast.entry.pk}/5/quiz/"
    answer(other, second, key, 1, choice=choice(cast, key, right=True))
    text = " ".join(coach.get(page).content.decode().split())
    assert "To explain again" in text
    assert "Where do you start? <strong>1 of 2 right</strong>" in text
    assert "2 players asked, 1 of 2 answers right." in text
    assert not [player.name for player in cast.players if player.name in text]


def test_recall_stands_beside_readiness_and_changes_nothing_of_it(
    client: Client, cast: Cast, address: str
) -> None:
    curve = reverse("readiness-curve", args=[cast.players[4].pk, cast.entry.pk, "5"])
    coach = cast.client(cast.head)
    before = coach.get(curve).content.decode()
    assert "Recall, apart from reps" not in before
    key, turn, _ = shown(client, address)
    answer(client, address, key, turn, choice=choice(cast, key, right=True))
    after = " ".join(coach.get(curve).content.decode().split())
    assert f"1 of 1 questions right when last asked, of {len(asked(cast))}" in after
    assert "Expected to be remembered today: 100 %." in after
    lead = re.compile(r'<p class="lead">.*?</p>')
    assert lead.findall(after) == lead.findall(" ".join(before.split())) != []


def test_a_call_is_asked_and_a_tap_on_its_own_court_counts_for_the_play(
    client: Client, cast: Cast
) -> None:
    far = replace(demo_play("gangway"), variants=(Variant("Far", mirror=True),))
    revision = publish(save_draft(cast.play, far, cast.keeper), cast.keeper)
    cast.entry.revision = revision
    cast.entry.save()
    address = f"{opened_by(client, cast.players[4])}{cast.entry.pk}/5/quiz/"
    found = questions(far, "5", {}, ENGLISH)
    question = next(q for q in found if q.kind is QuestionKind.CALL and q.at)
    assert question.at
    run = played(far, question)
    origin, edge = place_tapped(run, 0, 0), place_tapped(run, WIDTH, WIDTH)
    scale = WIDTH / (edge.x - origin.x)
    at = {
        "at.x": round((question.at.x - origin.x) * scale),
        "at.y": round((question.at.y - origin.y) * scale),
    }
    text = answer(client, address, question.key, 1, **at)
    assert "On “Far”" in text
    assert "Right." in text
    (kept,) = QuizAnswer.objects.all()
    assert (kept.entry_id, kept.question, kept.right) == (cast.entry.pk, question.key, True)
    wrong = answer(client, address, question.key, 2, choice=99)
    assert "Not quite." in wrong
    assert "<figure>" in wrong
