"""What a coach types: a whole play, and each kind of slip at its own line."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plays.core.court.courts import court
from plays.core.court.spots import named_spots
from plays.core.play import (
    Cue,
    CueRule,
    Cut,
    Defence,
    DefenceRead,
    Formation,
    Moment,
    PassKind,
    Point,
    RuleSet,
    Situation,
    Spacing,
    Spot,
)
from plays.core.shorthand.naming import canonical
from plays.core.shorthand.read import read
from plays.core.shorthand.told import ReadText
from plays.core.shorthand.write import shorthand

HELP = Path(__file__).parents[4] / "coachbook" / "docs"

BOX = """\
# A box from the baseline, as a coach would type it in a chat.
play: Box Nine
call: Nine {5}
formation: box
level: U14
throw-in: 1, right baseline at 1.2

starts:
2 at the left elbow
3 at the right elbow
4 at the left block
5 at the right block

phase: Across
5 cross screens for 4 at the left block
4 cuts to the right block, on to the right short corner, when 5 is set
- Low hip first, then the ball.
2 clears out to the left wing
phase: Down
3 down screens for 5 at a step above the right block, when 4's cut ends or 1.5 s after 2 goes
5 pops to the top, 0.2 s after 3 is set, decoy

looks:
1 to 4 on 4's cut, bounce, if the middle is open
1 to 5 on 5's cut, guess 0.4

counter switch from phase 2: They switch: 3 slips.
without 5's cut
instead of 3's screen: 3 slips to the basket
2 fades to the left corner, when 2's cut ends
looks:
1 to 3 on 3's screen, lob

