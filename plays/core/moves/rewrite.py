"""A play with every place, or every free text, put through one function.

Moves and court maps are built on this, so that none of them forgets a place: starts, paths,
looks, drawn defenders, and the actions and looks of counters. The spot is the mover's own.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from plays.core.play import Action, Counter, Look, Phase, Play, Point

Place = Callable[[Point], Point]
Text = Callable[[str], str]


def with_places(play: Play, place: Place) -> Play:
    """The play with every coordinate put through ``place``."""
    return replace(
        play,
        starts=tuple(replace(start, at=place(start.at)) for start in play.starts),
        phases=tuple(
            replace(phase, actions=_actions(phase.actions, place)) for phase in play.phases
        ),
        looks=_looks(play.looks, place),
        counters=tuple(_counter(counter, place) for counter in play.counters),
        defenders=tuple(
            replace(defender, at=_maybe(defender.at, place)) for defender in play.defenders
        ),
    )


def with_texts(play: Play, text: Text) -> Play:
    """The play with its free texts put through ``text``; names, calls and ids are kept.

    What a text is in another language goes along, and is still found by it.
    """
    return replace(
        play,
        phases=tuple(_phase_texts(phase, text) for phase in play.phases),
        looks=_look_texts(play.looks, text),
        counters=tuple(
            replace(
                counter,
                says=text(counter.says),
                replace=_action_texts(counter.replace, text),
                add=_action_texts(counter.add, text),
                looks=_look_texts(counter.looks, text),
            )
            for counter in play.counters
        ),
        use=text(play.use),
        teach=_each(play.teach, text),
        errors=_each(play.errors, text),
        cautions=_each(play.cautions, text),
        translations=tuple(
            replace(each, text=text(each.text), said=text(each.said)) for each in play.translations
        ),
    )


def texts(play: Play) -> tuple[str, ...]:
    """The free texts that ``with_texts`` would touch: as entered, in the order of the document,
    then in other languages."""
    found: list[str] = []

    def note(text: str) -> str:
        found.append(text)
        return text

    with_texts(replace(play, translations=()), note)
    return (*found, *(each.said for each in play.translations))


def _actions(actions: tuple[Action, ...], place: Place) -> tuple[Action, ...]:
    return tuple(
        replace(action, path=tuple(place(point) for point in action.path)) for action in actions
    )


def _looks(looks: tuple[Look, ...], place: Place) -> tuple[Look, ...]:
    return tuple(replace(look, at=_maybe(look.at, place)) for look in looks)


def _counter(counter: Counter, place: Place) -> Counter:
    return replace(
        counter,
        replace=_actions(counter.replace, place),
        add=_actions(counter.add, place),
        looks=_looks(counter.looks, place),
    )


def _maybe(point: Point | None, place: Place) -> Point | None:
    return None if point is None else place(point)


def _each(lines: tuple[str, ...], text: Text) -> tuple[str, ...]:
    return tuple(text(line) for line in lines)


def _action_texts(actions: tuple[Action, ...], text: Text) -> tuple[Action, ...]:
    return tuple(replace(action, teach=_each(action.teach, text)) for action in actions)


def _phase_texts(phase: Phase, text: Text) -> Phase:
    return replace(phase, title=text(phase.title), actions=_action_texts(phase.actions, text))


def _look_texts(looks: tuple[Look, ...], text: Text) -> tuple[Look, ...]:
    return tuple(replace(look, condition=text(look.condition)) for look in looks)
