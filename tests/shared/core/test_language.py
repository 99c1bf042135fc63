"""Sentences by catalogue: slots, plurals, lists, and where two Spanish words meet."""

from __future__ import annotations

import re
from gettext import NullTranslations

import pytest

from shared.core.language import (
    ENGLISH,
    N_,
    NN_,
    Language,
    MissingSlotError,
    Phrase,
    UnknownLanguageError,
    sentence,
    slots_of,
)
from tests.languages import language


def spanish_without_catalogue() -> Language:
    """Spanish with an empty catalogue: the English words, the Spanish meetings."""
    return Language("es", NullTranslations())


def test_say_fills_slots() -> None:
    assert ENGLISH.say("Wait until {who} is set.", who="Ida (5)") == "Wait until Ida (5) is set."


def test_say_keeps_braces_in_a_filled_slot() -> None:
    assert ENGLISH.say("Call: {call}", call="Lantern {5}") == "Call: Lantern {5}"


def test_missing_slot_is_an_error_that_names_it() -> None:
    with pytest.raises(MissingSlotError, match="who"):
        ENGLISH.say("Wait until {who} is set.")


def test_empty_template_says_nothing_not_the_catalogue_header() -> None:
    assert language("es").say("") == ""


@pytest.mark.parametrize(("n", "said"), [(0, "0 plays"), (1, "1 play"), (2, "2 plays")])
def test_say_n(n: int, said: str) -> None:
    assert ENGLISH.say_n("{n} play", "{n} plays", n) == said


@pytest.mark.parametrize(
    ("items", "both", "either"),
    [
        ([], "", ""),
        (["a"], "a", "a"),
        (["a", "b"], "a and b", "a or b"),
        (["a", "b", "c"], "a, b and c", "a, b or c"),
        (["a", "b", "c", "d"], "a, b, c and d", "a, b, c or d"),
    ],
)
def test_lists(items: list[str], both: str, either: str) -> None:
    assert ENGLISH.all_of(items) == both
    assert ENGLISH.any_of(items) == either


@pytest.mark.parametrize(
    ("raw", "spelt"),
    [  # the rules in the Diccionario panhispánico de dudas, "al", "del", "y", "o"; from memory
        ("Ve a el codo", "Ve al codo"),
        ("cerca de el aro", "cerca del aro"),
        ("De el codo a el poste", "Del codo al poste"),
        ("Ana y Ida", "Ana e Ida"),
        ("Ana y Hilda", "Ana e Hilda"),
        ("agua y hielo", "agua y hielo"),
        ("Ida y Ana", "Ida y Ana"),
        ("Ida o Olga", "Ida u Olga"),
        ("7 o 8", "7 u 8"),
        ("para él y ella", "para él y ella"),
    ],
)
def test_spanish_words_that_change_where_they_meet(raw: str, spelt: str) -> None:
    assert spanish_without_catalogue().say("{text}", text=raw) == spelt


def test_a_phrase_changes_the_words_before_it() -> None:
    here = Phrase("a step away", ((re.compile(r"\bat $"), ""),))
    assert ENGLISH.say("Start at {place}, at {time}.", place=here, time="noon") == (
        "Start a step away, at noon."
    )
    joined = ENGLISH.all_of([here, "the block"])
    assert ENGLISH.say("End at {place}.", place=joined) == "End a step away and the block."
    assert ENGLISH.say("End at {place}.", place=f"{here}") == "End at a step away."


@pytest.mark.parametrize(
    ("value", "digits", "said"), [(0.5, 1, "0.5"), (2.0, 1, "2"), (10, 0, "10"), (0.25, 2, "0.25")]
)
def test_number(value: float, digits: int, said: str) -> None:
    assert ENGLISH.number(value, digits) == said
    assert spanish_without_catalogue().number(value, digits) == said.replace(".", ",")


def test_regional_codes_fall_to_the_language() -> None:
    assert language("en-GB") is ENGLISH
    assert language("es_MX").code == "es"
    assert language("es") is language("es")


@pytest.mark.parametrize("code", ["xx", "", "../es", "e5"])
def test_unknown_language(code: str) -> None:
    with pytest.raises(UnknownLanguageError):
        language(code)


def test_sentence_and_slots() -> None:
    assert sentence("the 5 cuts") == "The 5 cuts"
    assert sentence("") == ""
    assert slots_of("{who} passes to {whom}; {{not}} {who}") == {"who", "whom"}


def test_language_is_what_its_code_says() -> None:
    assert Language("es", NullTranslations()) == language("es")
    assert repr(ENGLISH) == "Language(code='en')"


def test_a_template_is_marked_without_being_changed() -> None:
    """As gettext's markers: what a marked template says is the template."""
    assert N_("Wait until {who} is set.") == "Wait until {who} is set."
    assert NN_("{n} play", "{n} plays") == ("{n} play", "{n} plays")
    assert ENGLISH.say_n(*NN_("{n} play", "{n} plays"), 2) == "2 plays"


def test_a_missing_slot_is_told_with_its_sentence() -> None:
    message = r"^no value for 'who' in 'Wait until \{who\} is set\.'$"
    with pytest.raises(MissingSlotError, match=message):
        ENGLISH.say("Wait until {who} is set.", whom="Ida")
