"""The help pages: Markdown files under coachbook/docs, made into HTML once per process.

A file begins with its title; a second line "Pages: roster, new-player" names the routes that
it explains, and "Help" on those pages leads straight to it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from django.utils.safestring import SafeString, mark_safe
from markdown_it import MarkdownIt

DOCS = Path(__file__).resolve().parents[1] / "docs"
ROUTES = "Pages:"
INLINE = re.compile(r"(?<!<pre>)<code>[^<]*</code>")


@dataclass(frozen=True, slots=True)
class HelpPage:
    """One topic; ``routes`` are the names of the pages that it explains."""

    slug: str
    title: str
    routes: tuple[str, ...]
    html: SafeString


@cache
def help_pages() -> dict[str, HelpPage]:
    """Every help page by its slug, in the order of the contents."""
    made = [_read(path) for path in sorted(DOCS.glob("*.md"))]
    return {each.slug: each for each in made}


@cache
def topic_of_route() -> dict[str, str]:
    """The slug of the topic that explains a route."""
    return {route: each.slug for each in help_pages().values() for route in each.routes}


def _read(path: Path) -> HelpPage:
    title, second, *rest = path.read_text("utf-8").splitlines()
    routes: tuple[str, ...] = ()
    if second.startswith(ROUTES):
        routes = tuple(name.strip() for name in second.removeprefix(ROUTES).split(","))
        second = ""
    text = "\n".join([title, second, *rest])
    # Our own files, with raw HTML switched off: nothing a person typed gets in here.
    html = MarkdownIt("commonmark", {"html": False}).enable("table").render(text)
    html = INLINE.sub(_whole_options, html)
    html = html.replace("<table>", '<div class="table-wrap"><table>')
    html = html.replace("</table>", "</table></div>")
    html = html.replace(".py::", ".py::<wbr>")  # a test's long name goes on in the next line
    slug = path.stem.split("-", 1)[1]
    return HelpPage(slug, title.removeprefix("# ").strip(), routes, mark_safe(html))  # noqa: S308 - see above


def _whole_options(code: re.Match[str]) -> str:
    """Code within a sentence; no line of it ends between an option's dashes and its name."""
    return re.sub(r"--[a-z][a-z-]*", r'<span class="option">\g<0></span>', code[0])
