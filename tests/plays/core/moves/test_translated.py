"""A play's own texts in two languages: found by the text, kept by file and notation, told whole."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given

from coachbook.demo.files import demo_play, demo_plays
from plays.core.document.file import content_hash, from_json, to_json
from plays.core.document.form import problems
from plays.core.moves.moves import mirror
from plays.core.moves.rewrite import texts
from plays.core.moves.translated import own_texts, told_in, with_language
from plays.core.moves.variants import all_calls
from plays.core.play import Play, Translation
from plays.core.shorthand.read import read
from plays.core.shorthand.write import shorthand
from plays.core.words.part import part_of
from tests.languages import language
from tests.strategies import sound_plays

# As they were before anybody said their texts in another language.
PLAIN = [replace(play, translations=()) for play in demo_plays()]
GANGWAY = demo_play("gangway")
TITLE = GANGWAY.phases[0].title
CUE = next(cue for action in GANGWAY.actions() if action.role == "5" for cue in action.teach)


def whole(play: Play, code: str = "es") -> Play:
    """The play with each of its texts told apart in another language."""
    return with_language(play, code, {text: f"<{text}>" for text in own_texts(play)})


def test_what_is_said_in_the_language_is_told_and_the_rest_stays_as_entered() -> None:
    play = with_language(GANGWAY, "es", {CUE: "Espera la mano."})
    told = part_of(told_in(play, "es"), "5", None, language("es"))
    cues = [cue for step in told.steps for cue in step.teach]
    assert "Espera la mano." in cues
    assert CUE not in cues
    assert told_in(play, "es").phases[0].title == TITLE
    assert told_in(play, "en") == GANGWAY
    assert told_in(GANGWAY, "es") is GANGWAY


@pytest.mark.parametrize("play", PLAIN, ids=lambda play: play.key)
def test_every_text_of_a_play_can_be_said_and_nothing_else_changes(play: Play) -> None:
    both = whole(play)
    told = told_in(both, "es")
    assert all(text.startswith("<") for text in own_texts(told))
    assert told_in(both, "ca") == play
    assert problems(both) == ()
    assert [a.path for a in told.actions()] == [a.path for a in play.actions()]


@pytest.mark.parametrize("key", ["half-tide", "net-loft"])
def test_a_demo_play_says_each_of_its_texts_in_spanish(key: str) -> None:
    play = demo_play(key)
    said = {each.text: each.said for each in play.translations if each.language == "es"}
    assert set(said) == set(own_texts(play))
    assert told_in(play, "es").use == said[play.use] != play.use


def test_a_text_entered_anew_is_not_said_as_it_was() -> None:
    play = whole(GANGWAY)
    first, *rest = play.phases
    changed = replace(play, phases=(replace(first, title="Another way"), *rest))
    assert told_in(changed, "es").phases[0].title == "Another way"
    again = with_language(changed, "es", {})
    assert again.translations == ()


def test_one_language_is_changed_alone() -> None:
    play = with_language(whole(GANGWAY, "ca"), "es", {TITLE: "Abrid"})
    assert told_in(play, "es").phases[0].title == "Abrid"
    assert told_in(play, "ca").phases[0].title == f"<{TITLE}>"
    assert told_in(with_language(play, "es", {}), "es") == told_in(play, "en")


def test_an_old_document_reads_and_is_written_as_before() -> None:
    """Plays that were written before a play could say anything twice."""
    for play in PLAIN:
        assert "translations" not in to_json(play)
        assert from_json(to_json(play)) == play
        assert content_hash(from_json(to_json(whole(play)))) != content_hash(play)


def test_a_mirror_and_another_call_take_the_translations_along() -> None:
    play = replace(GANGWAY, use="Cut to the left block.", translations=())
    play = with_language(play, "es", {play.use: "Corta al poste bajo izquierdo."})
    assert told_in(mirror(play), "es").use == "Corta al poste bajo derecho."
    assert told_in(mirror(mirror(play)), "es").use == "Corta al poste bajo izquierdo."
    for run in all_calls(whole(demo_play("tidegate"))):
        assert all(text.startswith("<") for text in texts(told_in(run, "es")))


def test_the_notation_says_both_and_reads_both() -> None:
    text = "He said | no"
    play = with_language(replace(GANGWAY, use=text), "es", {text: "Dijo que no", CUE: "| Ya"})
    written = shorthand(play)
    assert "in es:\n" in written
    assert f"  - {CUE} | | Ya\n" in written
    assert read(written).play.translations == play.translations
    typed = shorthand(GANGWAY) + f"\nin es:\n  - {CUE} | Espera\n"
    assert read(typed).play.translations == (Translation("es", CUE, "Espera"),)
    last = len(typed.splitlines())
    assert [told.line for told in read(typed + "  - no bar\n").faults] == [last + 1]


@given(sound_plays())
def test_the_notation_keeps_what_is_said_in_any_language(play: Play) -> None:
    kept = sorted(play.translations, key=lambda each: each.language)
    assert read(shorthand(play)).play.translations == tuple(kept)


@pytest.mark.parametrize(
    ("said", "code", "place"),
    [
        ([Translation("Spanish", "a", "b")], "language", "/translations/0/language"),
        ([Translation("es", "a", "b")] * 2, "said_twice", "/translations/1"),
        ([Translation("es", "a", " ")], "empty_text", "/translations/0/said"),
    ],
)
def test_what_is_wrong_is_told_at_its_place(said: list[Translation], code: str, place: str) -> None:
    found = problems(replace(GANGWAY, translations=tuple(said)))
    assert (code, place) in {(each.code, each.place) for each in found}
