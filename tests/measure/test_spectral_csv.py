from __future__ import annotations

import string
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tubewise.errors import UserError
from tubewise.measure.read_file import read_bytes, read_file
from tubewise.measure.spectra import number
from tubewise.measure.spectral_csv import read_spectral_csv

BANDS = list(range(400, 710, 10))


def across(header: str = "{}", mark: str = ",", decimal: str = ".", scale: float = 1.0) -> str:
    """Two readings in rows."""
    lines = [mark.join(["Sample", *(header.format(nm) for nm in BANDS)])]
    for name, base in (("masstone", 0.05), ("tint 1:4", 0.4)):
        cells = [f"{scale * (base + nm / 1e4):.5f}".replace(".", decimal) for nm in BANDS]
        lines.append(mark.join([name, *cells]))
    return "\n".join(lines) + "\n"


@pytest.mark.parametrize(
    "header",
    [
        "{}",
        "{} nm",
        "{}nm",
        "R{}",
        "R_{}",
        "r {}",
        "nm{}",
        "NM_{}",
        "SPECTRAL_{}",
        "SPECTRAL_NM{}",
        "SPECTRAL_NM_{}",
        "λ{}",
        "Reflectance {} nm",
        "{}.0",
        "R({} nm)",
        "Wavelength_{}",
    ],
)
def test_ways_to_write_a_wavelength(header: str) -> None:
    found = read_spectral_csv(across(header), "a.csv").spectra
    assert [r.name for r in found] == ["masstone", "tint 1:4"]
    assert found[0].wavelengths_nm == tuple(float(nm) for nm in BANDS)
    np.testing.assert_allclose(found[1].reflectance, [0.4 + nm / 1e4 for nm in BANDS])


@pytest.mark.parametrize(
    ("mark", "decimal"), [(",", "."), (";", ","), (";", "."), ("\t", ","), ("\t", "."), ("|", ".")]
)
@pytest.mark.parametrize("scale", [1.0, 100.0])
def test_delimiters_decimal_commas_and_percent(mark: str, decimal: str, scale: float) -> None:
    text = across(mark=mark, decimal=decimal, scale=scale)
    found = read_spectral_csv(text, "a.csv").spectra
    np.testing.assert_allclose(found[0].reflectance, [0.05 + nm / 1e4 for nm in BANDS], atol=1e-6)


@pytest.mark.parametrize("mark", [",", ";", "\t", " "])
@pytest.mark.parametrize("heading", [["nm", "a", "b"], None])
def test_wavelengths_down_the_side(mark: str, heading: list[str] | None) -> None:
    rows = [] if heading is None else [heading]
    rows += [[str(nm), f"{nm / 1e3:.3f}", f"{nm / 2e3:.3f}"] for nm in BANDS]
    found = read_spectral_csv("\n".join(mark.join(r) for r in rows), "x/paint.csv").spectra
    assert [r.name for r in found] == (["a", "b"] if heading else ["1", "2"])
    assert found[1].reflectance[0] == pytest.approx(0.2)


def test_one_spectrum_without_a_header_is_named_for_its_file() -> None:
    text = "\n".join(f"{nm};{str(nm / 1e3).replace('.', ',')}" for nm in BANDS)
    found = read_spectral_csv(text, "masstone.csv").spectra
    assert found[0].name == "masstone"
    assert found[0].reflectance[-1] == pytest.approx(0.7)


def test_two_columns_of_decimal_commas_split_by_blanks() -> None:
    text = "\n".join(f"{nm} {str(nm / 1e3).replace('.', ',')}" for nm in BANDS)
    assert read_spectral_csv(text, "m.txt").spectra[0].reflectance[0] == pytest.approx(0.4)


def test_lines_before_the_table_tell_the_conditions() -> None:
    text = "# Instrument: Benchtop 3\nDate;2026-03-01\nGeometry: d/8 SCI\n" + across(mark=";")
    c = read_spectral_csv(text, "a.csv").spectra[0].conditions
    assert (c.instrument, c.date, c.specular) == ("Benchtop 3", "2026-03-01", "included")


def test_falling_and_irregular_wavelengths_and_those_outside_our_range() -> None:
    nms = [1100, 790, 700, 655, 650, 610, 580, 533, 500, 466, 441, 400, 380, 350]
    text = "nm,R (%)\n" + "\n".join(f"{nm},{nm / 20}" for nm in nms)
    found = read_spectral_csv(text, "p.csv").spectra[0]
    assert found.wavelengths_nm[0] == 380.0 and found.wavelengths_nm[-1] == 700.0
    assert found.reflectance[0] == pytest.approx(0.19)


def test_percent_in_the_header_settles_dark_readings() -> None:
    text = (
        "sample,"
        + ",".join(f"{nm} %" for nm in BANDS)
        + "\nblack,"
        + ",".join("0.9" for _ in BANDS)
    )
    assert read_spectral_csv(text, "a.csv").spectra[0].reflectance[0] == pytest.approx(0.009)


