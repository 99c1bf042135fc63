"""The help pages: Markdown files under coachbook/docs, made into HTML once per process."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from django.utils.safestring import SafeString, mark_safe
from markdown_it import MarkdownIt

DOCS = Path(__file__).resolve().parent / "docs"


@dataclass(frozen=True, slots=True)
class HelpPage:
    slug: str
    title: str
    html: SafeString


@cache
def help_pages() -> dict[str, HelpPage]:
    """Every help page by its slug, in the order of the contents."""
    files = sorted(DOCS.glob("*.md"), key=lambda path: path.name)
    made = [_read(path) for path in files]
    return {each.slug: each for each in made}


def _read(path: Path) -> HelpPage:
    text = path.read_text("utf-8")
    title = text.splitlines()[0].removeprefix("# ").strip()
    # Our own files, with raw HTML switched off: nothing a person typed gets in here.
    html = MarkdownIt("commonmark", {"html": False}).enable("table").render(text)
    slug = path.stem.split("-", 1)[1]
    return HelpPage(slug, title, mark_safe(html))  # noqa: S308 - see the line above
