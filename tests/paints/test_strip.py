"""Drawdown strips: a wash over a white card with a black band, without a kink at the gamut."""

from __future__ import annotations

import numpy as np
import pytest

from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.gamut import in_srgb, into_srgb
from tubewise.colour.hexes import lab_from_hex
from tubewise.colour.lab import lab_from_reflectance
from tubewise.optics.film import BLACK_GROUND, WHITE_GROUND, film_reflectance
from tubewise.optics.surface import measured_from_internal
from tubewise.paints.shelf import Shelf
from tubewise.paints.strip import THICKNESSES, strip, wash_labs
from tubewise.pigments.models import optics

SHELF = Shelf()
FILMS = SHELF.setting()
WASHES = SHELF.setting("watercolour")
# Their washes leave what a screen can show.
VIVID = ("PB15:3", "PG7", "PG36", "PY74", "PY35/light", "PO73")


def sharpest_bend(path: Floats) -> float:
    """The largest change from one step of a path through CIELAB to the next."""
    return float(np.linalg.norm(np.diff(path, 2, axis=0), axis=1).max())


def as_it_is(ref: str, ground: float) -> Floats:
    found = optics(ref)
    R = film_reflectance(found.K, found.S, THICKNESSES[:, None], ground)
    return lab_from_reflectance(measured_from_internal(R))


@pytest.mark.parametrize("ref", VIVID)
def test_a_wash_has_no_kink_where_it_leaves_the_screens_gamut(ref: str) -> None:
    paint = as_it_is(ref, WHITE_GROUND)
    assert not in_srgb(paint).all()
    shown = wash_labs(optics(ref).K, optics(ref).S, WHITE_GROUND)
    assert in_srgb(shown).all()
    # No sharper than 1.6 times as the own path of the paint bends; colour by colour, the mapping
    # bends it more sharply than that, up to six times.
    assert sharpest_bend(shown) < 1.6 * sharpest_bend(paint)
    assert sharpest_bend(into_srgb(paint)) > 1.6 * sharpest_bend(paint)


@pytest.mark.parametrize("ref", ["PV19/gamma", "PB29", "PBr7/raw-umber", "PW6"])
def test_a_wash_that_a_screen_can_show_is_shown_as_it_is(ref: str) -> None:
    shown = wash_labs(optics(ref).K, optics(ref).S, WHITE_GROUND)
    np.testing.assert_allclose(shown, as_it_is(ref, WHITE_GROUND), atol=1e-9)


def test_a_wash_runs_out_on_the_card() -> None:
    white = lab_from_reflectance(np.full(36, 0.80))
    black = wash_labs(optics("PW6").K, optics("PW6").S, BLACK_GROUND)
    assert lab_from_hex(strip(SHELF.pigment("PV19/gamma"), FILMS).over_white[-1])[0] > 80.0
    assert lab_from_hex(strip(SHELF.pigment("PW6"), FILMS).over_white[-1])[0] == pytest.approx(
        white[0], abs=1.5
    )
    # Titanium white hides the black band where the film is thick, and shows it where it is thin.
    assert black[0][0] > 95.0 and black[-1][0] < 45.0


def test_a_strip_begins_with_the_paint_alone_and_its_tints_grow_paler() -> None:
    drawn = strip(SHELF.pigment("PR108"), FILMS)
    assert lab_from_hex(drawn.masstone)[0] == pytest.approx(43.0, abs=1.5)
    lightness = [lab_from_hex(colour)[0] for colour in drawn.tints]
    assert lightness == sorted(lightness)


@pytest.mark.parametrize("ref", ["PB29", "PG7", "PV19/gamma", "PV23", "PY3", "PR108", "PW6"])
def test_the_wash_meets_the_paint_alone_without_a_seam(ref: str) -> None:
    drawn = strip(SHELF.pigment(ref), FILMS)
    seam = delta_e_2000(lab_from_hex(drawn.masstone), lab_from_hex(drawn.over_white[0]))
    assert seam < 1.5, drawn


@pytest.mark.parametrize("ref", ["PB29", "PB15:3", "PV19/gamma", "PBr7/burnt-sienna"])
def test_a_watercolour_is_a_wash_that_runs_out_on_paper(ref: str) -> None:
    """Common practice, no source."""
    drawn = strip(SHELF.pigment(ref), WASHES)
    lightness = [lab_from_hex(colour)[0] for colour in (drawn.masstone, *drawn.tints)]
    assert lightness == sorted(lightness)
    assert drawn.over_black == ()
    assert (
        lab_from_hex(drawn.over_white[0])[0] < 60.0 < 82.0 < lab_from_hex(drawn.over_white[-1])[0]
    )


def test_a_white_is_body_colour_among_watercolours_too() -> None:
    assert strip(SHELF.pigment("PW4"), WASHES).over_black
