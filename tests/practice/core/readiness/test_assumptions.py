"""The parameters of readiness in words and in JSON: each bound, each refusal. Our own rules."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from practice.core.readiness.assumptions import (
    ORIGINS,
    Assumptions,
    Offsets,
    check_assumptions,
    from_json,
    to_json,
)
from practice.core.readiness.calibration import PRIORS
from practice.core.reps.rep import Mode
from shared.core.finding import Finding, Severity
from shared.core.language import ENGLISH

DEFAULTS = Assumptions()


@pytest.mark.parametrize(
    ("name", "odd", "sentence"),
    [
        ("decay", 1.51, "“{says}” must lie between 0.05 and 1.5."),
        ("massing", 0.09, "“{says}” must lie between 0.1 and 1."),
        ("threshold", -5.1, "“{says}” must lie between -5 and 3."),
        ("youngest", 0.0009, "“{says}” must lie between 0.001 and 2."),
        ("ready", float("inf"), "“{says}” must lie between 0.05 and 0.99."),
        ("ready", float("nan"), "“{says}” must lie between 0.05 and 0.99."),
    ],
)
def test_a_parameter_out_of_its_range_is_told_with_the_range(
    name: str, odd: float, sentence: str
) -> None:
    found = check_assumptions(replace(DEFAULTS, **{name: odd}), ENGLISH)
    assert found == (
        Finding(
            "out_of_range", Severity.SERIOUS, f"/{name}", sentence.format(says=ORIGINS[name].says)
        ),
    )


@pytest.mark.parametrize("name", sorted(ORIGINS))
def test_the_ends_of_a_range_belong_to_it(name: str) -> None:
    origin = ORIGINS[name]
    for value in (origin.low, origin.high):
        found = check_assumptions(replace(DEFAULTS, **{name: value}), ENGLISH)
        assert "out_of_range" not in [one.code for one in found]
    for value in (origin.low - 1e-9, origin.high + 1e-9):
        found = check_assumptions(replace(DEFAULTS, **{name: value}), ENGLISH)
        assert found[0].place == f"/{name}"


def test_every_range_is_as_it_was_chosen() -> None:
    """Our choice, all of them: who widens one has to want it."""
    assert {name: (origin.low, origin.high) for name, origin in ORIGINS.items()} == {
        "decay": (0.05, 1.5),
        "massing": (0.1, 1.0),
        "walk_through": (0.0, 2.0),
        "half_speed": (0.0, 2.0),
        "live": (0.1, 2.0),
        "game": (0.0, 2.0),
        "error": (0.0, 1.0),
        "spread": (0.05, 2.0),
        "threshold": (-5.0, 3.0),
        "youngest": (0.001, 2.0),
        "carried": (0.0, 2.0),
        "ready": (0.05, 0.99),
    }


def test_what_is_fitted_could_be_typed_in_too() -> None:
    """A fit that a page refuses could not be kept: the limits of fitting lie within the ranges."""
    for name, _, (low, high) in PRIORS:
        assert ORIGINS[name].low <= low < getattr(DEFAULTS, name) < high <= ORIGINS[name].high


def test_the_order_of_modes_is_asked_about_and_not_refused() -> None:
    assert check_assumptions(replace(DEFAULTS, walk_through=1.1), ENGLISH) == (
        Finding(
            "modes_order",
            Severity.NOTE,
            "/walk_through",
            "A walk-through rep is worth more than a live one: is that meant?",
        ),
    )


def test_all_parameters_go_by_name() -> None:
    assert to_json(DEFAULTS) == {
        "decay": 0.5,
        "massing": 0.5,
        "walk_through": 0.3,
        "half_speed": 0.6,
        "live": 1.0,
        "game": 1.0,
        "error": 0.5,
        "spread": 0.45,
        "threshold": 0.0,
        "youngest": 0.25,
        "carried": 0.0,
        "ready": 0.6,
    }
    assert from_json({}) == DEFAULTS


@pytest.mark.parametrize(
    ("name", "value", "kind", "message"),
    [
        ("speed", 1, ValueError, "'speed' is no parameter of readiness"),
        ("decay", "0.5", TypeError, "'decay' must be a number"),
        ("decay", True, TypeError, "'decay' must be a number"),
        ("decay", None, TypeError, "'decay' must be a number"),
    ],
)
def test_what_is_no_parameter_is_refused_by_name(
    name: str, value: object, kind: type[Exception], message: str
) -> None:
    with pytest.raises(kind, match=f"^{re.escape(message)}$"):
        from_json({"spread": 0.5, name: value})


def test_a_whole_number_is_read_as_one_with_a_fraction() -> None:
    read = from_json({"decay": 1})
    assert isinstance(read.decay, float)


def test_a_rep_with_an_error_is_worth_its_share_of_the_mode() -> None:
    own = Assumptions(half_speed=0.6, live=1.0, game=0.8, error=0.25)
    assert own.worth(Mode.HALF_SPEED, clean=True) == 0.6
    assert own.worth(Mode.HALF_SPEED, clean=False) == pytest.approx(0.15)
    assert own.worth(Mode.GAME, clean=True) == 0.8


def test_what_is_harder_for_a_player_adds_to_what_is_harder_in_a_play() -> None:
    offsets = Offsets({"ada": 0.3}, {"lantern": -0.1})
    assert offsets.of("ada", "lantern") == pytest.approx(0.2)
    assert offsets.of("ada", "anchor") == 0.3
    assert offsets.of("bo", "lantern") == -0.1
    assert offsets.of("bo", "anchor") == 0.0
