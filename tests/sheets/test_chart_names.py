"""A chart of one maker's line names the line once."""

from __future__ import annotations

import pytest

from tests.sheets.conftest import pdf_of, text_of, tube
from tubewise.advice.cards.mixing_chart import mixing_chart
from tubewise.paints.shelf import Shelf
from tubewise.sheets import chart
from tubewise.sheets.chart import shared_beginning


@pytest.mark.parametrize(
    ("titles", "line", "left"),
    [
        (["Oakfen Fen Rose", "Oakfen Fen Blue Deep"], "Oakfen Fen", ["Rose", "Blue Deep"]),
        (["Oakfen Rose", "Sillmere Rose"], "", ["Oakfen Rose", "Sillmere Rose"]),
        (["PB29", "PB29"], "", ["PB29", "PB29"]),
        (["Rose", "Rose Deep"], "", ["Rose", "Rose Deep"]),
    ],
)
def test_what_all_titles_share_is_said_once(titles: list[str], line: str, left: list[str]) -> None:
    assert shared_beginning(titles) == (line, left)


def test_a_chart_of_one_line_says_so_and_heads_its_columns_with_names() -> None:
    tubes = [tube("Rose", "PV19 gamma"), tube("Ultramarine", "PB29")]
    words = text_of(pdf_of(chart.pages, mixing_chart([t.id for t in tubes], Shelf(tubes))))
    assert "All tubes are Oakfen Fenland." in words
    assert "1 Rose PV19/gamma" in words and words.count("Oakfen") == 1
