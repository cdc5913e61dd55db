"""What the cells of a mixing chart show."""

from __future__ import annotations

import pytest

from tubewise.advice.cards.mixing_chart import TINT_WHITE, mixing_chart
from tubewise.errors import UserError
from tubewise.paints.mixing import mix
from tubewise.paints.shelf import Shelf


def test_above_the_diagonal_in_equal_parts_below_it_with_white() -> None:
    shelf = Shelf()
    chart = mixing_chart(("PY3", "PB29"), shelf)
    yellow, blue, white = (shelf.term(t) for t in ("PY3", "PB29", "PW6"))
    assert chart.cells[0][1].hex == mix([yellow, blue], [1, 1]).colour.hex
    assert chart.cells[1][0].hex == mix([blue, yellow, white], [1, 1, TINT_WHITE]).colour.hex
    assert chart.cells[0][0].hex == mix([yellow], [1]).colour.hex


@pytest.mark.parametrize("n", [1, 25])
def test_a_chart_takes_so_many_tubes(n: int) -> None:
    with pytest.raises(UserError, match="2 to 24"):
        mixing_chart(("PB29",) * n, Shelf())


def test_watercolours_mix_in_strong_and_middle_washes() -> None:
    """Common practice, no source."""
    chart = mixing_chart(("PB29", "PV19/gamma"), Shelf(), medium="watercolour")
    assert "in 12 of water" in chart.words and "white" not in chart.words
    strong, middle = chart.cells[0][1].lab, chart.cells[1][0].lab
    assert strong[0] < middle[0] and middle[1] > 0.0 > middle[2]
