"""What a person can be told to do, in a coach's words."""

from __future__ import annotations

from django.utils.translation import gettext as _


def doings() -> tuple[tuple[str, str], ...]:
    """By the word that the browser sends."""
    return (
        ("place", _("starts here")),
        ("cut", _("cuts")),
        ("screen", _("screens")),
        ("gate", _("opens a gate")),
        ("pass", _("passes")),
        ("dribble", _("dribbles")),
        ("handoff", _("hands off")),
        ("shot", _("shoots")),
        ("hold", _("holds")),
        ("look", _("is a look")),
        ("way", _("goes another way")),
    )


def throws() -> tuple[tuple[str, str], ...]:
    """How a pass is thrown."""
    return (
        ("direct", _("direct")),
        ("bounce", _("bounce")),
        ("lob", _("lob")),
        ("overhead", _("overhead")),
    )


def joints() -> tuple[tuple[str, str], ...]:
    """How two who screen for the same cutter work together."""
    return (
        ("double", _("side by side")),
        ("stagger", _("one after the other")),
        ("gate", _("as a gate")),
    )


def cuts() -> tuple[tuple[str, str], ...]:
    """How a cut is run, or what it is for."""
    return (
        ("straight", _("straight")),
        ("curl", _("curls")),
        ("fade", _("fades")),
        ("pop", _("pops")),
        ("roll", _("rolls")),
        ("slip", _("slips")),
        ("seal", _("seals")),
        ("post_up", _("posts up")),
        ("clear_out", _("clears out")),
    )