needs:
4 needs finishing 4, weight 2
"""


def without(line: str, *instead: str) -> ReadText:
    """The box with one line written otherwise."""
    assert f"{line}\n" in BOX
    return read(BOX.replace(f"{line}\n", "".join(f"{each}\n" for each in instead)))


def line_of(text: str, reading: ReadText) -> list[tuple[str, str]]:
    """The faults with the words of their lines."""
    lines = ["", *text.split("\n")]
    return [(lines[fault.line], fault.sentence) for fault in reading.faults]


def test_a_play_is_read() -> None:
    found = read(BOX)
    assert found.faults == ()
    play = found.play
    assert (play.name, play.key, play.call) == ("Box Nine", "box-nine", "Nine {5}")
    assert play.formation is Formation.BOX
    assert play.spot == Spot("baseline", "right", 1.2)
    assert (play.thrower, play.ball) == ("1", "1")
    assert play.start_of("4") == named_spots(court(RuleSet.FIBA))["left_block"]
    across, down = play.phases
    assert [action.id for action in across.actions] == ["5-screen", "4-cut", "2-cut"]
    low = across.actions[1]
    assert low.cues == (Cue(Moment.SET, "5-screen"),)
    assert low.teach == ("Low hip first, then the ball.",)
    assert len(low.path) == 2
    screen, pop = down.actions
    assert screen.cue_rule is CueRule.FIRST
    assert screen.cues == (Cue(Moment.END, "4-cut"), Cue(Moment.START, "2-cut", wait=1.5))
    assert (pop.cut, pop.decoy, pop.cues[0].wait) == (Cut.POP, True, 0.2)
    assert [look.pass_kind for look in play.looks] == [PassKind.BOUNCE, PassKind.DIRECT]
    assert play.looks[0].condition == "the middle is open"
    (counter,) = play.counters
    assert counter.from_phase == "down"
    assert counter.remove == ("5-cut",)
    assert [(each.id, each.cut) for each in counter.replace] == [("3-screen", Cut.SLIP)]
    assert [each.id for each in counter.add] == ["switch-2-cut"]
    assert [look.action for look in counter.looks] == ["3-screen"]


@pytest.mark.parametrize(
    ("said", "cues"),
    [
        ("4 has left", (Cue(Moment.HAS_LEFT, "4-cut"),)),
        ("5 has left", (Cue(Moment.HAS_LEFT, "5-screen"),)),
        ("2's cut has left", (Cue(Moment.HAS_LEFT, "2-cut"),)),
        (
            "4 and 5 have left",
            (Cue(Moment.HAS_LEFT, "4-cut"), Cue(Moment.HAS_LEFT, "5-screen")),
        ),
    ],
)
def test_who_has_left_is_the_one_and_not_what_they_do(said: str, cues: tuple[Cue, ...]) -> None:
    found = without("phase: Down", "phase: Down", f"3 cuts to the nail, when {said}")
    late = found.play.phases[1].actions[0]
    assert late.cues == cues
    assert found.faults == ()
    assert read(shorthand(found.play)).play == canonical(found.play)


def test_a_distance_may_be_a_range() -> None:
    found = without("phase: Across", "spacing:", "2 and 3, 3 to 5.5 m", "phase: Across")
    assert found.play.spacing == (Spacing("2", "3", 3, 5.5),)
    assert found.faults == ()
    assert "spacing:\n  2 and 3, 3 to 5.5 m" in shorthand(found.play)
    odd = without("phase: Across", "spacing:", "2 and 3, 5 to 3 m", "phase: Across")
    assert [fault.line for fault in odd.faults] == [BOX.split("\n").index("phase: Across") + 2]


def test_a_look_may_end_in_a_shot() -> None:
    said = "1 to 4 on 4's cut, bounce, shoots, if the middle is open"
    found = without("1 to 4 on 4's cut, bounce, if the middle is open", said)
    assert [look.shot for look in found.play.looks] == [True, False]
    assert found.faults == ()
    assert said in shorthand(found.play)


def test_a_look_may_read_the_defence() -> None:
    said = "1 to 4 on 4's cut, bounce, against behind on 4, if the middle is open"
    found = without("1 to 4 on 4's cut, bounce, if the middle is open", said)
    assert found.play.looks[0].read == DefenceRead(Defence.BEHIND, ("4",))
    assert found.faults == ()
    assert said in shorthand(found.play)
    plain = "1 to 4 on 4's cut, bounce, if the middle is open"
    odd = without(plain, said.replace("behind", "dance"))
    assert "dance" in odd.faults[0].sentence


def test_a_counter_may_name_whose_defenders_do_it() -> None:
    said = "counter switch on 3 and 5 from phase 2: They switch: 3 slips."
    found = without("counter switch from phase 2: They switch: 3 slips.", said)
    assert found.play.counters[0].whose == ("3", "5")
    assert found.faults == ()
    assert said in shorthand(found.play)
    alone = without(
        "counter switch from phase 2: They switch: 3 slips.", said.replace(" and 5", "")
    )
    line = BOX.split("\n").index("counter switch from phase 2: They switch: 3 slips.") + 1
    assert [fault.line for fault in alone.faults] == [line]


def test_what_is_left_out_is_guessed_from_the_rest() -> None:
    found = without("throw-in: 1, right baseline at 1.2", "throw-in: 1, left sideline at 8.325")
    assert found.play.situation is Situation.SIDELINE
    assert without("formation: box").play.formation is Formation.OTHER


@pytest.mark.parametrize(
    ("place", "point"),
    [
        # A step is 0.8 m (common practice, no source); FIBA's lane is 4.9 m wide (rule book 2024,
        # article 2.4.4 and diagram 4), so the block stands 2.45 m from the middle line.
        ("a step outside the left block", (-0.8, 0.0)),
        ("half a step inside the left block", (0.4, 0.0)),
        ("2 steps above the left block", (0.0, 1.6)),
        ("a step below the left block", (0.0, -0.8)),
        ("1.5 steps left of the left block", (-1.2, 0.0)),
        ("a step right of the left block", (0.8, 0.0)),
    ],
)
def test_steps_from_a_place(place: str, point: tuple[float, float]) -> None:
    spot = named_spots(court(RuleSet.FIBA))["left_block"]
    assert spot.x == -2.45
    found = without("4 at the left block", f"4 at {place}").play.start_of("4")
    assert found == pytest.approx(Point(spot.x + point[0], spot.y + point[1]), abs=5e-4)


def test_a_thrower_without_a_start_stands_at_the_spot() -> None:
    assert read(BOX).play.start_of("1") == court(RuleSet.FIBA).spot_place(
        Spot("baseline", "right", 1.2)
    )
    moved = without("2 at the left elbow", "2 at the left elbow", "1 at the top").play
    assert moved.start_of("1") == named_spots(court(RuleSet.FIBA))["top"]


def test_a_place_between_two() -> None:
    spots = named_spots(court(RuleSet.FIBA))
    found = without("4 at the left block", "4 at between the left block and the left elbow")
    low, high = spots["left_block"], spots["left_elbow"]
    assert found.play.start_of("4") == pytest.approx((low.x, (low.y + high.y) / 2), abs=5e-4)


@pytest.mark.parametrize(
    ("line", "instead", "said"),
    [
        ("4 at the left block", "4 at the left elbo", "Did you mean “left elbow”?"),
        ("4 at the left block", "4 at zzz", "No place is called “zzz”."),
        ("4 at the left block", "six at the left block", "Write a start"),
        ("formation: box", "formation: pentagon", "Known are: line across, line along"),
        ("formation: box", "call: Ten", "“call” is written twice."),
        ("level: U14", "level: U99", "“U99” is not known here."),
        ("throw-in: 1, right baseline at 1.2", "throw-in: 1, roof at 2", "Write the throw-in"),
        ("throw-in: 1, right baseline at 1.2", "throw-in: 6", "“6” is no role."),
        ("2 clears out to the left wing", "2 teleports to the left wing", "is no action"),
        ("2 clears out to the left wing", "2 cuts to the top, quickly", "“quickly” says nothing"),
        ("2 clears out to the left wing", "2 cuts to the top, when it rains", "is nothing"),
        ("2 clears out to the left wing", "2 cuts to the top, when 3's pass ends", "no such pass"),
        ("2 clears out to the left wing", "2 cuts to the top, when 5 goes", "does that 2 times"),
        (
            "2 clears out to the left wing",
            "2 cuts to the top, when 5's third cut ends",
            "The 5 has no such cut.",
        ),
        (
            "2 clears out to the left wing",
            "2 cuts to the top, when 4 goes and 5 is set or 3 goes",
            "not both",
        ),
        (
            "5 cross screens for 4 at the left block",
            '5 screens for 4 at the left block, in ring "x"',
            "says nothing",
        ),
        ("1 to 5 on 5's cut, guess 0.4", "1 to 5 whenever", "is no look"),
        ("1 to 5 on 5's cut, guess 0.4", "1 to 5 on 5's cut, guess often", "is no look"),
        ("without 5's cut", "without a doubt", "“a doubt” is no action."),
        ("instead of 3's screen: 3 slips to the basket", "instead of 3", "Write"),
        ("4 needs finishing 4, weight 2", "4 needs luck 4", "“luck” is not known"),
        ("4 needs finishing 4, weight 2", "4 wants more", "Write a need"),
        ("- Low hip first, then the ball.", '- "Low hip', "has no partner"),
    ],
)
def test_a_slip_is_told_at_its_line(line: str, instead: str, said: str) -> None:
    text = BOX.replace(f"{line}\n", f"{instead}\n")
    ((where, sentence), *_) = line_of(text, read(text))
    assert where == instead
    assert said in sentence


def test_a_phase_kept_for_a_look_that_is_not_there_is_told_at_its_title() -> None:
    text = BOX.replace("phase: Down", "phase after look 9: Down")
    assert line_of(text, read(text))[0] == ("phase after look 9: Down", "There is no look 9.")


def test_counters_name_a_known_defence_and_phase() -> None:
    heading = "counter switch from phase 2: They switch: 3 slips."
    for instead, said in (
        ("counter yawn from phase 2: x", "“yawn” is nothing that a defence does here."),
        ("counter switch from phase 9: x", "There is no phase 9."),
        ("counter Switch", "Write a counter as"),
    ):
        text = BOX.replace(heading, instead)
        assert any(said in fault.sentence for fault in read(text).faults), instead


def test_every_slip_is_told_and_the_rest_is_still_read() -> None:
    text = BOX.replace("the left elbow", "the lift elbow").replace("2 clears out", "2 walks")
    found = read(text)
    assert [fault.line for fault in found.faults] == sorted(fault.line for fault in found.faults)
    assert len(found.faults) >= 2
    assert [action.id for action in found.play.actions()] == [
        *("5-screen", "4-cut", "3-screen", "5-cut")
    ]


def test_a_problem_of_form_is_told_at_the_line_that_makes_it() -> None:
    text = BOX.replace("2 clears out to the left wing", "2 clears out to (-40 3)")
    assert line_of(text, read(text)) == [
        ("2 clears out to (-40 3)", "In “2's cut” the 2 runs off the court.")
    ]
    text = BOX.replace("5 at the right block\n", "")
    ((line, sentence), *_) = [(fault.line, fault.sentence) for fault in read(text).faults]
    assert line == 0
    assert "5" in sentence


def test_a_long_text_is_refused_without_reading_it_all() -> None:
    found = read("5 cuts to the top\n" * 1500)
    assert any("1501 lines; 1000 is the most" in fault.sentence for fault in found.faults)


@given(st.lists(st.sampled_from(BOX.split("\n")), max_size=40).map("\n".join))
def test_lines_in_any_order_never_fail(text: str) -> None:
    assert all(0 <= fault.line <= 40 and fault.sentence for fault in read(text).faults)


@given(st.text(max_size=200))
def test_any_text_is_read_or_told(text: str) -> None:
    assert read(text).faults


def test_problem_pointers_find_their_lines() -> None:
    """A fault of form in each part of the document stands at that part's line, not at 0."""
    parts = {
        "call: Nine {5}": "call: Nine {7}",
        "4 needs finishing 4, weight 2": "4 needs finishing 9",
        "1 to 5 on 5's cut, guess 0.4": "1 to 5 on 5's cut, guess 4",
        "2 fades to the left corner, when 2's cut ends": "2 fades to (0 -30)",
    }
    for line, instead in parts.items():
        text = BOX.replace(line, instead)
        assert line_of(text, read(text))[0][0] == instead


