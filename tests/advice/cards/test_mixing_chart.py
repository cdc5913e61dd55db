"""What the cells of a mixing chart show."""

from __future__ import annotations

import pytest

from tubewise.advice.cards.mixing_chart import STRONG_L, MixingChart, mixing_chart
from tubewise.errors import UserError
from tubewise.paints.mixing import mix
from tubewise.paints.shelf import Shelf

DARK = ("PB29", "PG7", "PV23", "PB15:3", "PV19/gamma", "PBr7/burnt-sienna")


def pairs(chart: MixingChart) -> list[tuple[int, int]]:
    count = len(chart.paints)
    return [(i, j) for i in range(count) for j in range(count) if i < j]


def test_a_cell_is_the_mixture_of_the_parts_that_are_written_on_it() -> None:
    shelf = Shelf()
    chart = mixing_chart(("PY3", "PG7"), shelf)
    row, column, white = (shelf.term(t) for t in ("PY3", "PG7", "PW6"))
    for i, j, paints in ((0, 1, [row, column, white]), (1, 0, [column, row, white])):
        parts = [int(n) for n in chart.cells[i][j].parts.split(" : ")]
        mixture = mix(paints[: len(parts)], parts)
        assert chart.cells[i][j].colour.hex == mixture.colour.hex
    assert chart.cells[0][0].colour.hex == mix([row], [1]).colour.hex
    assert chart.cells[0][0].parts == ""
    assert chart.tints[0].parts == "1 : 4"
    assert chart.tints[0].colour.hex == mix([row, white], [1, 4]).colour.hex


@pytest.mark.parametrize("medium", ["acrylic", "oil", "watercolour"])
def test_no_mixture_is_black_and_the_pale_one_is_paler(medium: str) -> None:
    chart = mixing_chart(DARK, Shelf(), medium=medium)
    for i, j in pairs(chart):
        strong, pale = chart.cells[i][j].colour, chart.cells[j][i].colour
        assert strong.lab[0] >= STRONG_L
        assert pale.lab[0] >= strong.lab[0] + 10.0


def test_a_strong_paint_does_not_drown_a_weak_one() -> None:
    chart = mixing_chart(("PY3", "PG7"), Shelf())
    yellow, green = chart.cells[0][1].parts.split(" : ")[:2]
    assert int(yellow) >= 4 and green == "1"
    # The pale mixture below is of the same parts, now the green's first.
    assert chart.cells[1][0].parts.startswith(f"1 : {yellow} : ")


@pytest.mark.parametrize("n", [1, 25])
def test_a_chart_takes_so_many_tubes(n: int) -> None:
    with pytest.raises(UserError, match="2 to 24"):
        mixing_chart(("PB29",) * n, Shelf())


def test_watercolours_mix_in_strong_and_pale_washes() -> None:
    """Common practice, no source."""
    chart = mixing_chart(("PB29", "PV19/gamma"), Shelf(), medium="watercolour")
    assert "of water" in chart.words and "white" not in chart.words
    strong, pale = chart.cells[0][1], chart.cells[1][0]
    assert strong.colour.lab[0] < pale.colour.lab[0]
    assert pale.colour.lab[1] > 0.0 > pale.colour.lab[2]
    assert all(len(cell.parts.split(" : ")) == 3 for cell in (strong, pale))
