"""What tactics and verdicts are called: one table for each."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from plays.core.defence.stance import Tactic
from plays.core.defence.verdict import Word
from shared.core.language import N_

TACTICS: Final[Mapping[Tactic, str]] = MappingProxyType(
    {
        Tactic.CHASE: N_("man to man, chase"),
        Tactic.SWITCH: N_("switch"),
        Tactic.SAG: N_("sag"),
        Tactic.JUMP: N_("jump to the ball"),
        Tactic.TIGHT: N_("man to man, tight"),
        Tactic.DENY: N_("deny"),
        Tactic.FRONT: N_("front the post"),
        Tactic.BEHIND: N_("behind the post"),
        Tactic.OVER: N_("over every screen"),
        Tactic.UNDER: N_("under every screen"),
        Tactic.TRAP: N_("trap the ball"),
        Tactic.ZONE: N_("2-3 zone"),
    }
)
DEFENCES: Final[Mapping[Tactic, str]] = MappingProxyType(
    {
        Tactic.CHASE: N_("a chasing defence"),
        Tactic.SWITCH: N_("a switching defence"),
        Tactic.JUMP: N_("a defence that jumps to the ball"),
        Tactic.TIGHT: N_("a tight defence"),
        Tactic.DENY: N_("a denying defence"),
        Tactic.FRONT: N_("a fronting defence"),
        Tactic.BEHIND: N_("a defence behind the post"),
        Tactic.OVER: N_("a defence that goes over screens"),
        Tactic.UNDER: N_("a defence that goes under screens"),
        Tactic.SAG: N_("a sagging defence"),
        Tactic.TRAP: N_("a trapping defence"),
        Tactic.ZONE: N_("a 2-3 zone"),
    }
)
WORDS: Final[Mapping[Word, str]] = MappingProxyType(
    {
        Word.OPEN: N_("open"),
        Word.CONTESTED: N_("contested"),
        Word.COVERED: N_("covered"),
        Word.PAST: N_("gone by its turn"),
        Word.NOT_YET: N_("not there yet"),
    }
)