@pytest.mark.parametrize("sign", ["- ", "• ", "* ", "– ", "— ", "3) "])
def test_a_list_pasted_from_a_chat_says_the_same_without_its_signs(sign: str) -> None:
    """An action in a list is an action, and no cue of the one above it."""
    lines = BOX.split("\n")
    listed = [f"{sign}{line}" if re.match(r"[1-5] ", line) else line for line in lines]
    assert listed != lines
    assert read("\n".join(listed)).play == read(BOX).play


def test_a_cue_that_begins_like_an_action_stays_a_cue_in_quotation_marks() -> None:
    play = read(BOX).play
    first, *others = play.phases
    told = replace(first.actions[0], teach=("2 cuts off your hip",))
    play = replace(play, phases=(replace(first, actions=(told, *first.actions[1:])), *others))
    assert '- "2 cuts off your hip"' in shorthand(play)
    again = read(shorthand(play)).play
    assert again.phases[0].actions[0].teach == ("2 cuts off your hip",)


PHONE = """\
Play: Box Nine
Formation: Box
Level: u14
Throw-in: 1, Right baseline at 1.2.

Starts:
2 at the left elbow
3 at the Right Elbow.
4 at the left block
5 at the right block

Phase 1: Across
5 Cross screens for 4 at the left block.
4 Cuts to the Rim, When 5’s screen is set.
2 clears out to the left wing
3 holds, in gate “Lock’n key”

Looks:
1 to 4 on 4’s cut, Lob, If it’s “there”.

Counter Switch from phase 1: They’ve switched.
Without 2’s cut
Instead of 4’s cut: 4 Fades to the Hoop
"""


