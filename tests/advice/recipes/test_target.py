"""Targets: every way a person may say which colour they want."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from tests.invented import tube
from tubewise.advice.recipes.target import of_tube, read_spectrum, target
from tubewise.colour.hexes import lab_from_hex
from tubewise.errors import UserError
from tubewise.paints.shelf import Shelf


def test_lab_hex_munsell_and_pigments_are_understood(shelf: Shelf) -> None:
    np.testing.assert_allclose(target("lab:50,20,-30", shelf).lab, (50, 20, -30))
    np.testing.assert_allclose(target("#7a3b5c", shelf).lab, lab_from_hex("#7a3b5c"))
    assert target("munsell:5R 4/12", shelf).lab[0] == pytest.approx(41.2, abs=0.6)
    aim = target("PB29", shelf)
    assert aim.spectral and aim.lab[2] < -10


def test_a_tube_is_its_measured_swatch_where_it_has_one() -> None:
    known = tube("Rose", "PV19 (rose)", swatch_lab=(41.0, 50.0, 17.0), swatch_geometry="included")
    shelf = Shelf([known])
    np.testing.assert_allclose(target(known.id, shelf).lab, (41.0, 50.0, 17.0))


def test_a_swatch_without_its_mirror_reflection_is_aimed_at_as_predictions_show_it() -> None:
    known = tube("Rose", "PV19 (rose)", swatch_lab=(36.0, 57.0, 24.0))
    lab = target(known.id, Shelf([known])).lab
    # The reflection adds the same at every wavelength: lighter, and less of every colour.
    assert lab[0] > 38.0 and lab[1] < 55.0


def test_a_tube_without_pigments_is_its_swatch_and_without_either_refused() -> None:
    blank = tube("Lilac", "", swatch_lab=(60.0, 20.0, -20.0))
    shown = tube("Pink", "", swatch_hex="#e8a0b0")
    nothing = tube("Grey", "")
    shelf = Shelf([blank, shown, nothing])
    assert not of_tube(blank, shelf).spectral
    assert of_tube(shown, shelf).lab[0] > 60
    with pytest.raises(UserError, match="not known"):
        of_tube(nothing, shelf)


def test_a_spectrum_file_in_percent_or_fractions(tmp_path: Path, shelf: Shelf) -> None:
    rows = [(nm, 10 + (nm - 400) / 10) for nm in range(400, 701, 10)]
    (tmp_path / "a.csv").write_text("nm,percent\n" + "\n".join(f"{n},{r}" for n, r in rows))
    (tmp_path / "b.csv").write_text("\n".join(f"{n},{r / 100}" for n, r in rows))
    a, b = read_spectrum(tmp_path / "a.csv"), read_spectrum(tmp_path / "b.csv")
    np.testing.assert_allclose(a, b)
    assert a.shape == (36,)
    assert target(str(tmp_path / "a.csv"), shelf).spectral


def spectrum(values: str = "0.2", start: int = 400, stop: int = 710, sep: str = ",") -> str:
    return "nm" + sep + "R\n" + "\n".join(f"{n}{sep}{values}" for n in range(start, stop, 10))


def test_semicolons_and_decimal_commas_are_a_spectrum_too(tmp_path: Path) -> None:
    (tmp_path / "a.csv").write_text(spectrum("0,25", sep=";"))
    np.testing.assert_allclose(read_spectrum(tmp_path / "a.csv"), 0.25)


def test_a_reading_of_an_instrument_in_cgats(tmp_path: Path, shelf: Shelf) -> None:
    bands = range(380, 740, 10)
    (tmp_path / "a.txt").write_text(
        "CGATS.17\nNUMBER_OF_FIELDS 37\nBEGIN_DATA_FORMAT\nSAMPLE_ID "
        + " ".join(f"SPECTRAL_{n}" for n in bands)
        + "\nEND_DATA_FORMAT\nNUMBER_OF_SETS 1\nBEGIN_DATA\nheath "
        + " ".join("0.3" for _ in bands)
        + "\nEND_DATA\n"
    )
    aim = target(str(tmp_path / "a.txt"), shelf)
    np.testing.assert_allclose(aim.reflectance, 0.3)
    assert aim.spectral and aim.lab[0] == pytest.approx(61.65, abs=0.05)


def test_without_the_mirror_reflection_it_is_given_back(tmp_path: Path) -> None:
    (tmp_path / "in.csv").write_text(spectrum())
    (tmp_path / "ex.csv").write_text("specular: excluded\n" + spectrum())
    gained = read_spectrum(tmp_path / "ex.csv") - read_spectrum(tmp_path / "in.csv")
    np.testing.assert_allclose(gained, 0.03, atol=1e-9)


def test_of_several_readings_none_is_picked_for_you(tmp_path: Path) -> None:
    (tmp_path / "two.csv").write_text(
        "nm,heath,moor\n" + "\n".join(f"{n},0.2,0.3" for n in range(400, 710, 10))
    )
    with pytest.raises(UserError, match="holds 2: “heath”, “moor”"):
        read_spectrum(tmp_path / "two.csv")


@pytest.mark.parametrize("text", ["x" * 300, "a/" * 3000, "lemon\0yellow"])
def test_no_file_can_have_such_a_name(text: str, shelf: Shelf) -> None:
    with pytest.raises(UserError):
        target(text, shelf)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("nm,R\n500,0.2\n", "No table of spectra"),
        (spectrum(start=500, stop=800), "must start by"),
        (spectrum("-0.2"), "between 0 and 1"),
        (spectrum("1e9"), "that is no reflectance"),
        (spectrum("nan"), "No table of spectra"),
        (spectrum() + "\n500,0.3\n", "500 nm stands there twice"),
        (spectrum() + "\n710,x\n", "not a number"),
        (spectrum("9" * 200_000, stop=490), "."),
        ("\x00\xff", "."),
    ],
)
def test_a_file_that_is_no_spectrum(tmp_path: Path, text: str, said: str) -> None:
    path = tmp_path / "bad.csv"
    path.write_bytes(text.encode("latin-1"))
    with pytest.raises(UserError, match=said):
        read_spectrum(path)
