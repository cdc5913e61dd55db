"""Mixtures and hiding."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tubewise.optics.film import DRAWDOWN_FILM
from tubewise.optics.hiding import contrast_ratio
from tubewise.optics.mixture import mix, shares

BANDS = np.linspace(0.0, 1.0, 36)
WHITE = (np.full(36, 0.001), np.ones(36))
BLUE = (8.0 * BANDS + 0.05, np.full(36, 0.2))


@given(st.lists(st.floats(0.01, 100.0), min_size=2, max_size=5))
def test_a_mixture_of_one_paint_with_itself_is_that_paint(parts: list[float]) -> None:
    K, S = mix(np.tile(BLUE[0], (len(parts), 1)), np.tile(BLUE[1], (len(parts), 1)), parts)
    np.testing.assert_allclose(K, BLUE[0])
    np.testing.assert_allclose(S, BLUE[1])


def test_one_part_to_three_is_a_quarter() -> None:
    K, S = mix([[4.0], [0.0]], [[0.0], [1.0]], [1, 3])
    assert (float(K[0]), float(S[0])) == (1.0, 0.75)


@given(st.floats(0.1, 50.0))
def test_only_proportions_matter(scale: float) -> None:
    np.testing.assert_allclose(shares([2.0, 6.0]), shares([2.0 * scale, 6.0 * scale]))


@pytest.mark.parametrize("bad", [[0.0, 0.0], [1.0, -1.0], [1.0, np.inf]])
def test_impossible_parts_are_refused(bad: list[float]) -> None:
    with pytest.raises(ValueError, match="parts"):
        shares(bad)


def test_white_hides_better_the_thicker_and_a_glaze_hides_nothing() -> None:
    ratios = [float(contrast_ratio(*WHITE, X=X)) for X in (0.5, 2.0, 5.0, DRAWDOWN_FILM)]
    assert ratios == sorted(ratios)
    assert ratios[-1] > 0.98
    glaze = (np.full(36, 0.01), np.full(36, 0.001))
    assert float(contrast_ratio(*glaze, X=1.0)) < 0.1


def test_an_opaque_black_hides_completely() -> None:
    assert float(contrast_ratio(np.full(36, 200.0), np.full(36, 1.0))) == pytest.approx(
        1.0, abs=1e-6
    )
