"""What the page of a tuning shows: the changes in words, the looks and the diagrams twice."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from plays.check.looks import LOOK_MARKS
from plays.core.calls import by_name
from plays.core.check.after import lines_of
from plays.core.check.bands import Band
from plays.core.check.begun import begun
from plays.core.defence.words import WORDS
from plays.core.drawing.options import Drawing
from plays.core.motion.pace import Pace
from plays.core.motion.timeline import Timeline
from plays.core.play import Play, Role
from plays.core.tune.changes import applied
from plays.core.tune.gain import Gain
from plays.core.tune.words import ToldChange, told
from plays.core.tune.worth import TACTICS
from plays.core.words.speaker import Voice
from plays.core.words.terms import look_words
from plays.models import Tuning
from plays.play.page import Figure, figures_of
from plays.tuning.work import Answer, tuned_call
from plays.values import play_value
from shared.core.language import Language


@dataclass(frozen=True, slots=True)
class BandCell:
    """One look against one defence: the word with its mark, and the band."""

    mark: str
    word: str
    band: Band

    @property
    def there(self) -> int:
        """In how many of a hundred draws it is open or contested at its turn."""
        return round(100 * (self.band.open + self.band.contested))


@dataclass(frozen=True, slots=True)
class LookTwice:
    """A look against a chase and against a switch, each before and after."""

    number: int
    text: str
    chase: tuple[BandCell, BandCell]
    switch: tuple[BandCell, BandCell]
    counts: bool


@dataclass(frozen=True, slots=True)
class TuningView:
    """Everything that is shown of an answer; without changes nothing within the limits helps."""

    changes: tuple[ToldChange, ...]
    looks: tuple[LookTwice, ...]
    gain: Gain
    better: int  # of 100 draws
    figures: tuple[tuple[Figure, Figure], ...]
    call: str  # the call that was tuned, where the play has several


def tuning_view(
    run: Tuning, answer: Answer, names: Mapping[Role, str], language: Language
) -> TuningView:
    play = tuned_call(run).play
    line = _with_all_looks(play, Pace.from_json(run.pace["base"]))
    gain = answer.compared.gain
    return TuningView(
        changes=told(play, answer.plan, answer.effects, line, Voice(language, names)),
        looks=_looks(play, run, answer, names, language),
        gain=gain,
        better=round(100 * gain.better),
        figures=_figures(play, answer, names, language) if answer.plan else (),
        call=by_name(play.call, names, language) if play_value(run.revision).variants else "",
    )


def _with_all_looks(play: Play, pace: Pace) -> Timeline:
    """The first way of the play, with the windows of the looks that only further ones have."""
    lines = lines_of(play, pace)
    windows = [each for line, looks in lines for each in line.windows if each.look.id in looks]
    return replace(lines[0][0], windows=tuple(windows))


def _looks(
    play: Play, run: Tuning, answer: Answer, names: Mapping[Role, str], language: Language
) -> tuple[LookTwice, ...]:
    known = {look.id: (n, look) for n, look in enumerate(play.looks, start=1)}
    counting = run.question["looks"]
    before, after = answer.compared.before, answer.compared.after
    rows = zip(*(bands[tactic] for tactic in TACTICS for bands in (before, after)), strict=True)
    found = []
    for chased, chased_now, switched, switched_now in rows:
        number, look = known[chased.look]
        found.append(
            LookTwice(
                number=number,
                text=look_words(look, names, language),
                chase=(_cell(chased, language), _cell(chased_now, language)),
                switch=(_cell(switched, language), _cell(switched_now, language)),
                counts=not counting or look.id in counting,
            )
        )
    return tuple(sorted(found, key=lambda row: row.number))


def _cell(band: Band, language: Language) -> BandCell:
    return BandCell(LOOK_MARKS[band.word], language.say(WORDS[band.word]), band)


def _figures(
    play: Play, answer: Answer, names: Mapping[Role, str], language: Language
) -> tuple[tuple[Figure, Figure], ...]:
    """The diagrams that look different, each before and after."""
    tuned = replace(applied(play, answer.plan), key=f"{play.key}-tuned")
    before, after = (
        figures_of(run, language, Drawing(names=names, numbers=begun(run))) for run in (play, tuned)
    )
    pairs = zip(before, after, strict=True)
    return tuple(
        (old, new)
        for old, new in pairs
        if old.svg.replace(play.key, "") != new.svg.replace(tuned.key, "")
    )
