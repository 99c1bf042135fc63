"""Logistic regression with priors, held to statsmodels."""

from __future__ import annotations

import numpy as np
import pytest
import statsmodels.api as sm

from practice.core.logistic import logistic, penalised


def test_without_priors_the_fit_is_that_of_statsmodels() -> None:
    draw = np.random.default_rng(1)
    design = np.column_stack([np.ones(200), draw.normal(size=(200, 2))])
    there = (draw.random(200) < 0.5).astype(float)
    found = penalised(design, there, np.ones(len(there)), np.zeros(3), np.full(3, 1e6))
    assert found == pytest.approx(sm.Logit(there, design).fit(disp=0).params, abs=1e-6)


def test_with_priors_the_fit_is_the_ridge_of_statsmodels() -> None:
    draw = np.random.default_rng(2)
    design = np.column_stack([np.ones(120), draw.normal(size=(120, 3))])
    there = (draw.random(120) < 0.6).astype(float)
    spread = np.array([1.5, 0.5, 0.5, 0.5])
    # statsmodels penalises half the squares by alpha, of the mean log-likelihood.
    model = sm.GLM(there, design, family=sm.families.Binomial())
    ridge = model.fit_regularized(alpha=spread**-2 / 120, L1_wt=0.0).params
    assert penalised(design, there, np.ones(len(there)), np.zeros(4), spread) == pytest.approx(
        ridge, abs=1e-4
    )


def test_counts_are_as_many_rows() -> None:
    draw = np.random.default_rng(4)
    design = np.column_stack([np.ones(40), draw.normal(size=40)])
    total = draw.integers(1, 6, 40)
    clean = draw.binomial(total, 0.6)
    each = np.repeat(design, total, axis=0)
    there = np.concatenate([[1.0] * c + [0.0] * (t - c) for c, t in zip(clean, total, strict=True)])
    priors = np.zeros(2), np.full(2, 0.7)
    by_count = penalised(design, clean.astype(float), total.astype(float), *priors)
    assert by_count == pytest.approx(penalised(each, there, np.ones(len(there)), *priors), abs=1e-9)


def test_far_out_nothing_overflows() -> None:
    assert logistic(np.array([-1e9, 0.0, 1e9])) == pytest.approx([0.0, 0.5, 1.0])