def test_what_a_phone_makes_of_typing_is_read() -> None:
    """Capitals, curved marks and full stops, as a phone sets them by itself (common practice)."""
    straight = (
        PHONE.replace("“Lock’n key”", '"Lock’n key"')
        .replace("Phase 1:", "phase:")
        .replace("5’s screen", "5's screen")
        .replace("4’s cut", "4's cut")
        .replace("2’s cut", "2's cut")
    )
    typed = read(PHONE)
    assert [fault for fault in typed.faults if fault.unread] == []
    assert typed == read(straight)
    (look,), (counter,) = typed.play.looks, typed.play.counters
    assert look.pass_kind is PassKind.LOB
    assert look.condition == "it’s “there”."
    assert counter.says == "They’ve switched."
    assert counter.remove
    assert counter.replace[0].cut is Cut.FADE
    actions = typed.play.phases[0].actions
    assert actions[1].path == (named_spots(court(RuleSet.FIBA))["basket"],)
    assert [each.joint.name for each in actions if each.joint] == ["Lock’n key"]


@pytest.mark.parametrize(
    ("said", "place"),
    [("rim", "basket"), ("hoop", "basket"), ("foul line", "nail"), ("free throw line", "nail")],
)
def test_a_place_may_go_by_another_name(said: str, place: str) -> None:
    line = "phase: A\n4 cuts to the {}"
    assert read(line.format(said)).play == read(line.format(place)).play
    assert not any(fault.unread for fault in read(line.format(said)).faults)


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("6 cuts to the nail", "“6” is no role. The roles are 1 to 5."),
        ("ana cuts to the nail", "“ana” is no role. The roles are 1 to 5."),
        ("2 cutts to the nail", "Nobody “cutts” here. Did you mean “cuts”?"),
        ("4 down screens 5 at the nail", "Say for whom or to whom: “4 down screens for 5”."),
        ("1 passes 5", "Say for whom or to whom: “1 passes to 5”."),
        ("4 cuts to the hopp", "No place is called “hopp”. Did you mean “hoop”?"),
    ],
)
def test_a_slip_is_told_by_what_is_missing(line: str, told: str) -> None:
    faults = read(f"phase: A\n{line}").faults
    assert [(fault.line, fault.sentence) for fault in faults if fault.unread] == [(2, told)]


