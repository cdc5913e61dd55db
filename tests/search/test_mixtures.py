"""Very many mixtures at once, against the plain layers."""

from __future__ import annotations

import numpy as np
import pytest

from tests.search.conftest import random_paints
from tubewise.colour.lab import lab_from_reflectance
from tubewise.colour.lights import weights, white_xyz
from tubewise.optics.film import opaque_reflectance
from tubewise.optics.mixture import mix
from tubewise.optics.surface import Surface, measured_from_internal
from tubewise.search.mixtures import labs_of_mixtures

W = np.ascontiguousarray((weights("D65") / white_xyz("D65")).T)


@pytest.mark.parametrize("k", [1, 2, 3, 4])
@pytest.mark.parametrize("included", [True, False])
def test_colours_are_those_of_the_plain_layers(k, included):
    K, S = random_paints(9, 1)
    rng = np.random.default_rng(k)
    rows, shares = rng.integers(0, 9, (500, k)), rng.dirichlet(np.ones(k), 500)
    ours = labs_of_mixtures(K, S, rows, shares, W, specular_included=included)
    R = opaque_reflectance(*mix(K[rows], S[rows], shares))
    measured = measured_from_internal(R, Surface(specular_included=included))
    assert ours == pytest.approx(lab_from_reflectance(measured), abs=1e-8)


def test_more_than_four_paints_are_refused():
    K, S = random_paints(6, 1)
    with pytest.raises(ValueError, match="from 1 to 4"):
        labs_of_mixtures(K, S, np.zeros((2, 5), np.int64), np.full((2, 5), 0.2), W)
