"""Washes on paper. Expected colours of washes: common practice, no source."""

from __future__ import annotations

import numpy as np
import pytest

from tubewise.colour.lab import lab_from_reflectance, lch_from_lab
from tubewise.optics.mixture import mix
from tubewise.optics.surface import measured_from_internal
from tubewise.paints.shelf import Shelf
from tubewise.paints.wash import (
    PAPER,
    WASHES,
    is_water,
    lab_wash,
    parts_in_words,
    wash,
    water,
)


def test_paper_is_a_warm_white() -> None:
    L, a, b = lab_from_reflectance(measured_from_internal(PAPER))
    assert 94.0 < L < 97.0 and abs(a) < 1.5 and 0.0 < b < 5.0


@pytest.mark.parametrize("ref", ["PB29", "PB15:3", "PV19/gamma", "PBr7/burnt-sienna", "PBk9"])
def test_a_wash_goes_from_strong_to_the_light_of_the_paper(shelf: Shelf, ref: str) -> None:
    paint = shelf.pigment(shelf.pigment(ref).refs[0])
    light = [lab_wash(paint, parts)[0][0] for parts in WASHES.values()]
    assert light[0] < light[1] < light[2]
    gone = lab_wash(paint, 1e6)[0]
    np.testing.assert_allclose(gone, lab_from_reflectance(measured_from_internal(PAPER)), atol=0.1)


def test_a_transparent_wash_glows_where_an_opaque_film_is_nearly_black(shelf: Shelf) -> None:
    """A middle wash of phthalo blue is a clear light blue."""
    blue = shelf.pigment("PB15:3")
    L, C, hue = lch_from_lab(lab_wash(blue, WASHES["middle"])[0])
    assert L > 50.0 and C > 45.0 and 220.0 < hue < 280.0


def test_water_is_a_part_like_any_other(shelf: Shelf) -> None:
    """One part of paint and six of water make the wash 1 : 6."""
    blue, clear = shelf.pigment("PB15:3"), water()
    K, S = mix(np.stack([blue.K[0], clear.K[0]]), np.stack([blue.S[0], clear.S[0]]), [1.0, 6.0])
    np.testing.assert_allclose(wash(K, S), wash(blue.K[0], blue.S[0], 6.0), atol=1e-4)
    assert is_water(clear) and not is_water(blue)
    assert parts_in_words(1.0, 6.0) == "1 paint : 6 water"
