"""A play in Spanish words says what it says in English ones, and comes back from them."""

from __future__ import annotations

import re

import pytest
from hypothesis import given

from plays.core.court.courts import court
from plays.core.court.spoken import spot_name
from plays.core.court.spots import named_spots, out_spots
from plays.core.play import (
    AgeGroup,
    Defence,
    Formation,
    JointShape,
    Moment,
    PassKind,
    Play,
    Quality,
    RuleSet,
    Situation,
    Stance,
)
from plays.core.shorthand import clauses, head, sheet
from plays.core.shorthand import spanish_words as words
from plays.core.shorthand.naming import canonical
from plays.core.shorthand.read import read
from plays.core.shorthand.tongue import english, is_spanish, spanish
from plays.core.shorthand.vocabulary import EVENTS, NOUNS, ORDINALS, VERBS
from plays.core.shorthand.write import shorthand
from tests.languages import language
from tests.plays.core.demo_plays import DEMO
from tests.strategies import sound_plays

CAJA = """\
Jugada: Caja Nueve
Llamada: Nueve {5}
Formación: caja
Nivel: U14
Saque: 1, fondo derecho en 3,35

Colocación:
2 en el codo izquierdo
3 en el codo derecho
4 en el poste bajo izquierdo
5 en el poste bajo derecho

Fase: Cruce
5 bloquea en horizontal para 4 en el poste bajo izquierdo
4 corta al poste bajo derecho, cuando 5 está firme.
- Primero la cadera baja, luego el balón.
2 despeja al ala izquierda

Fase: Abajo
3 bloquea en vertical para 5 en un paso por encima del poste bajo derecho, cuando 4 llega
5 sale hacia fuera a la cabecera, 0,2 s después de 3 está firme

Opciones:
1 a 4 con el corte de 4, picado, si el centro está libre
1 a 5 con el corte de 5

Respuesta cambio desde la fase 2: Cambian: 3 se escapa al aro.
  en vez del bloqueo de 3: 3 se escapa al aro
  en vez del corte de 5: 5 sale hacia fuera a la cabecera, cuando el corte de 4 termina
  Opciones:
  1 a 3 con el bloqueo de 3, bombeado
"""
BOX = """\
play: Caja Nueve
call: Nueve {5}
formation: box
level: U14
throw-in: 1, right baseline at 3.35

starts:
2 at left elbow
3 at right elbow
4 at left block
5 at right block

phase: Cruce
5 cross screens for 4 at left block
4 cuts to right block, when 5 is set
- Primero la cadera baja, luego el balón.
2 clears out to left wing

phase: Abajo
3 down screens for 5 at a step above the right block, when 4 arrives
5 pops to top, 0.2 s after 3 is set

looks:
1 to 4 on 4's cut, bounce, if el centro está libre
1 to 5 on 5's cut

counter switch from phase 2: Cambian: 3 se escapa al aro.
  instead of 3's screen: 3 slips to basket
  instead of 5's cut: 5 pops to top, when 4's cut ends
  looks:
  1 to 3 on 3's screen, lob
"""


def test_a_play_typed_in_spanish_is_the_play_typed_in_english() -> None:
    """What is meant is told by the English text, which other tests hold to documents."""
    found = read(CAJA)
    assert found.faults == ()
    assert found.play == read(BOX).play


def test_a_phone_that_drops_accents_is_understood() -> None:
    bare = CAJA.replace("Formación", "formacion").replace("Colocación", "colocacion")
    bare = bare.replace("está firme", "esta firme").replace("después", "despues")
    assert read(bare) == read(CAJA)


@pytest.mark.parametrize("play", DEMO, ids=[play.key for play in DEMO])
def test_a_demo_play_comes_back_from_spanish(play: Play) -> None:
    found = read(spanish(shorthand(play)))
    assert found.faults == ()
    assert found.play == canonical(play)


@given(sound_plays())
def test_any_sound_play_comes_back_from_spanish(play: Play) -> None:
    found = read(spanish(shorthand(play)))
    assert found.faults == ()
    assert found.play == canonical(play)


