"""Every page, command and setting has its help, and what the help names exists."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from django.core.management import get_commands

from coachbook.bootstrap import DEV_COMMANDS
from coachbook.help import pages as help_pages
from tests.cast import Cast
from tests.coachbook.test_access import named_routes

ROOT = Path(__file__).resolve().parents[3]
UNEXPLAINED = {"help", "help-topic", "health"}  # the help itself, and the watchman's page
OUR_APPS = {"coachbook", "plays", "roster", "practice", "shared"}


def test_every_page_has_its_topic() -> None:
    told = set(help_pages.topic_of_route())
    assert named_routes() - UNEXPLAINED == told


def test_every_command_is_told() -> None:
    ours = {name for name, app in get_commands().items() if app in OUR_APPS} | DEV_COMMANDS
    text = (help_pages.DOCS / "09-commands.md").read_text("utf-8")
    assert ours == set(re.findall(r"^\| `([a-z_]+)`", text, re.MULTILINE))


def test_every_setting_is_told() -> None:
    code = "".join(path.read_text("utf-8") for path in (ROOT / "coachbook").glob("*.py"))
    used = set(re.findall(r'"(COACHBOOK_[A-Z_]+)"', code))
    text = (help_pages.DOCS / "08-settings.md").read_text("utf-8")
    assert used == set(re.findall(r"^\| `(COACHBOOK_[A-Z_]+)`", text, re.MULTILINE))


def told_twice(texts: list[str]) -> list[str]:
    """Sentences of sixty letters or more, and first cells of a table, that stand there twice."""
    sentences = [
        said for text in texts for said in re.split(r"(?<=[.:])\s+|\n", text) if len(said) >= 60
    ]
    cells = [
        cell for text in texts for cell in re.findall(r"^\| (`[a-z_]+`) \|", text, re.MULTILINE)
    ]
    return sorted({said for said in (*sentences, *cells) if (*sentences, *cells).count(said) > 1})


def test_no_topic_says_a_thing_twice() -> None:
    assert told_twice([path.read_text("utf-8") for path in help_pages.DOCS.glob("*.md")]) == []


def test_what_is_told_twice_is_found() -> None:
    said = "The first answer stands at once, and a moment later each look gets its band."
    assert told_twice([f"{said} More.\n| `load` | a |\n| `load` | b |", f"Then: {said}"]) == [
        said,
        "`load`",
    ]


def test_no_line_ends_within_an_option_of_a_sentence() -> None:
    """Blocks to be copied hold the bare text; in sentences each option is held together."""
    html = help_pages.help_pages()["running"].html
    assert '<code><span class="option">--hall</span></code>' in html
    assert "python3 manage.py start --hall\n</code></pre>" in html


@pytest.mark.parametrize("slug", sorted(help_pages.help_pages()))
def test_a_topic_is_served(slug: str, cast: Cast) -> None:
    response = cast.client(None).get(f"/help/{slug}/")
    assert response.status_code == 200
    assert help_pages.help_pages()[slug].title in response.content.decode()


def test_who_reads_in_spanish_is_told_that_the_help_is_in_english(cast: Cast) -> None:
    """And a screen reader, too: WCAG 2.2, 3.1.2, language of parts."""
    client = cast.client(None)
    for path in ("/help/", "/help/roster/"):
        page = client.get(path, headers={"accept-language": "es"}).content.decode()
        assert '<html lang="es">' in page
        assert ' lang="en">' in page
        assert "La ayuda está escrita en inglés." in page
        assert "written in English" not in client.get(path).content.decode()


def test_a_page_leads_to_its_own_topic(cast: Cast) -> None:
    response = cast.client(cast.head).get(f"/teams/{cast.team.pk}/roster/")
    assert 'href="/help/roster/"' in response.content.decode()
