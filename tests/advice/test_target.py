"""Targets: every way a person may say which colour they want."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from tests.advice.conftest import tube
from tubewise.advice.shelf import Shelf
from tubewise.advice.target import of_tube, read_spectrum, target
from tubewise.colour.srgb import lab_from_hex
from tubewise.errors import UserError


def test_lab_hex_munsell_and_pigments_are_understood(shelf: Shelf) -> None:
    np.testing.assert_allclose(target("lab:50,20,-30", shelf).lab, (50, 20, -30))
    np.testing.assert_allclose(target("#7a3b5c", shelf).lab, lab_from_hex("#7a3b5c"))
    assert target("munsell:5R 4/12", shelf).lab[0] == pytest.approx(41.2, abs=0.6)
    aim = target("PB29", shelf)
    assert aim.spectral and aim.lab[2] < -10


def test_a_tube_is_its_measured_swatch_where_it_has_one() -> None:
    known = tube("Rose", "PV19 (rose)", swatch_lab=(41.0, 50.0, 17.0))
    shelf = Shelf([known])
    np.testing.assert_allclose(target(known.id, shelf).lab, (41.0, 50.0, 17.0))


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


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("nm,R\n500,0.2\n", "at least 8 readings"),
        ("\n".join(f"{n},0.2" for n in range(500, 800, 10)), "from 410 nm"),
        ("\n".join(f"{n},-0.2" for n in range(400, 710, 10)), "between 0 and 1"),
        ("400,0.1\n410,x\n", "expected a wavelength"),
        ("\x00\xff", "spectrum"),
    ],
)
def test_a_file_that_is_no_spectrum(tmp_path: Path, text: str, said: str) -> None:
    path = tmp_path / "bad.csv"
    path.write_bytes(text.encode("latin-1"))
    with pytest.raises(UserError, match=said):
        read_spectrum(path)