def test_a_value_between_one_and_two_is_told() -> None:
    text = across(scale=3.0)
    got = read_spectral_csv(text, "a.csv")
    assert "--scale percent" in got.notes[0]
    assert read_spectral_csv(text, "a.csv", "percent").spectra[1].reflectance[0] < 0.02
    with pytest.raises(UserError, match="Unknown scale"):
        read_spectral_csv(text, "a.csv", "tenths")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (across().replace("0.09000", "n/a", 1), "line 2, column 400: 'n/a' is not a number"),
        ("", "empty"),
        ("hello\nworld\n", "No table of spectra"),
        ("nm,a\n" + "\n".join(f"{nm},0.1" for nm in [400, *BANDS]), "400 nm stands there twice"),
        ("nm,a\n" + "\n".join(f"{nm},0.1" for nm in range(800, 1000, 10)), "Only 0 bands"),
        ("nm,a\n" + "\n".join(f"{nm},0.1" for nm in BANDS) + "\n710,0.1,0.2", "3 cells where"),
        ("nm,a\n" + "\n".join(f"{nm},0.1" for nm in BANDS) + "\n710,x", "line 33, column a: 'x'"),
        (across().splitlines()[0] + "\n", "no readings"),
        ('a,"b\n' + across(), "No table of spectra"),
    ],
)
def test_what_cannot_be_read_is_told_with_its_place(text: str, words: str) -> None:
    with pytest.raises(UserError) as told:
        read_bytes(text.encode(), "a.csv")
    assert words in str(told.value)


def test_files_on_disk(tmp_path: Path) -> None:
    path = tmp_path / "masstone.csv"
    path.write_text("sep=;\n" + across(mark=";"), encoding="utf-16")
    assert len(read_file(path).spectra) == 2
    with pytest.raises(UserError, match="no such file"):
        read_file(tmp_path / "other.csv")
    with pytest.raises(UserError, match="can't be read"):
        read_file(tmp_path)
    with path.open("wb") as file:
        file.truncate(65 * 2**20)
    with pytest.raises(UserError, match="too large"):
        read_file(path)


def test_remarks_under_the_table_and_a_header_one_short() -> None:
    assert len(read_spectral_csv(across() + "mean of three,,\n", "a.csv").spectra) == 2
    text = "a,b\n" + "\n".join(f"{nm},0.1,0.2" for nm in BANDS) + "\nend,of,table\n"
    assert [r.name for r in read_spectral_csv(text, "a.csv").spectra] == ["a", "b"]


def test_keys_written_with_an_equals_sign() -> None:
    text = "instrument=Bench 3\n" + across()
    assert read_spectral_csv(text, "a.csv").spectra[0].conditions.instrument == "Bench 3"


@pytest.mark.parametrize("huge", ["1e300", "-1e300", "1e308", "5000000"])
def test_numbers_that_no_reading_has_are_refused_before_anything_is_fitted(huge: str) -> None:
    lines = across(scale=100.0).splitlines()
    lines[2] = ",".join([*lines[2].split(",")[:5], huge, *lines[2].split(",")[6:]])
    with pytest.raises(UserError, match=r"that is no reflectance") as caught:
        read_bytes("\n".join(lines).encode(), "r.csv")
    assert caught.value.where == "r.csv, line 3"


def test_workbooks_are_turned_away() -> None:
    with pytest.raises(UserError, match="save the sheet as CSV"):
        read_bytes(b"PK\x03\x04rest", "a.xlsx")


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("0,5", 0.5),
        (" 12 %", 12.0),
        (".5", 0.5),
        ("1e-3", 1e-3),
        ("−2", -2.0),
        ("1,2,3", None),
        ("nan", None),
        ("inf", None),
        ("", None),
        ("1e999", None),
        ("0x10", None),
    ],
)
def test_numbers(text: str, value: float | None) -> None:
    assert number(text) == value


@settings(max_examples=120, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.text(string.ascii_letters, min_size=1, max_size=8),
            st.lists(st.floats(0.001, 0.99), min_size=31, max_size=31),
        ),
        min_size=1,
        max_size=4,
    ),
    st.sampled_from([(",", "."), (";", ","), ("\t", ".")]),
    st.booleans(),
)
def test_what_is_written_is_read(
    rows: list[tuple[str, list[float]]], marks: tuple[str, str], down: bool
) -> None:
    mark, decimal = marks

    def cell(v: float) -> str:
        return repr(v).replace(".", decimal)

    names = [f"{name} x{i}" for i, (name, _) in enumerate(rows)]
    if down:
        lines = [["nm", *names]]
        lines += [[str(nm), *(cell(v[i]) for _, v in rows)] for i, nm in enumerate(BANDS)]
    else:
        lines = [["name", *map(str, BANDS)]]
        lines += [[n, *map(cell, v)] for n, (_, v) in zip(names, rows, strict=True)]
    found = read_spectral_csv("\n".join(map(mark.join, lines)), "f.csv").spectra
    assert [r.name for r in found] == names
    for r, (_, v) in zip(found, rows, strict=True):
        assert r.reflectance == tuple(v)


@settings(max_examples=200, deadline=None)
@given(st.binary(max_size=400) | st.text(max_size=400).map(str.encode))
def test_anything_is_read_or_refused(data: bytes) -> None:
    try:
        read_bytes(data, "f")
    except UserError as error:
        assert str(error)


@settings(max_examples=200, deadline=None)
@given(st.data())
def test_a_damaged_table_is_read_or_refused(data: st.DataObject) -> None:
    text = across(mark=data.draw(st.sampled_from([",", ";", "\t"])))
    for _ in range(data.draw(st.integers(1, 5))):
        at = data.draw(st.integers(0, len(text) - 1))
        cut = data.draw(st.integers(0, 30))
        text = text[:at] + data.draw(st.text(max_size=4)) + text[at + cut :]
    try:
        found = read_bytes(text.encode("utf-8", "replace"), "f.csv")
    except UserError:
        return
    assert all(len(r.wavelengths_nm) == len(r.reflectance) >= 8 for r in found.spectra)
