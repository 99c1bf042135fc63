"""The words themselves: sentences as a player reads them, counters, calls, seconds."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coachbook.demo.files import demo_plays
from plays.core.play import (
    ROLES,
    Action,
    ActionKind,
    Cue,
    Defence,
    DefenceRead,
    Moment,
    Play,
    Point,
    Role,
    Spot,
)
from plays.core.shorthand.read import read
from plays.core.words.part import part_of
from plays.core.words.role_part import ChangeKind
from plays.core.words.speaker import near_side, seconds_in_words
from plays.core.words.terms import THEY
from shared.core.language import ENGLISH, Language
from tests.languages import language
from tests.plays.core.words.spoken_plays import everything

NAMES: dict[Role, str] = {"1": "Ada", "2": "Bo", "3": "Olga", "4": "Noor", "5": "Ida"}


def steps(play: Play, role: Role) -> list[str]:
    return [step.text for step in part_of(play, role, NAMES).steps]


def test_a_cutter_through_a_gate() -> None:
    part = part_of(everything(), "3", NAMES)
    assert part.start == ("Start at the far elbow.",)
    assert part.steps[0].text == (
        "Wait until Noor (4) has opened the gate for you. "
        "Wait also until Ida (5) has opened the gate for you. Then wait about half a second more. "
        "Run through the gate between Noor (4) and Ida (5). "
        "Noor (4) and Ida (5) close it behind you. First run toward the top. Cut to the basket."
    )
    assert part.looks[0].text == (
        "You are look 1 of 4. Be ready for a lob from Ada (1). "
        "You catch it a step in front of the basket. When: nobody is behind 3. "
        "It comes at the end of your step 1."
    )


def shut_by(*roles: Role) -> Play:
    """The gate closed by some of the two who open it."""
    play = everything()
    phase = play.phases[0]
    kept = tuple(
        action
        for action in phase.actions
        if action.joint is None or action.joint.part == "open" or action.role in roles
    )
    alone = {"a5s": (Cue(Moment.PASSES, "a3", 1),)}
    kept = tuple(replace(action, cues=alone.get(action.id, action.cues)) for action in kept)
    return replace(play, phases=(replace(phase, actions=kept), *play.phases[1:]))


@pytest.mark.parametrize(
    ("closers", "through", "close"),
    [
        (("4",), ". Noor (4) closes it behind you.", "Close the gate behind Olga (3)"),
        (("5",), ". Ida (5) closes it behind you.", "Close the gate behind Olga (3)"),
        ((), ".", None),
    ],
)
def test_who_opens_a_gate_and_who_closes_it_are_told_apart(
    closers: tuple[Role, ...], through: str, close: str | None
) -> None:
    play = shut_by(*closers)
    assert f"Run through the gate between Noor (4) and Ida (5){through}" in steps(play, "3")[0]
    for role, partner in (("4", "Ida (5)"), ("5", "Noor (4)")):
        told = " ".join(steps(play, role))  # type: ignore[arg-type]  # two roles by hand
        assert f"Open a gate with {partner}" in told
        assert (close is not None and close in told) is (role in closers)
        assert "Close the gate with" not in told  # nobody to close it with


def test_who_waits_until_two_have_left_is_told_from_where() -> None:
    play = everything()
    gone = (Cue(Moment.HAS_LEFT, "a4s"), Cue(Moment.HAS_LEFT, "b3d"))
    cut = Action("w2", "2", ActionKind.CUT, (Point(4.6, 8.4),), gone)
    last = play.phases[-1]
    told = steps(
        replace(play, phases=(*play.phases[:-1], replace(last, actions=(*last.actions, cut)))), "2"
    )[-1]
    assert "Noor (4) has left their place" in told
    assert "Wait also until Olga (3) has left their place" in told


CORNER = """\
play: Corner
situation: half court
starts:
  1 at the top with the ball
  2 at the right elbow
  3 at the left wing
  4 at the left block
  5 at the right block
phase: A
  2 cuts to a step above the right corner
  1 passes to 2, when 2 goes
  3 cuts to the left slot, when 2 goes
  4 cuts to the left elbow, when 5's first cut starts
  5 cuts to the right short corner, on to a step outside the right short corner
phase: B
  5 cuts to half a step outside the right short corner
