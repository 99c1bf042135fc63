"""The papers of a team: what is on them by independent readers (pypdf, poppler), and the worker."""

from __future__ import annotations

import io
import re
import subprocess
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from django.urls import reverse
from django.utils import timezone
from django.utils.html import escape
from pypdf import PdfReader

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from practice.privacy.erase import erase
from roster.core.paper.sheet_pdf import write_sheets
from roster.models import Printing
from roster.sheets.papers import KINDS, TAKES_LONG, Order
from roster.sheets.printing import latest_of
from shared.core.days import day_said, moment_said
from shared.core.language import ENGLISH
from shared.worker import Work, perform
from tests.cast import Cast
from tests.machine import needs
from tests.roster.sheets.printed import answer_with, draw

# ISO 216: A4 is 210 x 297 mm; ANSI/ASME Y14.1: Letter is 8.5 x 11 in. 72 points to the inch.
SIZES = {"a4": (595.28, 841.89), "letter": (612.0, 792.0)}
PDFS = sorted(KINDS.keys() - {"each"})


@pytest.fixture(autouse=True)
def data(tmp_path: Path, settings: Any) -> Path:
    settings.DATA = tmp_path
    return tmp_path


def file_of(cast: Cast, kind: str, paper: str = "a4", *, due: bool = False) -> bytes:
    response = answer_with(cast, kind, paper, due=due)
    assert response.headers["Content-Type"] == "application/pdf"
    return bytes(response.content)


def pages_of(text: str) -> int:
    """How many pages the booklet has, as its page says."""
    found = re.search(r"page [1-9] of ([1-9])\b", text)
    assert found, text
    return int(found[1])


def texts(data: bytes) -> list[str]:
    return [leaf.extract_text() for leaf in PdfReader(io.BytesIO(data)).pages]


@pytest.mark.parametrize("paper", sorted(SIZES))
@pytest.mark.parametrize("kind", PDFS)
def test_every_paper_has_its_size_team_day_count_and_says_as_of_when(
    kind: str, paper: str, cast: Cast
) -> None:
    read = PdfReader(io.BytesIO(file_of(cast, kind, paper)))
    assert read.outline
    for leaf in read.pages:
        box = leaf.mediabox
        assert (float(box.width), float(box.height)) == pytest.approx(SIZES[paper], abs=0.01)
        text = leaf.extract_text()
        if not text:
            continue  # the back of a booklet's last leaf
        for said in (
            str(cast.team),
            day_said(timezone.localdate(), ENGLISH),
            f"of {pages_of(text)}",
        ):
            assert said in text, said
        if kind == "playbook" and leaf is read.pages[0]:
            continue  # its cover names no play
        of = moment_said(cast.entry.revision.at, ENGLISH)
        dated = f"Gangway, as of {of}", f"As of {of}: Gangway"
        assert any(each in " ".join(text.split()) for each in dated), text


@pytest.mark.parametrize("kind", PDFS)
def test_a_paper_of_a_later_day_says_the_day_alone(kind: str, cast: Cast) -> None:
    cast.entry.revision.published_at = datetime(2026, 3, 10, 8, 30, tzinfo=UTC)
    cast.entry.revision.save()
    cover = 1 if kind == "playbook" else 0  # which names no play
    for leaf in filter(None, texts(file_of(cast, kind))[cover:]):
        said = " ".join(leaf.split())
        assert "10 March 2026" in said
        assert "10 March 2026," not in said


@needs("poppler")
@pytest.mark.parametrize("kind", PDFS)
def test_every_letter_is_embedded(kind: str, cast: Cast, tmp_path: Path) -> None:
    path = tmp_path / "paper.pdf"
    path.write_bytes(file_of(cast, kind))
    lines = subprocess.run(
        ["pdffonts", str(path)], check=True, capture_output=True, text=True
    ).stdout.splitlines()[2:]
    assert lines
    assert all(line.split()[-5] == "yes" for line in lines), lines


def test_a_pocket_card_has_calls_signals_and_the_first_move(cast: Cast) -> None:
    cast.entry.signal = "flat hand"
    cast.entry.save()
    text = " ".join(texts(file_of(cast, "pocket")))
    said = " ".join(text.split())
    assert "Runa 9" in said.replace("  ", " ")
    assert said.count("flat hand") == 6
    assert text.count("Gangway Zoë") == 5
    assert "5, stand-in" in said
    assert "Wait for the signal." in said
    assert "Pia" not in said, "who has no role gets no card"


def test_a_wristband_card_has_calls_and_the_own_role_only(cast: Cast) -> None:
    (text,) = texts(file_of(cast, "wrist"))
    said = " ".join(text.split())
    assert said.count("Gangway") == 7  # a call on each of six cards, and as of when
    assert "signal" not in said


def test_a_handout_tells_all_five_and_who_stands_in(cast: Cast) -> None:
    (text,) = texts(file_of(cast, "handouts"))
    said = " ".join(text.split())
    for who in ("1 Ida", "2 Noor", "3 Ada", "4 Mila", "5 Zoë, Runa"):
        assert who in said, who
    assert "You throw the ball in" in said
    assert "When they" in said


def test_only_what_is_due_by_the_next_game(cast: Cast) -> None:
    play = factories.published(demo_play("oar-rack"), cast.keeper)
    late = factories.PackagePlayFactory.create(
        team=cast.team, play=play, call="Oars", ready_by=cast.game.date + timedelta(days=1)
    )
    assert "Oars" in texts(file_of(cast, "calls"))[0]
    assert "Oars" not in texts(file_of(cast, "calls", due=True))[0]
    late.ready_by = cast.game.date
    late.save()
    assert "Oars" in texts(file_of(cast, "calls", due=True))[0]


