"""Personal links: one phone each, closed by one tap, no address that a phone cannot open."""

from __future__ import annotations

import io
import os
import re
import subprocess
import sys
import threading
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from hashlib import sha256
from pathlib import Path
from types import SimpleNamespace

import cairosvg
import pytest
import zxingcpp
from django.db import connections, transaction
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from PIL import Image, ImageChops, ImageFilter
from pytest_django.fixtures import Settings

from coachbook.data_folder import DATABASE_FILE
from roster.models import GotIt, PlayerLink, WrongLinks
from roster.squad import door, guesses, links
from roster.squad.links import link_for, path_of_player, qr_code, renew_link
from tests.cast import Cast, make_cast
from tests.phone import opened_by, path
from tests.template import laid

pytestmark = pytest.mark.django_db

HALL = "192.168.1.20:8000"


def slips(cast: Cast, host: str = HALL) -> str:
    client = cast.client(cast.head)
    address = reverse("link-cards", args=[cast.team.pk])
    return client.get(address, headers={"host": host}).content.decode()


@pytest.fixture(autouse=True)
def any_host(settings: Settings) -> None:
    settings.ALLOWED_HOSTS = ["*"]


def test_the_row_holds_the_hash_of_the_token_and_not_the_token(cast: Cast) -> None:
    link = link_for(cast.players[0], timezone.now())
    token = path_of_player(link).strip("/").split("/")[1]
    assert link.digest == sha256(token.encode()).hexdigest()
    row = PlayerLink.objects.filter(pk=link.pk).values().get()
    assert all(token not in str(value) for value in row.values())


def test_another_secret_key_opens_old_links_and_cannot_show_them(
    client: Client, cast: Cast, settings: Settings
) -> None:
    address = opened_by(client, cast.players[0])
    settings.SECRET_KEY = "another-key-of-the-same-site-" * 3
    assert "My plays" in client.get(address).content.decode()
    assert "cannot be shown again" in slips(cast)


def test_looking_only_asks_and_the_first_phone_that_opens_it_keeps_it(cast: Cast) -> None:
    first, second = Client(), Client()
    address = path(cast.players[4])
    for phone in (first, second):
        text = phone.get(address).content.decode()
        assert "Is this your own phone?" in text
        assert cast.players[4].name not in text
    assert first.post(f"{address}open/").status_code == 302
    assert "My plays" in first.get(address).content.decode()
    for answer in (second.get(address), second.post(f"{address}open/")):
        said = answer.content.decode()
        assert answer.status_code == 404
        assert "on another phone already" in said
        assert not [player.name for player in cast.players if player.name in said]
    assert first.post(f"{address}open/").status_code == 302  # pressed again: still theirs


def test_before_the_door_the_phone_chooses_its_language(client: Client, cast: Cast) -> None:
    address = path(cast.players[4])
    for page, spanish in ((address, "¿Es este tu teléfono?"), ("/my/wrong/", "Este enlace")):
        plain = client.get(page, headers={"accept-language": "en"}).content.decode()
        assert 'href="?in=es"' in plain
        assert spanish not in plain
        asked = Client().get(f"{page}?in=es", headers={"accept-language": "en"})
        assert spanish in asked.content.decode()
        assert 'href="?in=en"' in asked.content.decode()
        assert asked.cookies["speaks"].value == "es"
    client.get(f"{address}?in=es")
    client.post(f"{address}open/")
    assert "Mis jugadas" in client.get(address).content.decode()


def test_every_page_of_the_link_asks_for_the_phone(client: Client, cast: Cast) -> None:
    address = opened_by(client, cast.players[4])
    stranger = Client()
    for page in ("", f"{cast.entry.pk}/5/", "sheet.pdf"):
        assert client.get(f"{address}{page}").status_code == 200
        assert stranger.get(f"{address}{page}").status_code == 404
    assert stranger.post(f"{address}{cast.entry.pk}/5/got/").status_code == 404
    assert not GotIt.objects.exists()


def test_two_players_may_share_a_phone_and_the_rows_do_not_tell(client: Client, cast: Cast) -> None:
    for player in cast.players[:2]:
        opened_by(client, player)
    assert all(client.get(path(player)).status_code == 200 for player in cast.players[:2])
    phones = set(PlayerLink.objects.values_list("phone", flat=True))
    assert len(phones) == 2
    assert client.cookies[door.PHONE].value not in phones