"""


def test_where_a_run_leads_is_told_by_the_place_and_a_pass_says_where_it_goes_itself() -> None:
    """ "There" would be the corner, and the ball is caught a step above it."""
    play = read(CORNER).play
    assert steps(play, "3")[0].startswith("Wait until Bo (2) starts to run toward the right corner")
    assert read(CORNER).faults == ()
    (passed,) = steps(play, "1")
    assert passed == (
        "Wait until Bo (2) starts to run toward the right corner."
        " Pass to Bo (2), a step above the right corner."
    )


def test_a_run_that_is_not_the_only_one_to_a_place_is_told_to_the_step() -> None:
    """The 5 runs to the short corner twice: only where each of them ends tells which."""
    (waits,) = steps(read(CORNER).play, "4")
    assert waits.startswith("Wait until Ida (5) starts to run to a step outside the right short")


def test_a_look_that_reads_a_defender_says_so_to_both() -> None:
    play = everything()
    first = replace(play.looks[0], read=DefenceRead(Defence.FRONT, (play.looks[0].receiver,)))
    play = replace(play, looks=(first, *play.looks[1:]))
    mine = part_of(play, first.receiver, NAMES).looks[0].sentences
    assert "When your defender stands in front." in mine
    passer = part_of(play, first.passer, NAMES).looks[0].sentences
    name = NAMES[first.receiver]
    assert f"When the defender of {name} ({first.receiver}) stands in front." in passer


def test_who_shoots_after_a_look_is_told_and_the_passer_is_not() -> None:
    play = everything()
    first = replace(play.looks[0], shot=True)
    play = replace(play, looks=(first, *play.looks[1:]))
    assert "Shoot as soon as you have it." in part_of(play, first.receiver, NAMES).looks[0].text
    assert "Shoot" not in part_of(play, first.passer, NAMES).looks[0].text


def test_a_counter_says_whose_defenders_do_it() -> None:
    play = everything()
    first = replace(play.counters[0], defence=Defence.FRONT, whose=("5",))
    play = replace(play, counters=(first, replace(first, defence=Defence.SWITCH, whose=("3", "5"))))
    assert [c.title for c in part_of(play, "5", NAMES).counters] == [
        "When your defender stands in front",
        "When the defenders of Olga (3) and Ida (5) switch",
    ]
    assert part_of(play, "1", NAMES).counters[0].title == (
        "When the defender of Ida (5) stands in front"
    )


def test_a_screener_holds_until_the_cutter_is_past() -> None:
    told = steps(everything(), "4")
    assert told[0] == (
        "Wait for the signal. Open a gate with Ida (5), a step below the nail and a step to the "
        "ball side. Let Olga (3) run through between you. "
        "No sprint here: an easy jog is enough."
    )
    assert told[1].startswith(
        "Keep the gate open until Olga (3) is past your shoulder. Close the gate"
    )


def test_without_a_cast_people_are_numbers() -> None:
    text = " ".join(part_of(everything(), "3").sentences())
    assert "the gate between the 4 and the 5" in text
    assert "(" not in text


def test_the_first_of_two_events() -> None:
    assert ", if that comes first. Seal your defender" in steps(everything(), "5")[2]


def test_the_thrower_throws_and_gives_the_signal() -> None:
    part = part_of(everything(), "1", NAMES)
    assert part.start == (
        "You throw the ball in from the left sideline, at the throw-in mark.",
        "When all are in place, give the signal.",
    )
    assert part.steps[0].text.endswith("with a lob to Ida (5) there.")
    assert part.steps[1].sentences[0] == "When the ball is in, go on into our offence."
    assert [line.number for line in part.looks] == [1, 2, 3]
    assert all(line.reads for line in part.looks)


def test_a_first_step_on_the_signal_of_the_thrower_gives_it() -> None:
    play = everything()
    first, *rest = play.phases
    pass_in = replace(play.phases[2].actions[1], cues=(Cue(Moment.SIGNAL, wait=1.0),))
    early = replace(play, phases=(replace(first, actions=(*first.actions, pass_in)), *rest))
    part = part_of(early, "1", NAMES)
    assert part.start == ("You throw the ball in from the left sideline, at the throw-in mark.",)
    assert part.steps[0].sentences[0] == "Give the signal, then wait about one second."


def test_the_passer_reads_the_looks_of_a_phase() -> None:
    part = part_of(everything(), "1", NAMES)
    here = part.reading_in("gate")
    assert here is not None
    assert (here.looks, here.sentence) == ((1,), "Read look 1 here.")
    both = part.reading_in("row")
    assert both is not None
    assert (both.looks, both.sentence) == ((2, 3), "Read looks 2 and 3 here.")
    assert part.reading_in("ball") is None  # look 4 is there, and another's to read
    assert part_of(everything(), "5", NAMES).reading_in("ball") is not None
    assert part_of(everything(), "3", NAMES).reading_in("gate") is None


def test_the_passer_reads_in_spanish_and_in_a_counter() -> None:
    part = part_of(everything(), "1", NAMES, language("es"))
    assert [each.sentence for each in part.readings] == [
        "Lee aquí la opción 1.",
        "Lee aquí las opciones 2 y 3.",
    ]
    slip = part_of(everything(), "1", NAMES).counters[0].part
    changed = slip.reading_in("ball")
    assert changed is not None
    assert changed.sentence == "Read look 4 here."


def test_who_is_no_look_is_told_so() -> None:
    play = replace(everything(), looks=everything().looks[:1])
    assert part_of(play, "2", NAMES).no_look.startswith("You are not one of the looks.")
    assert part_of(play, "3", NAMES).no_look == ""
    assert part_of(replace(play, looks=()), "2", NAMES).no_look == ""


def test_a_counter_tells_what_changes_by_comparing() -> None:
    counter, nothing = part_of(everything(), "5", NAMES).counters
    assert (counter.title, counter.says) == ("When they switch", "5 slips.")
    assert [change.kind for change in counter.changes] == [
        ChangeKind.STEP,
        ChangeKind.LEFT_OUT,
        ChangeKind.LEFT_OUT,
        ChangeKind.ENDING,
        ChangeKind.LOOKS,
    ]
    assert counter.changes[0].heading == "Step 4 is now:"
    assert "Slip to the basket." in counter.changes[0].sentences
    assert counter.changes[-1].text.endswith("You catch it at the basket. When: 5 is alone.")
    assert counter.same == ""
    assert nothing.changes == ()
    assert nothing.same == "Nothing changes for you."


def test_who_need_not_wait_any_more_is_told_so() -> None:
    """Left out of the sentences, a wait that fell away would leave the step as it was."""
    play = everything()
    switch = play.counters[0]
    waits = next(action for action in switch.replace if action.role == "5")
    at_once = replace(play, counters=(replace(switch, replace=(replace(waits, cues=()),)),))
    plain, (counter, *_) = part_of(at_once, "5", NAMES), part_of(at_once, "5", NAMES).counters
    assert plain.steps[3].wait
    assert counter.changes[0].sentences[0] == "Do not wait."
    same, *_ = part_of(play, "5", NAMES).counters
    assert "Do not wait." not in same.changes[0].sentences


def test_a_counter_names_new_steps_by_the_step_before() -> None:
    change = part_of(everything(), "4", NAMES).counters[0].changes[1]
    assert change.heading == "Instead of step 5:"
    assert change.sentences[-1] == "Cut to the far corner."


def test_a_counter_that_adds_only() -> None:
    play = everything()
    counter = replace(play.counters[0], remove=(), replace=(), looks=())
    changes = part_of(replace(play, counters=(counter,)), "4", NAMES).counters[0].changes
    assert changes[0].kind is ChangeKind.NEW_STEP
    assert changes[0].heading == "New, after step 6:"


@pytest.mark.parametrize("defence", Defence)
def test_every_defence_has_its_title(defence: Defence) -> None:
    play = everything()
    play = replace(play, counters=(replace(play.counters[0], defence=defence),))
    titles = {
        part_of(play, "1", NAMES, voice).counters[0].title for voice in (ENGLISH, language("es"))
    }
    assert len(titles) == 2


@pytest.mark.parametrize(
    ("seconds", "said"),
    [
        (0.2, "a split second"),
        (0.3, "about half a second"),
        (0.74, "about half a second"),
        (0.75, "about one second"),
        (1.5, "about one and a half seconds"),
        (2.0, "about two seconds"),
        (2.6, "about two and a half seconds"),
    ],
)
def test_seconds_in_words(seconds: float, said: str) -> None:
    assert seconds_in_words(seconds, ENGLISH) == said


def test_seconds_in_spanish() -> None:
    assert seconds_in_words(2.5, language("es")) == "unos dos segundos y medio"


def test_near_is_the_side_of_the_throw_in() -> None:
    assert near_side(Spot("sideline", "left", 8.0)) == "left"
    assert near_side(Spot("baseline", "right", 3.0)) == "right"
    assert near_side(Spot("baseline", "right", 0.2)) is None
    assert near_side(None) is None


def test_mirrored_words_are_the_same_but_for_left_and_right() -> None:
    """Near and far follow the throw-in, so only the thrower reads another side."""
    from plays.core.moves.moves import mirror

    play, mirrored = everything(), mirror(everything())
    for role in ("2", "3", "4", "5"):
        assert part_of(mirrored, role, NAMES) == part_of(play, role, NAMES)
    here, there = (part_of(p, "1", NAMES) for p in (play, mirrored))
    assert there.start[0] == here.start[0].replace("left", "right")


def test_spanish_reads_like_spanish() -> None:
    part = part_of(everything(), "3", {**NAMES, "4": "Ida", "5": "Inés"}, language("es"))
    assert part.steps[0].text == (
        "Espera hasta que Ida (4) te haya abierto la puerta. Espera también hasta que Inés (5) "
        "te haya abierto la puerta. Luego espera alrededor de medio segundo más. Corre por la "
        "puerta entre Ida (4) e Inés (5). Ida (4) e Inés (5) la cierran detrás de ti. Corre "
        "primero hacia la cabecera. Corta hasta el aro."
    )


def test_a_step_in_three_lines_what_to_wait_for_what_to_do_and_what_comes_then() -> None:
    """The same sentences as in the running text; no line says what another has to say."""
    waits = ("Wait ", "Hold ", "Keep the gate ", "When the ball is in")
    for role in ROLES:
        for step in part_of(everything(), role, NAMES).steps:
            assert " ".join(step.lines) == step.text
            assert all(each.startswith(waits) for each in step.wait[:1])
            assert not any(each.startswith(waits) for each in step.act)
            assert all(each.startswith(("Catch ", "Take ")) for each in step.then)
            assert step.act
    cut = part_of(everything(), "3", NAMES).steps[0]
    assert cut.lines[1].startswith("Run through the gate")


def test_every_look_stands_beside_its_own_diagram_and_in_order() -> None:
    """Each once where it is drawn; a passer meets the numbers from 1 up, whenever they come."""
    out_of_order = 0
    for play in demo_plays():
        phases = [phase.id for phase in play.phases]
        for role in ROLES:
            part = part_of(play, role, NAMES)
            met: list[int] = []
            drawn: list[int] = []
            for at, phase in enumerate(phases):
                here = part.looks_in(phase, phases[at + 1 :])
                numbers = [each.number for each in here]
                assert numbers == sorted(numbers)
                own = [each.number for each in here if each.phase == phase]
                drawn += own
                assert [n for n in numbers if n not in own] == [
                    each.number
                    for each in part.looks
                    if own and each.number < own[-1] and each.phase in phases[at + 1 :]
                ]
                met += [n for n in numbers if n not in met]
            assert sorted(drawn) == [each.number for each in part.looks]
            assert met == sorted(met), (play.name, role)
            out_of_order += drawn != sorted(drawn)
    assert out_of_order > 0  # else this test would hold nothing


@pytest.mark.parametrize("voice", [ENGLISH, language("es")])
def test_what_a_counter_says_is_left_out_where_it_is_its_heading(voice: Language) -> None:
    """Drawn by hand it has no words of its own yet, and no page says "They switch" twice."""
    play = everything()
    drawn = replace(play.counters[0], defence=Defence.SWITCH, says="They switch")
    at_home = replace(drawn, says=voice.say(THEY[Defence.SWITCH]))
    own = replace(drawn, says="They switch late: wait for it.")
    for counter, said in ((drawn, ""), (at_home, ""), (own, own.says)):
        changed = replace(play, counters=(counter,))
        assert part_of(changed, "5", NAMES, voice).counters[0].says == said