def test_a_kind_that_nobody_knows_is_404(cast: Cast) -> None:
    client = cast.client(cast.head)
    assert client.get(f"/teams/{cast.team.pk}/print/novel.pdf").status_code == 404


@pytest.mark.parametrize("kind", sorted(TAKES_LONG))
def test_what_takes_long_is_begun_once_and_then_at_once(
    kind: str, cast: Cast, spawned: list[Work]
) -> None:
    client = cast.client(cast.head)
    press = reverse("print-booklets", args=[cast.team.pk])
    link = Order(kind, "a4", due=False).address(cast.team)
    for _ in range(2):
        answer = client.post(press, {"kind": kind, "paper": "a4", "plays": "all"})
        assert answer.headers["Location"].startswith(reverse("print", args=[cast.team.pk]))
    (row,) = Printing.objects.all()
    shown = client.get(answer.headers["Location"]).content.decode()
    assert 'hx-trigger="every 1s"' in shown
    assert "<progress" in shown
    perform(row)
    done = latest_of(cast.team)
    assert done is not None
    assert (done.state, done.share) == ("done", 1.0)
    assert escape(link) in client.get(answer.headers["Location"]).content.decode()
    again = client.post(press, {"kind": kind, "paper": "a4", "plays": "all"})
    assert again.headers["Location"] == link
    assert Printing.objects.count() == 1
    assert client.get(link).content.startswith(b"PK" if kind == "each" else b"%PDF")


@pytest.mark.parametrize("kind", sorted(TAKES_LONG))
def test_no_request_draws_what_takes_long(
    kind: str, cast: Cast, monkeypatch: pytest.MonkeyPatch
) -> None:
    drawn: list[str] = []
    writers = ("sheets", "pocket_cards", "wrist_cards", "handouts", "playbook")
    for write in (f"write_{name}" for name in writers):
        monkeypatch.setattr(f"roster.sheets.papers.{write}", lambda *_, **__: drawn.append("all"))
    monkeypatch.setattr("roster.sheets.single.write_sheets", lambda *_, **__: drawn.append("one"))
    client = cast.client(cast.head)
    client.post(reverse("print-booklets", args=[cast.team.pk]), {"kind": kind})
    address = Order(kind, "letter", due=True).address(cast.team)
    sent = client.get(address)
    assert sent.headers["Location"] == f"/teams/{cast.team.pk}/print/?paper=letter&plays=due"
    page = client.get(sent.headers["Location"]).content.decode()
    assert "This file is drawn first" in page
    assert '<option value="letter" selected>' in page
    assert not drawn


def test_the_page_says_which_paper_it_tells_of(cast: Cast, spawned: list[Work]) -> None:
    client = cast.client(cast.head)
    press = reverse("print-booklets", args=[cast.team.pk])
    page = client.post(press, {"kind": "pocket"}, follow=True).content.decode()
    assert "<strong>Pocket cards</strong>" in page
    perform(Printing.objects.get())
    page = client.get(reverse("print", args=[cast.team.pk])).content.decode()
    assert "<strong>Pocket cards</strong>: ready." in page


def test_what_was_drawn_before_the_team_changed_is_not_handed_out(cast: Cast) -> None:
    draw(cast, "booklets")
    path = reverse("print", args=[cast.team.pk])
    client = cast.client(cast.head)
    assert "Open the file" in client.get(path).content.decode()
    cast.players[0].name = "Ines"
    cast.players[0].save()
    page = client.get(path).content.decode()
    assert "the team has changed since" in page
    assert "Open the file" not in page


def test_a_full_disk_is_told(cast: Cast, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: Any) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("shared.pieces._place", full)
    assert draw(cast, "booklets").state == "failed"
    page = cast.client(cast.head).get(reverse("print", args=[cast.team.pk])).content.decode()
    assert "The file could not be kept" in page


def test_a_team_without_roles_is_told_so(cast: Cast, spawned: list[Work]) -> None:
    cast.entry.castings.all().delete()
    client = cast.client(cast.head)
    answer = client.post(reverse("print-booklets", args=[cast.team.pk]), follow=True)
    assert "There is nothing to print" in answer.content.decode()
    assert not spawned


def test_a_player_who_is_erased_while_the_booklets_are_made_is_in_no_file(
    cast: Cast,
    spawned: list[Work],
    data: Path,
    monkeypatch: pytest.MonkeyPatch,
    django_capture_on_commit_callbacks: Any,
) -> None:
    """The sheets are read from the database, then the player goes, then the file is written."""
    runa = next(player for player in cast.players if player.name == "Runa")
    write = write_sheets
    times = []

    def late(*given: Any, **named: Any) -> None:
        times.append(1)
        if len(times) == 1:
            with django_capture_on_commit_callbacks(execute=True):
                erase([runa], cast.head, typed=True)
        write(*given, **named)

    monkeypatch.setattr("roster.sheets.papers.write_sheets", late)
    row = Printing.objects.create(team=cast.team, kind="booklets", paper="a4", starts=1)
    perform(row)
    assert row.read_again().state == "done"
    assert len(times) == 2, "begun anew"
    files = [path for path in (data / "pieces").glob("*/*") if path.is_file()]
    assert files
    said = [text for path in files for text in texts(path.read_bytes())]
    assert "Ida" in " ".join(said)
    assert "Runa" not in " ".join(said)
