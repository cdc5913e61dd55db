"""How a swatch was read: with the mirror reflection of its skin, or without."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.invented import tube
from tests.tubes.files_for_tests import problems, written
from tubewise.paints.shelf import Shelf, swatch_as_shown
from tubewise.tubes.catalogue import read_boxes, read_catalogue, write_catalogue
from tubewise.tubes.completed import complete


@pytest.mark.parametrize(
    ("cell", "geometry"),
    [
        ("", ""),
        ("excluded", "excluded"),
        ("Included", "included"),
        ("d/8 SCI", "included"),
        ("SCE", "excluded"),
        ("45/0", "excluded"),
        ("flatbed scanner", "excluded"),
        ("photograph", "excluded"),
    ],
)
def test_a_catalogue_says_how_its_swatches_were_read(
    cell: str, geometry: str, tmp_path: Path
) -> None:
    text = f'name,label,swatch_lab,swatch geometry\nRose,PV19,"41, 38, -12",{cell}\n'
    (rose,) = read_catalogue(written(tmp_path, text))
    assert rose.swatch_geometry == geometry
    write_catalogue(tmp_path / "again.csv", [rose])
    assert read_catalogue(tmp_path / "again.csv") == [rose]


def test_a_box_says_it_too(tmp_path: Path) -> None:
    text = 'seat,name,label,swatch_lab,swatch_geometry\n1,Rose,PV19,"41, 38, -12",included\n'
    ((rose,),) = [box.tubes for box in read_boxes(written(tmp_path, text))]
    assert rose.swatch_geometry == "included"


def test_what_nobody_understands_is_refused_with_what_to_write(tmp_path: Path) -> None:
    (problem,) = problems(
        written(tmp_path, "name,label,swatch_geometry\nRose,PV19,in the kitchen\n")
    )
    assert "excluded (45/0" in problem


def test_a_row_with_a_swatch_of_its_own_keeps_how_it_was_read() -> None:
    listed = tube("Rose", "PV19", swatch_lab=(41.0, 38.0, -12.0), swatch_geometry="included")
    own = tube("Rose", "", swatch_lab=(40.0, 39.0, -11.0))
    blank = tube("Rose", "")
    assert complete(own, [listed]).swatch_geometry == ""
    assert complete(blank, [listed]).swatch_geometry == "included"


def test_a_mirror_reflection_lightens_a_dark_swatch_and_hardly_a_light_one() -> None:
    dark, light = (
        tube("Any", "PB29", swatch_lab=lab) for lab in ((10.0, 15.0, -30.0), (90.0, 0.0, 10.0))
    )
    shown = swatch_as_shown(dark)
    assert shown is not None and shown[0] > 20.0
    shown = swatch_as_shown(light)
    assert shown is not None and shown[0] == pytest.approx(91.0, abs=0.6)
    told = tube("Any", "PB29", swatch_lab=(10.0, 15.0, -30.0), swatch_geometry="included")
    shown = swatch_as_shown(told)
    assert shown is not None and shown.tolist() == pytest.approx([10.0, 15.0, -30.0])


def test_a_swatch_read_otherwise_than_said_is_asked_about() -> None:
    # PB29 as a 45/0 instrument reads it: with its mirror reflection it could not be so deep.
    deep = (7.4, 43.0, -50.6)
    right = tube("Ultramarine", "PB29", swatch_lab=deep)
    wrong = tube("Ultramarine Blue", "PB29", swatch_lab=deep, swatch_geometry="included")
    shelf = Shelf([wrong, right])
    paint = shelf.tube(right)
    assert paint is not None and not paint.contradicted
    paint = shelf.tube(wrong)
    assert paint is not None and paint.contradicted
    assert any("specular part excluded?" in note for note in paint.notes)
