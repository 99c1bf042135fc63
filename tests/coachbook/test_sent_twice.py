"""Every form that makes something, pressed twice: one thing, no failure, and the same answer."""

from __future__ import annotations

import re
import threading
import uuid
from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connections
from django.urls import reverse
from django.utils import timezone

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from plays.core.shorthand.write import shorthand
from plays.files.file import write_library
from plays.models import Play, SharedPlay
from practice.models import (
    Absence,
    Block,
    DaysOff,
    Drill,
    Game,
    Observation,
    Opponent,
    PlanPattern,
    Practice,
    Series,
)
from roster.models import (
    CastBan,
    CastLock,
    KeptApart,
    Lesson,
    PackagePlay,
    Player,
    Team,
    Unit,
)
from shared.models import SentForm, User
from tests.cast import Cast, make_cast

ONCE = re.compile(r'name="once" value="([0-9a-f-]{36})"')
Making = tuple[str, dict[str, Any], Callable[[], int]]


def day(ahead: int) -> str:
    return f"{timezone.localdate() + timedelta(days=ahead)}"


def second_team(cast: Cast) -> Team:
    """Another team that the head coach leads."""
    found = Team.objects.filter(name="Second team").first()
    if found is None:
        found = factories.TeamFactory.create(name="Second team")
        factories.StaffFactory.create(team=found, user=cast.head)
    return found


def makings(cast: Cast) -> dict[str, Making]:
    """By name: the page with the form, where it goes if elsewhere, what is sent, how many."""
    team, five = [cast.team.pk], [player.pk for player in cast.players[:5]]
    other = factories.published(demo_play("foghorn"), cast.keeper)
    new = {"start": "18:00", "install_minutes": "20"}
    return {
        "player": (
            reverse("new-player", args=team),
            {"name": "Ulla", "number": "77", "availability": "available"},
            Player.objects.count,
        ),
        "team": (
            reverse("new-team"),
            {"name": "U14", "season": "26", "age_group": "U14", "rule_set": "FIBA"}
            | {"language": "en", "wording": "age"},
            Team.objects.count,
        ),
        "moved player": (
            reverse("move-player", args=[five[0]]),
            {"team": second_team(cast).pk, "number": "4"},
            Player.objects.count,
        ),
        "unit": (
            reverse("new-unit", args=team),
            {"name": "Second", "members": five},
            Unit.objects.count,
        ),
        "practice": (
            reverse("new-practice", args=team),
            {"date": day(40), **new},
            Practice.objects.count,
        ),
        "game": (
            reverse("new-game", args=team),
            {"date": day(41), "start": "18:00", "opponent": "Elsewhere"},
            Game.objects.count,
        ),
        "series": (
            reverse("new-series", args=team),
            {"first": day(50), "last": day(64), "start": "17:00", "minutes": "90", "every": "1"}
            | {"weekdays": ["0", "2"]},
            Series.objects.count,
        ),
        "package entry": (
            reverse("take-up", args=[cast.team.pk, other.key]),
            {"call": "Horn", "priority": "2"},
            PackagePlay.objects.count,
        ),
        "package entries that are ticked": (
            reverse("take-up-ticked", args=team),
            {"play": [other.key]},
            PackagePlay.objects.count,
        ),
        "absence": (
            reverse("add-absence", args=team),
            {"player": five[0], "first": day(1), "last": day(2)},
            Absence.objects.count,
        ),
        "block": (
            reverse("add-block", args=[cast.practice.pk]),
            {"kind": "skill", "minutes": "10"},
            Block.objects.count,
        ),
        "begun plan": (
            reverse("begin-plan", args=[cast.practice.pk]),
            {"source": "template-standard"},
            Block.objects.count,
        ),
        "pattern": (
            reverse("keep-pattern", args=[cast.practice.pk]),
            {"name": "Usual"},
            PlanPattern.objects.count,
        ),
        "lock": (
            reverse("cast-wishes", args=team),
            {"kind": "lock", "lock-player": five[0], "lock-entry": cast.entry.pk}
            | {"lock-role": "1", "lock-depth": "0"},
            CastLock.objects.count,
        ),
        "ban": (
            reverse("cast-wishes", args=team),
            {"kind": "ban", "ban-player": five[0], "ban-role": "2"},
            CastBan.objects.count,
        ),
        "pair apart": (
            reverse("team-minutes", args=team),
            {"kind": "apart", "apart-one": five[0], "apart-other": five[1]},
            KeptApart.objects.count,
        ),
        "moved play": (
            reverse("save-view", args=[cast.play.key, 1]) + "?mirror=on",
            {"kept_as": "new", "name": "Gangway left", "seen": ""},
            Play.objects.count,
        ),
        "new play": (
            reverse("new-play"),
            {"way": "court", "name": "Twice", "formation": "box", "edge": "none", "side": "left"},
            Play.objects.count,
        ),
        "invitation": (
            reverse("staff"),
            {"name": "Ulla", "username": "ulla", "team": cast.team.pk, "duty": "assistant"},
            User.objects.count,
        ),
        **written_down(cast),
        "copied play": (
            reverse("new-play"),
            {"way": "copy", "name": "Gangway again", "play": cast.play.key},
            Play.objects.count,
        ),
    }


