"""How far and in which way a mixture misses its target."""

from __future__ import annotations

import pytest

from tubewise.advice.recipes.miss import miss_words


@pytest.mark.parametrize(
    ("lab", "said"),
    [
        ((50, 40, 0), "on the target"),
        ((50, 30, 0), "as light and of the same hue, but duller by 10"),
        ((60, 40, 0), "of the same hue and as clean, but lighter by 10"),
        ((50, 0, 40), "as light and as clean, but turned in hue by 90 degrees"),
    ],
)
def test_the_way_it_misses(lab: tuple[int, int, int], said: str) -> None:
    assert miss_words((50, 40, 0), lab) == said
