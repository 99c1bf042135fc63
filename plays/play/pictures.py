"""Pictures to save and the small pictures of the library's cards."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from dataclasses import replace
from typing import Any, Final, Literal, cast

from django import forms
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext_lazy as _

from plays.core.check.begun import begun
from plays.core.document.file import Written
from plays.core.drawing.inks import Scheme
from plays.core.drawing.options import Drawing
from plays.core.drawing.overview import overview
from plays.core.drawing.phase import diagram
from plays.core.play import Play
from plays.core.sequence.course import run_of
from plays.core.words.terms import answered
from plays.models import Revision
from plays.play.page import changed_phases, svg_of
from plays.play.view_form import drawn
from plays.values import play_value
from shared.core.drawing.pdf import write_pdf
from shared.core.drawing.picture import Picture, Sink
from shared.core.drawing.png import write_png
from shared.core.drawing.svg import write_svg
from shared.core.language import Language
from shared.forms import ClearForm
from shared.pieces import LIBRARY, kept
from shared.speech import language_now

TYPES: Final = {
    "png": "image/png",
    "pdf": "application/pdf",
    "svg": "image/svg+xml; charset=utf-8",
}
FORMATS = [("png", _("PNG, for a chat")), ("pdf", _("PDF, for print")), ("svg", _("SVG"))]
SCALES = [("1", _("small")), ("2", _("medium")), ("3", _("large")), ("4", _("very large"))]
SCHEMES = [("light", _("light")), ("dark", _("dark")), ("print", _("black on white"))]
CARD_WIDTH: Final = 260.0
CARD_SECONDS: Final = 7 * 24 * 3600

_WHAT: Final = re.compile(r"(?:counter-(\d{1,3})-)?phase-(\d{1,3})")


class PictureForm(ClearForm):
    """What to save of a play, and as what. Everything has a default."""

    what = forms.ChoiceField(label=_("Picture"), required=False)
    format = forms.ChoiceField(label=_("As"), required=False, choices=FORMATS)
    scale = forms.ChoiceField(label=_("Size (PNG)"), required=False, choices=SCALES)
    scheme = forms.ChoiceField(label=_("Colours"), required=False, choices=SCHEMES)

    def __init__(self, *args: Any, play: Play, **kwargs: Any) -> None:
        kwargs.setdefault("initial", {"scale": "2"})
        super().__init__(*args, **kwargs)
        cast("forms.ChoiceField", self.fields["what"]).choices = choices_of(play)

    def chosen(self) -> tuple[str, str, int, Scheme]:
        """What, format, scale and colours. The form has to be valid."""
        asked = self.cleaned_data
        return (
            asked["what"] or "overview",
            asked["format"] or "svg",
            int(asked["scale"] or 2),
            cast("Scheme", asked["scheme"] or "light"),
        )


def choices_of(play: Play) -> list[tuple[str, Any]]:
    """Every picture of a play: all phases in one, each phase, each that a counter changes."""
    found: list[tuple[str, Any]] = [("overview", _("The whole play"))]
    for number, phase in enumerate(play.phases, start=1):
        found.append((f"phase-{number}", f"{number}. {phase.title}"))
    speech = language_now()
    for number, counter in enumerate(play.counters, start=1):
        for place in changed_phases(play, counter):
            label = f"{answered(counter, speech)}: {place}. {play.phases[place - 1].title}"
            found.append((f"counter-{number}-phase-{place}", label))
    return found


def picture_of(
    play: Play, what: str, drawing: Drawing, scheme: Scheme, language: Language
) -> Picture:
    """The picture by its name among ``choices_of``. Raises KeyError or IndexError for another."""
    drawing = replace(drawing, scheme=scheme, language=language)
    play = drawn(play, drawing)
    if what == "overview":
        return overview(play, replace(drawing, numbers=begun(play)))
    match = _WHAT.fullmatch(what)
    if match is None:
        raise KeyError(what)
    counter = play.counters[int(match[1]) - 1] if match[1] else None
    drawing = replace(drawing, numbers=begun(run_of(play, counter)))
    return diagram(play, play.phases[int(match[2]) - 1].id, drawing, counter=counter)


def written(picture: Picture, file_format: str, scale: int = 2) -> bytes:
    """The picture as a file. One that would be too large as PNG is made as large as may be."""
    if file_format != "png":
        write = write_pdf if file_format == "pdf" else write_svg
        return _bytes(lambda out: write(picture, out))
    for size in range(scale, 1, -1):
        try:
            return _bytes(lambda out, size=size: write_png(picture, out, scale=size))  # type: ignore[misc]
        except ValueError:  # more pixels than the writer draws
            continue
    return _bytes(lambda out: write_png(picture, out, scale=1))


def card_svg(revision: Revision, scheme: Literal["light", "dark"], language: Language) -> bytes:
    """The first phase, small. The same content is drawn once and then kept."""

    def draw() -> bytes:
        play = play_value(revision)
        first = play.phases[0].id
        picture = diagram(play, first, Drawing(scheme=scheme, language=language, width=CARD_WIDTH))
        return written(picture, "svg")

    return kept(LIBRARY, ("card", revision.content_hash, scheme, language.code), draw)


def first_phase(new: Written, language: Language) -> SafeString:
    """The same small picture as markup, of a play that is in no library yet."""

    def draw() -> bytes:
        drawing = Drawing(scheme="page", language=language, width=CARD_WIDTH)
        picture = diagram(new.play, new.play.phases[0].id, drawing)
        return svg_of(picture, f"coming-{new.play.key}").encode()

    data = kept(LIBRARY, ("coming", new.play.key, new.content_hash, language.code), draw)
    return mark_safe(data.decode())  # noqa: S308 - what svg_of has written


def _bytes(write: Callable[[Sink], object]) -> bytes:
    out = io.BytesIO()
    write(out)
    return out.getvalue()
