"""Blends whose parts nobody knows: what the label's order and the name say of them."""

from __future__ import annotations

import numpy as np
import pytest

from tests.invented import tube
from tubewise.colour.difference import delta_e_2000
from tubewise.optics.swatch import masstone_lab
from tubewise.paints.appearance import lab_alone
from tubewise.paints.paint import pigment_stack, seeded
from tubewise.paints.shelf import Shelf
from tubewise.paints.unknown_parts import aimed_at, plausible_shares, without_swatch


def _optics(*refs: str) -> tuple[np.ndarray, np.ndarray]:
    found = [pigment_stack(ref) for ref in refs]
    return np.stack([s.K[0] for s in found]), np.stack([s.S[0] for s in found])


def test_shares_sum_to_one_and_spread() -> None:
    shares = plausible_shares(*_optics("PY3", "PG7"), seeded("t"), 51)
    assert shares.shape == (51, 2)
    np.testing.assert_allclose(shares.sum(axis=1), 1.0)
    low, high = np.percentile(shares[1:, 1], [5, 95])
    assert high > 4.0 * low


def test_the_listed_order_is_by_quantity_as_often_as_stated() -> None:
    """A prior, not a law: about four in five draws fall in the label's order."""
    K, S = _optics("PBr7/burnt-umber", "PY42", "PBk9")
    shares = plausible_shares(K, S, seeded("t"), 501, ordered=True)[1:]
    falling = (np.diff(shares, axis=1) <= 0.0).all(axis=1).mean()
    assert 0.72 < falling < 0.88
    free = plausible_shares(K, S, seeded("t"), 501)[1:]
    assert (np.diff(free, axis=1) <= 0.0).all(axis=1).mean() < 0.5


def test_the_name_says_the_aim() -> None:
    aim = aimed_at("Burnt Umber")
    assert aim is not None
    K, S = _optics("PBr7/burnt-umber", "PY42", "PBk9")
    made = [
        plausible_shares(K, S, seeded("t"), 101, ordered=True, aim=lab)[1:] for lab in (None, aim)
    ]
    free, aimed = (delta_e_2000(masstone_lab(c @ K, c @ S), aim) for c in made)
    assert np.median(aimed) < np.median(free)
    assert np.percentile(aimed, 95) < np.percentile(free, 95)


def test_what_a_name_promises_is_a_colour_of_that_form() -> None:
    umber, sienna = aimed_at("Burnt Umber"), aimed_at("Burnt Sienna")
    assert umber is not None and sienna is not None
    assert delta_e_2000(umber, sienna) > 5.0
    assert aimed_at("Spring Song") is None


def test_an_aim_that_the_pigments_never_reach_still_leaves_many_draws() -> None:
    K, S = _optics("PY3", "PW6")
    shares = plausible_shares(K, S, seeded("t"), 51, aim=np.array([20.0, 30.0, -60.0]))
    assert len(np.unique(shares[1:, 0])) > 12


def test_one_pigment_has_no_parts_to_know() -> None:
    stack = pigment_stack("PB29")
    made = without_swatch(stack.K[None], stack.S[None], seeded("t"))
    assert made.shares == (1.0,) and made.miss is None
    np.testing.assert_array_equal(made.K, stack.K)


@pytest.mark.parametrize("label", ["PW6, PW4", "PW6 PW4"])
def test_a_titanium_zinc_white_is_white_whatever_its_parts(label: str) -> None:
    white = tube("Titanium White", label, medium="oil")
    paint = Shelf([white]).tube(white)
    assert paint is not None and any("starting guess" in note for note in paint.notes)
    assert lab_alone(paint)[:, 0].min() > 88.0
    assert paint.shares[0] > paint.shares[1]