@pytest.mark.parametrize("text", [f"mind the post\n{BOX}", f"{BOX}\ncautions:\nmind the post\n"])
def test_a_line_that_belongs_to_nothing_is_told_at_its_place(text: str) -> None:
    """Before the first heading, and among lines that all begin with a dash."""
    assert [line for line, said in line_of(text, read(text)) if "belongs to nothing" in said] == [
        "mind the post"
    ]


def test_the_example_of_the_help_page_is_a_play_without_a_fault() -> None:
    page = (HELP / "03c-writing.md").read_text("utf-8")
    examples = page.split("```")[1::2]
    assert len(examples) == 2
    assert [read(example).faults for example in examples] == [(), ()]


def test_what_is_missing_names_actions_as_the_text_does() -> None:
    text = BOX.replace(
        "5 pops to the top, 0.2 s after 3 is set", "5 pops to the top, when 4 is set"
    )
    told = read(BOX.replace("when 5 is set", "when 2 is set")).faults + read(text).faults
    assert told
    assert not any(re.search("[1-5]-(cut|screen|pass)", fault.sentence) for fault in told)


def test_two_who_are_set_are_waited_for_like_each_of_them() -> None:
    both = BOX.replace("0.2 s after 3 is set", "when 3 and 5 are set")
    each = BOX.replace("0.2 s after 3 is set", "when 3 is set and 5 is set")
    assert read(both) == read(each)
    assert read(each).faults == ()


def test_an_action_with_one_unread_clause_is_still_known_to_other_lines() -> None:
    text = BOX.replace("on to the right short corner, when 5 is set", "when the band plays")
    assert [fault.sentence.split(" ")[0] for fault in read(text).faults] == ["“the"]
    assert len(read(text).play.phases[0].actions) == 3


def test_the_way_out_of_two_actions_is_itself_understood() -> None:
    text = BOX.replace(
        "2 clears out to the left wing", "2 clears out to the left wing, when 5 goes"
    )
    (fault,) = read(text).faults
    assert "5's second action" in fault.sentence
    assert read(text.replace("when 5 goes", "when 5's first action goes")).faults == ()


@pytest.mark.parametrize(
    ("section", "line", "told"),
    [
        ("spacing", "2 near 3", "Write a distance as “2 and 3, 3 to 5 m”."),
        ("defenders", "near 5", "Write a defender as “on 5 front” or “on 5 at the left block”."),
        ("variants", 'call "Red", backwards', "Write a variant as"),
        ("in es", '- "Nine', "The quotation mark of this text has no partner."),
        ("in es", "- Nine", "Write the text as it stands above, a bar, and what is said for it."),
    ],
)
def test_a_line_of_a_list_that_says_nothing_is_told_what_it_should_say(
    section: str, line: str, told: str
) -> None:
    text = f"{BOX}\n{section}:\n{line}\n"
    found = [sentence for where, sentence in line_of(text, read(text)) if where == line]
    assert found, read(text).faults
    assert told in found[0]


def test_a_condition_that_says_nothing_is_told_in_its_own_line() -> None:
    text = BOX.replace("level: U14\n", "level: U14\nconditions: at most a few\n")
    ((line, sentence), *_) = line_of(text, read(text))
    assert (line, sentence) == (
        "conditions: at most a few",
        "Write conditions as “at most 5 s left, margin at least -3”.",
    )