def test_behind_https_a_phone_of_before_goes_on_and_its_cookie_gets_no_new_link(
    client: Client, cast: Cast, settings: Settings
) -> None:
    """Over http another server of the domain can set a cookie of the plain name: a link that is
    opened now belongs to none that somebody may have put there."""
    old = opened_by(client, cast.players[0])
    plain = client.cookies["phone"].value
    settings.HTTPS = True
    assert client.get(old).status_code == 200
    new = opened_by(client, cast.players[1])
    given = client.cookies["__Secure-phone"]
    assert (given["secure"], given["path"], given["domain"]) == (True, "/my/", "")
    assert given.value != plain
    assert [client.get(each).status_code for each in (old, new)] == [200, 200]
    planted = Client()
    planted.cookies["phone"] = plain
    assert planted.get(new).status_code == 404


def test_the_coach_looks_in_without_taking_the_link(client: Client, cast: Cast) -> None:
    address = path(cast.players[4])
    coach = cast.client(cast.head)
    text = coach.get(f"{address}{cast.entry.pk}/5/").content.decode()
    assert "This copy only shows" in text
    assert coach.post(f"{address}{cast.entry.pk}/5/got/").status_code == 403
    assert opened_by(client, cast.players[4]) == address


def test_one_tap_makes_a_new_link_or_closes_it(client: Client, cast: Cast) -> None:
    coach, player = cast.client(cast.head), cast.players[4]
    old = opened_by(client, player)
    coach.post(reverse("new-link", args=[player.pk]))
    assert client.get(old).status_code == 404
    new = opened_by(client, player)
    assert new != old
    coach.post(reverse("withdraw-link", args=[player.pk]))
    assert client.get(new).status_code == 404


def test_all_links_of_the_team_close_at_once_and_no_others(client: Client, cast: Cast) -> None:
    theirs = opened_by(client, cast.other_player)
    own = [opened_by(client, player) for player in cast.players]
    said = cast.client(cast.head).post(
        reverse("withdraw-all-links", args=[cast.team.pk]), follow=True
    )
    assert f"{len(own)} links are closed." in said.content.decode()
    assert {client.get(each).status_code for each in own} == {404}
    assert client.get(theirs).status_code == 200


def test_a_guardians_copy_is_made_only_when_asked_for_and_only_reads(
    client: Client, cast: Cast
) -> None:
    coach, player = cast.client(cast.head), cast.players[4]
    coach.post(reverse("make-links", args=[cast.team.pk]))
    assert not PlayerLink.objects.filter(is_guardians=True).exists()
    coach.post(reverse("new-link", args=[player.pk]), {"guardians": "1"})
    copy = path_of_player(link_for(player, timezone.now(), guardians=True))
    client.post(f"{copy}open/")
    part = f"{copy}{cast.entry.pk}/5/"
    text = client.get(part).content.decode()
    assert ">Got it<" not in text
    assert client.post(f"{part}got/").status_code == 403
    assert client.get(path(player)).status_code == 200  # the player's own is another link
    coach.post(reverse("withdraw-link", args=[player.pk]), {"guardians": "1"})
    assert client.get(copy).status_code == 404
    assert Client().get(path(player)).status_code == 200


def test_links_end_with_the_season(client: Client, cast: Cast) -> None:
    address = opened_by(client, cast.players[4])
    today = timezone.localdate()
    cast.team.season_ends = today
    cast.team.save()
    assert client.get(address).status_code == 200
    assert re.search(rf"Opens until .*{today.year}", slips(cast))
    cast.team.season_ends = today - timedelta(days=1)
    cast.team.save()
    assert client.get(address).status_code == 404
    assert "The season is over" in slips(cast)
    coach = cast.client(cast.head)
    answer = coach.post(reverse("make-links", args=[cast.team.pk]))
    assert answer.headers["Location"] == reverse("edit-team", args=[cast.team.pk])


def test_guesses_wait_and_phones_that_are_open_go_on(client: Client, cast: Cast) -> None:
    address = opened_by(client, cast.players[4])
    guesser = Client()
    wrong = [guesser.get(f"/my/guess{n}.{n}/").status_code for n in range(guesses.GUESSES + 1)]
    assert wrong == [404] * guesses.GUESSES + [429]
    late = path(cast.players[3])
    assert guesser.get(late).status_code == 429  # not even whether this one is right
    assert "quarter of an hour" in guesser.get(late).content.decode()
    assert client.get(address).status_code == 200
    assert Client().get(late, REMOTE_ADDR="10.0.0.9").status_code == 200


