"""Names that mislead: three views of a catalogue."""

from __future__ import annotations

import pytest

from tests.web.conftest import Visitor


def test_one_name_on_many_paints(reader: Visitor) -> None:
    page = reader.get("/names?q=permanent+rose&medium=acrylic")
    assert "PR209" in page and "PV19" in page and "Lay them side by side" in page


def test_one_paint_under_many_names(reader: Visitor) -> None:
    page = reader.get("/names?view=pigment&q=PV23")
    assert "Mauve" in page and "Dioxazine Violet" in page


def test_promised_but_not_inside(reader: Visitor) -> None:
    assert "Cadmium Red" in reader.get("/names?view=hue&q=cadmium+red")


@pytest.mark.slow
def test_an_unknown_view_is_the_first(reader: Visitor) -> None:
    assert "One name, many paints" in reader.get("/names?view=other")


def test_nothing_found(reader: Visitor) -> None:
    assert "No such name" in reader.get("/names?q=xqzwv")