def written_down(cast: Cast) -> dict[str, Making]:
    """What is noted about a team and its opponents, and what goes into or out of the library."""
    team, second = [cast.team.pk], second_team(cast)
    drill = Drill.objects.filter(team=second).first()
    drill = drill or factories.DrillFactory.create(team=second, name="Star passing")
    return {
        "drill": (
            reverse("new-drill", args=team),
            {"name": "Shell", "minutes": "8"},
            Drill.objects.count,
        ),
        "drills taken over": (
            reverse("take-drills", args=team),
            {"drills": [drill.pk]},
            Drill.objects.count,
        ),
        "opponent": (
            reverse("new-opponent", args=team),
            {"name": "Otherwhere"},
            Opponent.objects.count,
        ),
        "observation": (
            reverse("new-observation", args=[cast.opponent.pk]),
            {"day": day(-3), "situation": "baseline", "switch": "3"},
            Observation.objects.count,
        ),
        "days off": (
            reverse("add-days-off", args=team),
            {"first": day(70), "last": day(72), "name": "Holidays"},
            DaysOff.objects.count,
        ),
        "lesson": (
            reverse("wish-lesson", args=team),
            {"lesson": [f"{cast.players[6].pk}.{cast.entry.pk}.1"]},
            Lesson.objects.count,
        ),
        "shared link": (
            reverse("share-play", args=[cast.play.key]),
            {},
            SharedPlay.objects.count,
        ),
        "written play": (
            reverse("write-play"),
            {"text": shorthand(demo_play("duckboard")), "note": ""},
            Play.objects.count,
        ),
    }


ONCE_MAKES = {"begun plan": 7}  # blocks of the usual practice; of everything else one
NAMES = (
    *("player", "team", "unit", "practice", "game", "series", "package entry", "absence"),
    *("block", "begun plan", "pattern", "lock", "ban", "pair apart", "moved play"),
    *("new play", "copied play", "invitation", "moved player"),
    *("drill", "drills taken over", "opponent", "observation", "days off", "lesson"),
    *("shared link", "written play"),
)


@pytest.mark.parametrize("name", NAMES)
def test_one_after_the_other(cast: Cast, name: str) -> None:
    path, sent, count = makings(cast)[name]
    before, client = count(), cast.client(cast.runner)
    token = {"once": str(uuid.uuid4())}
    first = client.post(path, sent | token)
    assert first.status_code == 302
    made = count()
    assert made - before == ONCE_MAKES.get(name, 1)
    second = client.post(path, sent | token)
    assert (second.status_code, second.headers["Location"]) == (302, first.headers["Location"])
    assert count() == made
    assert client.post(path, sent).status_code in {302, 422}  # without a token: never a failure


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("token", [True, False], ids=["same form", "two forms"])
@pytest.mark.parametrize("name", NAMES)
def test_two_at_once(name: str, token: bool) -> None:
    """Two requests in threads of their own, each with its connection, begun together."""
    cast = make_cast()
    path, sent, count = makings(cast)[name]
    if token:
        sent |= {"once": str(uuid.uuid4())}
    before, together = count(), threading.Barrier(2)
    clients = [cast.client(cast.runner) for _ in range(2)]
    answers: list[int] = []

    def press(client: Any) -> None:
        try:
            together.wait()
            answers.append(client.post(path, sent).status_code)
        finally:
            connections.close_all()

    threads = [threading.Thread(target=press, args=[client]) for client in clients]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(answers) == 2
    assert set(answers) <= {302, 422}
    assert 302 in answers
    if token:
        assert answers == [302, 302]
        assert count() - before == ONCE_MAKES.get(name, 1)
        assert SentForm.objects.count() == 1


HIDDEN = re.compile(r'<input[^>]*name="([^"]+)"[^>]*value="([^"]*)"')


def shown(client: Any, path: str, sent: dict[str, Any]) -> dict[str, str]:
    """The fields of the preview that answers a table or a file."""
    text = client.post(path, sent).content.decode()
    form = text[text.index("<form", text.index('id="content"')) :]
    return dict(HIDDEN.findall(form))


def test_a_previewed_roster_comes_in_once(cast: Cast) -> None:
    client, path = cast.client(cast.head), reverse("import-roster", args=[cast.team.pk])
    fields = shown(client, path, {"pasted": "70 Ulla\n71 Vera"}) | {"bring": "1"}
    before = Player.objects.count()
    answers = [client.post(path, fields) for _ in range(2)]
    assert [answer.status_code for answer in answers] == [302, 302]
    assert Player.objects.count() == before + 2


def test_previewed_plays_come_in_once(cast: Cast) -> None:
    client, path = cast.client(cast.keeper), reverse("import-plays")
    file = SimpleUploadedFile("plays.json", write_library([demo_play("duckboard")]))
    fields = shown(client, path, {"file": file}) | {"all": ""}
    before = Play.objects.count()
    answers = [client.post(path, fields) for _ in range(2)]
    assert [answer.status_code for answer in answers] == [302, 302]
    assert Play.objects.count() == before + 1


@pytest.mark.parametrize(
    "name", ["player", "team", "practice", "game", "unit", "series", "invitation"]
)
def test_the_page_carries_a_fresh_token(cast: Cast, name: str) -> None:
    path, _sent, _count = makings(cast)[name]
    client = cast.client(cast.runner)
    tokens = {ONCE.findall(client.get(path).content.decode())[0] for _ in range(2)}
    assert len(tokens) == 2


def test_a_form_with_a_fault_can_be_sent_again(cast: Cast) -> None:
    path, sent, count = makings(cast)["player"]
    client, token = cast.client(cast.head), {"once": str(uuid.uuid4())}
    before = count()
    assert client.post(path, {**sent, **token, "number": "x"}).status_code == 422
    assert client.post(path, sent | token).status_code == 302
    assert count() == before + 1


def test_a_token_is_ones_own(cast: Cast) -> None:
    path, sent, count = makings(cast)["player"]
    token, before = {"once": str(uuid.uuid4())}, count()
    cast.client(cast.head).post(path, sent | token)
    cast.client(cast.runner).post(path, {**sent, **token, "number": "78"})
    assert count() == before + 2
