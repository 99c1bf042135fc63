"""Who is who in a sentence: a name alone where it tells enough, else with the shirt number."""

from __future__ import annotations

from plays.core.calls import CallName, call_for, with_number
from roster.core.cast import PlayerId
from roster.core.names import Names
from shared.core.language import ENGLISH
from tests.languages import language

IDA, OTHER, NOOR = CallName("Ida", "5"), CallName("Ida", "12"), CallName("Noor", "8")


def test_two_of_one_name_are_told_apart_and_nobody_else_is() -> None:
    people: dict[PlayerId, CallName] = {1: IDA, 2: OTHER, 3: NOOR}
    names = Names.of(people)
    assert names.all_players([1, 2, 3]) == "Ida (5), Ida (12) and Noor"
    spanish = Names.of(people, language=language("es"))
    assert spanish.all_players([1, 3]) == "Ida (5) y Noor"


def test_a_list_a_sentence_and_a_call_write_a_person_alike() -> None:
    people: dict[PlayerId, CallName] = {1: IDA, 2: OTHER}
    said = with_number(IDA, ENGLISH)
    assert said == Names.of(people).player(1) == "Ida (5)"
    assert call_for("{1}", {"1": IDA, "2": OTHER}, ENGLISH) == said