def test_places_are_called_as_everywhere_else_in_spanish() -> None:
    said = dict(words.PLACES)
    for rule_set in RuleSet:
        floor = court(rule_set)
        for key in (*named_spots(floor), *out_spots(floor)):
            assert said[key.replace("_", " ")] == spot_name(key, language("es")), key


@pytest.mark.parametrize(
    ("now", "before"),
    [
        ("nuestro codo izquierdo", "el codo izquierdo de la pista trasera"),
        ("nuestra ala derecha", "el ala derecha de la pista trasera"),
        ("nuestro aro", "el aro de la pista trasera"),
        (
            "la banda izquierda, en nuestra marca de saque",
            "la banda izquierda, en la pista trasera",
        ),
    ],
)
def test_what_a_place_was_called_before_is_read(now: str, before: str) -> None:
    """A text that somebody kept from an older edition is the same play."""
    new, old = (read(f"fase: A\n4 corta a {place}") for place in (now, before))
    assert new.play == old.play
    assert new.play.phases[0].actions[0].path
    assert not [fault for fault in (*new.faults, *old.faults) if fault.unread]


def test_every_word_of_the_grammar_has_its_spanish_word() -> None:
    known = {one for one, _ in (*words.VERBS, *words.NOUNS, *words.ORDINALS)}
    assert known >= {*VERBS, *NOUNS.values(), *ORDINALS}
    listed = {one for one, _ in (*words.LISTED, *words.PHRASES)}
    for kind in (Situation, Formation, Quality, Stance, Defence, PassKind):
        assert listed >= {each.value.replace("_", " ") for each in kind}, kind
    assert listed >= {f"in {each.value}" for each in JointShape}
    assert listed >= {EVENTS[moment][0] for moment in Moment if moment in EVENTS}
    assert AgeGroup.ADULT.value in listed


def test_two_english_words_never_share_a_spanish_one() -> None:
    written = (*words.VERBS, *words.NOUNS, *words.LISTED, *words.ORDINALS, *words.PLACES)
    assert len({said for _, said in written}) == len(written)


def test_a_cue_that_begins_like_an_action_stays_a_cue() -> None:
    text = BOX.replace("- Primero la cadera baja, luego el balón.", "- 4 bloquea para nadie")
    play = read(text).play
    assert play.phases[0].actions[1].teach == ("4 bloquea para nadie",)
    assert read(spanish(shorthand(play))).play == play


def test_a_fault_speaks_the_words_of_the_text_and_stands_at_its_line() -> None:
    faults = read(CAJA.replace("para 4 en el poste", "4 en el poste")).faults
    assert faults[0].line == 14
    assert "“5 bloquea en horizontal para 4”" in faults[0].sentence
    nowhere = read(CAJA.replace("2 despeja al ala izquierda", "2 despeja al palco")).faults
    assert [(fault.line, "“palco”" in fault.sentence) for fault in nowhere] == [(17, True)]


def test_the_examples_in_spanish_sentences_are_read_as_the_english_ones() -> None:
    """Each example of a fault, put into English, is the one of the English sentence."""
    templates = (
        *(clauses.NO_ACTION, clauses.NO_LOOK, clauses.NO_CUE, head.NO_THROW_IN, head.NO_START),
        *(head.NO_NEED, head.NO_SPACING, head.NO_DEFENDER, head.NO_CONDITION, sheet.NO_INSTEAD),
    )
    for template in templates:
        given_in_english = re.findall("“([^{}”]+)”", template)
        said = re.findall("«([^{}»]+)»", language("es").say(template, text=""))
        heard = [english(f"fase: x\n{each}").split("\n")[1] for each in said]
        assert heard == [each.replace(" the ", " ") for each in given_in_english], template


def test_an_english_text_is_left_alone() -> None:
    assert not is_spanish(BOX)
    assert read(BOX.replace("Cruce", "uso: corta")).faults == ()
