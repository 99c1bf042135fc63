"""The terms of the trade: what each means, and what a team of beginners is told instead.

One table for the glossary that players open and for the vocabulary of plain words, so that no
term is explained and then not spared, or spared and never explained.
"""

from __future__ import annotations

from types import MappingProxyType
from typing import Final

from plays.core.drawing import legend, titles
from plays.core.glossary.places import PLACES
from plays.core.glossary.term import TradeTerm
from plays.core.play import Cut, Defence, PassKind, ScreenStyle
from plays.core.words import looks, moves, waits
from plays.core.words.reads import ONE, SEVERAL, YOURS
from plays.core.words.terms import LOOKS, THEY, WHEN_THEY
from shared.core.language import N_, Vocabulary

RUNS: Final = (
    TradeTerm(
        N_("pop"),
        N_("After your screen, step out from the basket to get the ball."),
        {moves.CUTS[Cut.POP]: N_("Step out to {place}.")},
    ),
    TradeTerm(
        N_("roll"),
        N_("After your screen, turn and run to the basket."),
        {moves.CUTS[Cut.ROLL]: N_("Turn and run to {place}.")},
    ),
    TradeTerm(
        N_("slip"),
        N_("Go to the basket just before you would set the screen."),
        {moves.CUTS[Cut.SLIP]: N_("Do not stop to screen: run to {place}.")},
    ),
    TradeTerm(
        N_("seal"),
        N_("Keep your defender behind your back, so that the pass can come to you."),
        {moves.CUTS[Cut.SEAL]: N_("Hold your defender behind your back at {place}.")},
    ),
    TradeTerm(
        N_("post up"),
        N_("Stand near the basket with your back to it, and ask for the ball."),
        {moves.CUTS[Cut.POST_UP]: N_("Stand with your back to the basket at {place}.")},
    ),
    TradeTerm(
        N_("curl"),
        N_("Run close round the screen and on to the basket."),
        {moves.CUTS[Cut.CURL]: N_("Run in a tight bend to {place}.")},
    ),
    TradeTerm(
        N_("fade"),
        N_("Drift back from the screen, out to where you can shoot."),
        {moves.CUTS[Cut.FADE]: N_("Move back to {place}.")},
    ),
    TradeTerm(
        N_("clear out"),
        N_("Run away from a place, so that it is empty for somebody else."),
        {moves.CUTS[Cut.CLEAR_OUT]: N_("Run out of the way to {place}.")},
    ),
)
_SCREEN: Final = moves.SCREENS[ScreenStyle.OTHER]
SCREENS: Final = (
    TradeTerm(
        N_("down screen"),
        N_("A screen for someone who comes up from the baseline."),
        {moves.SCREENS[ScreenStyle.DOWN]: _SCREEN},
    ),
    TradeTerm(
        N_("cross screen"),
        N_("A screen from one side of the lane to the other."),
        {moves.SCREENS[ScreenStyle.CROSS]: _SCREEN},
    ),
    TradeTerm(
        N_("flare screen"),
        N_("A screen for someone who runs away from the ball, out to the arc."),
        {moves.SCREENS[ScreenStyle.FLARE]: _SCREEN},
    ),
    TradeTerm(
        N_("back screen"),
        N_("A screen set behind a defender, who does not see it come."),
        {moves.SCREENS[ScreenStyle.BACK]: N_("Screen for {whom} behind the defender, at {place}.")},
    ),
    TradeTerm(
        N_("ball screen"),
        N_("A screen for the one who has the ball."),
        {moves.SCREENS[ScreenStyle.BALL]: _SCREEN},
    ),
    TradeTerm(
        N_("double screen"),
        N_("Two people screen side by side."),
        {
            moves.USE_DOUBLE: N_("Run close past the two screens by {who}."),
            moves.DOUBLE_FOR: N_("Together you screen for {whom}."),
        },
    ),
    TradeTerm(
        N_("gate"),
        N_("Two people stand apart, let a third run through, and close it."),
        {
            moves.USE_GATE: N_("Run through the gap between {who}."),
            moves.GATE_OPEN: N_("Make a gap with {partners} at {place}."),
            moves.GATE_CLOSE: N_("Close the gap behind {whom} at {place}."),
            moves.GATE_CLOSE_WITH: N_("Close the gap with {partners} behind {whom} at {place}."),
            waits.KEEP_OPEN: N_("Keep the gap open until {event}."),
            waits.KEEP_SHUT: N_("Keep the gap shut until {event}."),
            waits.OPEN_PAUSE: N_("Keep the gap open for {time}."),
            waits.SHUT_PAUSE: N_("Keep the gap shut for {time}."),
            waits.OPENED_FOR_YOU: N_("{who} has made the gap for you"),
            waits.OPENED_FOR: N_("{who} has made the gap for {whom}"),
            waits.ALL_OPENED_FOR_YOU: N_("{who} have made the gap for you"),
            waits.ALL_OPENED_FOR: N_("{who} have made the gap for {whom}"),
            waits.SHUT_BEHIND_YOU: N_("{who} has closed the gap behind you"),
            waits.SHUT_BEHIND: N_("{who} has closed the gap behind {whom}"),
            waits.OPENS: N_("{who} goes to {place} to make the gap"),
            waits.CLOSES: N_("{who} starts to close the gap"),
            waits.LEAVES_GATE: N_("{who} leaves the gap at {place}"),
            legend.OPENS: N_("gap opens"),
            legend.CLOSES: N_("gap closes"),
        },
    ),
)
BALL: Final = (
    TradeTerm(
        N_("lob"),
        N_("A high pass over a defender."),
        {
            moves.PASSES[PassKind.LOB]: N_("Throw a high pass to {whom} at {place}."),
            moves.THROW_INS[PassKind.LOB]: N_(
                "Throw the ball in with a high pass to {whom} at {place}."
            ),
            looks.READ[PassKind.LOB]: N_("High pass to {whom} at {place}."),
            looks.BE_READY[PassKind.LOB]: N_("Be ready for a high pass from {who}."),
            LOOKS[PassKind.LOB]: N_("{passer} to {receiver}, high pass"),
            legend.LOB: N_("high pass"),
        },
    ),
    TradeTerm(
        N_("hand-off"),
        N_("The ball goes from hand to hand, without a pass."),
        {
            moves.TAKE: N_("Take the ball from {who} at {place}."),
            legend.HANDOFF: N_("from hand to hand"),
        },
    ),
)
DEFENCE: Final = (
    TradeTerm(
        N_("switching"),
        N_("Two defenders swap whom they guard."),
        {
            THEY[Defence.SWITCH]: N_("They swap whom they guard"),
            WHEN_THEY[Defence.SWITCH]: N_("When they swap whom they guard"),
            YOURS[Defence.SWITCH]: N_("When your defender leaves you to guard somebody else"),
            ONE[Defence.SWITCH]: N_("When the defender of {who} goes to guard somebody else"),
            SEVERAL[Defence.SWITCH]: N_("When the defenders of {who} swap whom they guard"),
            ONE[Defence.CHASE]: N_("When the defender of {who} stays with them"),
            SEVERAL[Defence.CHASE]: N_("When the defenders of {who} stay with them"),
            titles.TITLES[Defence.SWITCH]: N_("{play}: {phase}, when they swap whom they guard"),
        },
    ),
    TradeTerm(
        N_("fronting"),
        N_("A defender stands between the ball and somebody near the basket."),
        {
            THEY[Defence.FRONT]: N_("They stand in front"),
            WHEN_THEY[Defence.FRONT]: N_("When they stand in front"),
            titles.TITLES[Defence.FRONT]: N_("{play}: {phase}, when they stand in front"),
        },
    ),
    TradeTerm(
        N_("trapping"),
        N_("Two defenders go to the one who has the ball."),
        {
            THEY[Defence.TRAP]: N_("Two of them go to the ball"),
            WHEN_THEY[Defence.TRAP]: N_("When two of them go to the ball"),
            YOURS[Defence.TRAP]: N_("When your defender goes to the ball too"),
            ONE[Defence.TRAP]: N_("When the defender of {who} goes to the ball too"),
            SEVERAL[Defence.TRAP]: N_("When the defenders of {who} go to the ball too"),
            titles.TITLES[Defence.TRAP]: N_("{play}: {phase}, when two of them go to the ball"),
        },
    ),
    TradeTerm(
        N_("sagging off"),
        N_("A defender stands back, closer to the basket."),
        {
            THEY[Defence.SAG]: N_("They stand back"),
            WHEN_THEY[Defence.SAG]: N_("When they stand back"),
            YOURS[Defence.SAG]: N_("When your defender stands back"),
            ONE[Defence.SAG]: N_("When the defender of {who} stands back"),
            SEVERAL[Defence.SAG]: N_("When the defenders of {who} stand back"),
            titles.TITLES[Defence.SAG]: N_("{play}: {phase}, when they stand back"),
        },
    ),
    TradeTerm(
        N_("denying the pass"),
        N_("A defender stands where the pass would go."),
        {
            THEY[Defence.DENY]: N_("They stand in the way of the pass"),
            WHEN_THEY[Defence.DENY]: N_("When they stand in the way of the pass"),
            YOURS[Defence.DENY]: N_("When your defender stands in the way of the pass"),
            ONE[Defence.DENY]: N_("When the defender of {who} stands in the way of the pass"),
            SEVERAL[Defence.DENY]: N_("When the defenders of {who} stand in the way of the pass"),
            titles.TITLES[Defence.DENY]: N_(
                "{play}: {phase}, when they stand in the way of the pass"
            ),
        },
    ),
)

GLOSSARY: Final[tuple[TradeTerm, ...]] = (*PLACES, *RUNS, *SCREENS, *BALL, *DEFENCE)
PLAIN: Final = Vocabulary(
    "plain",
    MappingProxyType({said: plain for term in GLOSSARY for said, plain in term.instead.items()}),
)