def test_guesses_count_together_over_processes(tmp_path: Path) -> None:
    """Two processes of the site share its database and no memory: the second goes on counting."""
    ours = ("COACHBOOK_", "DJANGO_")  # what the tests' own settings say
    plain = {name: said for name, said in os.environ.items() if not name.startswith(ours)}
    data = {**plain, "COACHBOOK_DATA": str(laid(tmp_path))}
    manage = [sys.executable, "manage.py"]
    if not (tmp_path / DATABASE_FILE).exists():
        subprocess.run([*manage, "migrate", "-v0"], env=data, check=True)
    half = guesses.GUESSES // 2
    code = (
        "from django.test import Client\n"
        "from django.conf import settings\n"
        "settings.DEBUG = True  # no collected files\n"
        "client = Client(headers={'host': 'localhost'})\n"
        "print([client.get(f'/my/guess.{n}/').status_code for n in range(%s)])"
    )
    said = [
        subprocess.run(
            [*manage, "shell", "--no-imports", "-v0", "-c", code % number],
            env=data,
            check=True,
            capture_output=True,
            text=True,
        ).stdout.strip()
        for number in (half, 2 * half)
    ]
    assert said == [str([404] * half), str([404] * half + [429] * half)]


def test_a_guess_is_forgotten_after_the_pause_and_keeps_no_address(cast: Cast) -> None:
    now = timezone.now()
    for _ in range(guesses.GUESSES):
        guesses.count_guess("10.0.0.7", now)
    assert guesses.guessed_too_often("10.0.0.7", now)
    assert not guesses.guessed_too_often("10.0.0.8", now)
    assert "10.0.0.7" not in WrongLinks.objects.get().address
    later = now + guesses.PAUSE
    assert not guesses.guessed_too_often("10.0.0.7", later)
    guesses.count_guess("10.0.0.8", later)
    assert WrongLinks.objects.get().tries == 1


def test_a_slip_says_whose_it_is_what_for_and_until_when(cast: Cast) -> None:
    link_for(cast.players[4], timezone.now())
    text = " ".join(slips(cast).split())
    for said in ("Lindwater Basketball · Herons 2026/27", "Zoë (8)", "Your plays: scan this"):
        assert said in text
    assert "Opens until" in text


def test_the_code_on_a_slip_is_read_back_by_another_decoder(cast: Cast) -> None:
    """Decoded by ZXing's C++ port, which shares nothing with the encoder (segno)."""
    address = f"http://{HALL}{path(cast.players[4])}"
    drawn = re.search(r"<svg.*?</svg>", slips(cast), re.DOTALL)
    assert drawn
    png = cairosvg.svg2png(drawn[0].encode(), output_width=400, background_color="white")
    (found,) = zxingcpp.read_barcodes(Image.open(io.BytesIO(png)))
    assert found.text == address
    assert found.format.name == "QRCode"
    assert str(qr_code(address)) == drawn[0]


@pytest.mark.parametrize("level", [90, 128, 165])  # a copy too light, as it should be, too dark
def test_the_code_is_read_from_a_copy_in_two_levels(cast: Cast, level: int) -> None:
    """46 mm on paper at 300 dpi, askew, soft and speckled: faults of our own choice."""
    address = f"http://{HALL}{path(cast.players[4])}"
    side = round(46 / 25.4 * 300)
    png = cairosvg.svg2png(
        str(qr_code(address)).encode(), output_width=side, background_color="white"
    )
    sheet = Image.new("L", (side + 200, side + 200), 255)
    sheet.paste(Image.open(io.BytesIO(png)).convert("L"), (100, 100))
    askew = sheet.rotate(3, Image.Resampling.BICUBIC, fillcolor=255)
    soft = askew.filter(ImageFilter.GaussianBlur(2.5))
    specks = Image.effect_noise(soft.size, 60)
    grainy = ImageChops.add(soft, specks, scale=1, offset=-128)
    copied = grainy.point(lambda value: 255 if value > level else 0)
    (found,) = zxingcpp.read_barcodes(copied)
    assert found.text == address


@pytest.mark.parametrize("host", ["127.0.0.1:8000", "localhost", "[::1]:8000", "127.8.8.8"])
def test_no_code_is_made_of_an_address_that_no_phone_opens(
    cast: Cast, host: str, settings: Settings
) -> None:
    renew_link(cast.players[4], timezone.now())
    text = slips(cast, host)
    assert "start --hall" in text
    assert "<svg" not in text
    assert "data-share" not in text
    settings.HALL_ADDRESS = f"http://{HALL}"
    assert f'data-share="http://{HALL}/my/' in slips(cast, host)


@pytest.mark.django_db(transaction=True)
def test_pressed_twice_at_once_a_player_has_one_open_link(monkeypatch: pytest.MonkeyPatch) -> None:
    """Both have looked, and found none, before either makes one."""
    player, together = make_cast().players[0], threading.Barrier(2)

    def late() -> transaction.Atomic:
        together.wait(10)
        return transaction.atomic()

    def press(_n: int) -> None:
        try:
            link_for(player, timezone.now())
        finally:
            connections.close_all()

    monkeypatch.setattr(links, "transaction", SimpleNamespace(atomic=late))
    with ThreadPoolExecutor(2) as pool:
        list(pool.map(press, range(2)))
    assert player.links.filter(withdrawn_at=None).count() == 1