def test_a_throw_in_may_be_by_nobody() -> None:
    found = read(BOX.replace("throw-in: 1, right baseline at 1.2", "throw-in: nobody")).play
    assert (found.thrower, found.spot) == (None, None)


def test_teaching_stands_under_an_action_only() -> None:
    text = BOX.replace("phase: Across\n", "phase: Across\n- Be there early.\n")
    ((line, sentence), *_) = line_of(text, read(text))
    assert line == "- Be there early."
    assert sentence == (
        "A line with a dash belongs under an action, or under teach, errors, cautions or a"
        " language."
    )


HALF = """\
play: Salt Marsh
situation: half court
starts:
  1 at the top with the ball
  2 at the right wing
  3 at the left corner
  4 at the right short corner
  5 at the nail
phase: Overload
  1 dribbles to the right slot
  2 cuts to the right corner, when 1 goes
  1 passes to 2, when 2's run ends
phase: Through
  5 dives to the left block, when 2 catches
  3 runs to the left slot easy
  4 pops to the right wing decoy, 0.3 s after 5 goes
looks:
  2 to 5 on 5's dive, bounce
"""


def test_a_play_in_a_coachs_own_turns_of_phrase_is_read() -> None:
    """Who has the ball, "when 2 catches", "5's dive", "goes" of who then passes, "easy" without a
    comma: common practice, no source."""
    found = read(HALF)
    assert found.faults == ()
    play = found.play
    assert (play.ball, play.thrower) == ("1", None)
    by_id = {action.id: action for action in play.actions()}
    assert by_id["2-cut"].cues == (Cue(Moment.START, "1-dribble"),)
    assert by_id["5-cut"].cues == (Cue(Moment.END, "1-pass"),)
    assert by_id["4-cut"].cues == (Cue(Moment.START, "5-cut", wait=0.3),)
    assert (by_id["3-cut"].easy, by_id["4-cut"].decoy) == (True, True)
    assert play.looks[0].action == "5-cut"
    assert read(shorthand(play)).play == canonical(play)


@pytest.mark.parametrize(
    ("line", "instead", "told"),
    [
        ("when 2 catches", "when 3 catches", "No written pass or hand-off goes to the 3."),
        (
            "5 dives to the left block, when 2 catches",
            "2 passes to 1\\n  1 passes to 2\\n  5 dives to the left block, when 2 catches",
            "The 2 gets the ball 2 times.",
        ),
        ("when 1 goes", "when 1's dribble ends and 1's run ends", "The 1 has no such cut."),
    ],
)
def test_who_catches_has_to_be_plain(line: str, instead: str, told: str) -> None:
    assert line in HALF
    faults = read(HALF.replace(line, instead.replace("\\n", "\n"))).faults
    assert any(fault.sentence.startswith(told) for fault in faults), faults


@pytest.mark.parametrize(
    ("place", "court_key", "off"),
    [
        ("a step in front of the basket", "basket", 0.8),
        ("half a step behind the basket", "basket", -0.4),
        ("2 steps ahead of the back nail", "back_nail", -1.6),
        ("a step behind the back top", "back_top", 0.8),
    ],
)
def test_in_front_and_behind_go_toward_half_court_and_away_from_it(
    place: str, court_key: str, off: float
) -> None:
    """A step is 0.8 m (common practice, no source); y runs up the court from the baseline."""
    spot = named_spots(court(RuleSet.FIBA))[court_key]
    found = without("4 at the left block", f"4 at {place}").play.start_of("4")
    assert found == pytest.approx(Point(spot.x, spot.y + off), abs=5e-4)


def test_the_same_turns_are_read_in_spanish() -> None:
    said = "jugada: Uno\nfase: A\n4 corta a un paso por delante de la canasta\nfase: B\n"
    said += "1 pasa a 2\n5 corta a la cabecera, cuando 2 recibe\n"
    play = read(said).play
    basket = named_spots(court(RuleSet.FIBA))["basket"]
    by_id = {action.id: action for action in play.actions()}
    assert by_id["4-cut"].path[-1] == pytest.approx((basket.x, basket.y + 0.8), abs=5e-4)
    assert by_id["5-cut"].cues == (Cue(Moment.END, "1-pass"),)
