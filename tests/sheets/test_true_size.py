"""Charts and ladders print at true size: 20 mm is 20 mm, measured on the finished page."""

from __future__ import annotations

import numpy as np
import pytest

from tests.sheets.conftest import DAY, pixels, text_of
from tubewise.advice.cards.mixing_chart import mixing_chart
from tubewise.advice.cards.shelf_labels import shelf_labels
from tubewise.advice.cards.tint_ladder import tint_ladder
from tubewise.errors import UserError
from tubewise.paints.shelf import Shelf
from tubewise.sheets import chart, labels, ladder
from tubewise.sheets.press import PNG_PPI
from tubewise.tubes.tube import Tube

ALL = ("PY3", "PY74", "PR108", "PR112", "PV19/gamma", "PV23", "PB29", "PB15:3", "PG7")


def size_mm(png: bytes, hex: str) -> tuple[float, float]:
    """Width and height in millimetres of the area of one colour."""
    colour = np.array([int(hex[i : i + 2], 16) for i in (1, 3, 5)])
    rows, columns = np.nonzero((pixels(png) == colour).all(axis=2))
    scale = 25.4 / PNG_PPI
    return (np.ptp(columns) + 1) * scale, (np.ptp(rows) + 1) * scale


@pytest.mark.slow
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_a_rung_is_20_mm_square(paper: str) -> None:
    made = tint_ladder(("PR108",), Shelf())
    (png,) = ladder.pages(made, paper, "png", DAY)
    # A hairline around the square eats a little of it.
    assert size_mm(png, made.rungs[0][0].colour.hex) == pytest.approx((20.0, 20.0), abs=0.4)


@pytest.mark.slow
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_half_of_a_charts_square_is_computed_and_half_is_left_to_paint(paper: str) -> None:
    made = mixing_chart(("PY3", "PB29"), Shelf())
    (png,) = chart.pages(made, paper, "png", DAY)
    # The sheet says the size of its squares; two tubes get the largest there are.
    (pdf,) = chart.pages(made, paper, "pdf", DAY)
    assert "Each square is 52 mm" in text_of(pdf)
    hex = made.cells[0][1].colour.hex
    assert size_mm(png, hex) == pytest.approx((26.0, 52.0), abs=0.4)
    page = pixels(png)
    colour = np.array([int(hex[i : i + 2], 16) for i in (1, 3, 5)])
    rows, columns = np.nonzero((page == colour).all(axis=2))
    right = columns.max() + round(1.0 / 25.4 * PNG_PPI)
    empty = page[rows.min() + 8 : rows.max() - 8, right : right + round(22.0 / 25.4 * PNG_PPI)]
    assert empty.min() == 255, "the half to paint is not empty"


@pytest.mark.slow
@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("many", [3, 6, 8])
def test_a_chart_uses_its_page(paper: str, many: int) -> None:
    made = mixing_chart(ALL[:many], Shelf())
    (png,) = chart.pages(made, paper, "png", DAY)
    dark = pixels(png).min(axis=2) < 250
    # The last line of the footer apart, paint reaches far down and across.
    columns = np.nonzero(dark.any(axis=0))[0]
    mm = 25.4 / PNG_PPI
    assert np.ptp(columns) * mm > 170.0
    squares = [np.nonzero(dark[:, c])[0].max() for c in columns[:5]]
    assert max(squares) * mm > 190.0


@pytest.mark.slow
def test_the_ruler_is_100_mm() -> None:
    (png,) = ladder.pages(tint_ladder(("PR108",), Shelf()), "a4", "png", DAY)
    dark = (pixels(png).max(axis=2) < 90).sum(axis=1)
    assert dark.max() * 25.4 / PNG_PPI == pytest.approx(100.0, abs=0.6)


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_eighteen_labels_fit_a_page(paper: str) -> None:
    tubes = [Tube(name=f"Blue {n}", label="PB29") for n in range(19)]
    made = shelf_labels(tubes)
    assert len(labels.pages(made[:18], paper, "svg", DAY)) == 1
    assert len(labels.pages(made, paper, "svg", DAY)) == 2


def test_a_large_chart_is_cut_into_even_pages() -> None:
    made = mixing_chart(ALL, Shelf())
    assert len(chart.pages(made, "a4", "svg", DAY)) == 4
    assert len(chart.pages(mixing_chart(ALL[:8], Shelf()), "letter", "svg", DAY)) == 1


@pytest.mark.parametrize("many", [0, 1, 25])
def test_a_chart_takes_2_to_24_tubes(many: int) -> None:
    with pytest.raises(UserError, match="2 to 24"):
        mixing_chart(["PB29"] * many, Shelf())


def test_a_ladder_needs_a_tube() -> None:
    with pytest.raises(UserError, match="1 to 40"):
        tint_ladder((), Shelf())


def test_below_the_diagonal_a_chart_is_lighter() -> None:
    made = mixing_chart(("PV23", "PG7", "PB29"), Shelf())
    for i in range(3):
        for j in range(i):
            assert made.cells[i][j].colour.lab[0] > made.cells[j][i].colour.lab[0] + 10.0
