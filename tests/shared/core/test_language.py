"""Sentences by catalogue: slots, plurals, lists, and where two Spanish words meet."""

from __future__ import annotations

from gettext import NullTranslations

import pytest

from shared.core.language import (
    ENGLISH,
    Language,
    MissingSlotError,
    UnknownLanguageError,
    language,
    sentence,
    slots_of,
)


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
        ("Pasa a Ida (5) en 2 pasos a", "Pasa a Ida (5), 2 pasos a"),
        ("Empieza en un paso por", "Empieza un paso por"),
        ("corra hacia 2 pasos por dentro", "corra hacia un punto a 2 pasos por dentro"),
        ("un paso por encima de el aro", "un paso por delante del aro"),
        ("2 pasos por debajo de el aro", "2 pasos por detrás del aro"),
        ("El balón vuela por encima del aro", "El balón vuela por encima del aro"),
        ("para él y ella", "para él y ella"),
    ],
)
def test_spanish_words_that_change_where_they_meet(raw: str, spelt: str) -> None:
    assert spanish_without_catalogue().say("{text}", text=raw) == spelt


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        ("Start at a step above the block.", "Start a step above the block."),
        ("Pass to the 2 at 2 steps above the block.", "Pass to the 2, 2 steps above the block."),
        (
            "Pass to Ida (5) at halfway between a and b.",
            "Pass to Ida (5), halfway between a and b.",
        ),
        ("End at the block.", "End at the block."),
    ],
)
def test_a_place_told_in_steps_needs_no_at(raw: str, said: str) -> None:
    assert ENGLISH.say("{text}", text=raw) == said


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
