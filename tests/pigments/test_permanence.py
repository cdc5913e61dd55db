"""Permanence in the binder in hand. Ratings: ASTM D4302, D5067 (from memory)."""

from __future__ import annotations

import pytest

from tubewise.pigments.permanence import lightfastness


@pytest.mark.parametrize(
    ("refs", "medium", "category"),
    [
        (["PR122"], "acrylic", "I"),
        (["PR122"], "Aquarell", "III"),
        (["PV23"], "watercolour", "IV"),
        (["PV23"], "alkyd", "I"),
        (["PV23"], "acrylic gouache", "II"),
        (["PB29", "PR83"], "water-mixable oil", "III"),
        (["PB29"], "casein", "not rated"),
        (["PR57:1"], "oil", "fugitive"),
        (["PR122", "BV10"], "watercolour", "fugitive"),
        (["PB29", "PG58"], "acrylic", "not rated"),
        ([], "oil", "not rated"),
    ],
)
def test_the_weakest_pigment_decides_in_the_binder_in_hand(
    refs: list[str], medium: str, category: str
) -> None:
    assert lightfastness(refs, medium) == category


def test_without_a_medium_a_pigment_counts_as_it_lasts_least() -> None:
    assert lightfastness(["PR122"], "") == "III"
    assert lightfastness(["PB29"], "") == "I"
