from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tubewise.errors import UserError
from tubewise.measure.read_file import read_bytes

BANDS = list(range(380, 740, 10))


def cgats(field: str = "SPECTRAL_NM{}", scale: float = 1.0, extra: str = "") -> str:
    """A small file as an instrument's software writes it."""
    fields = " ".join(["SAMPLE_ID", "SAMPLE_NAME", *(field.format(nm) for nm in BANDS)])
    rows = [
        f'{i} "{name}" ' + " ".join(f"{scale * (base + nm / 1e4):.5f}" for nm in BANDS)
        for i, (name, base) in enumerate((("masstone", 0.05), ("tint 1:4", 0.4)), 1)
    ]
    return "\n".join(
        [
            "CGATS.17",
            'ORIGINATOR "an invented bench"',
            'INSTRUMENTATION "Benchtop 3"',
            'CREATED "1 March 2026"',
            'MEASUREMENT_GEOMETRY "d/8 specular included"',
            extra,
            "# a remark",
            f"NUMBER_OF_FIELDS {len(BANDS) + 2}",
            "BEGIN_DATA_FORMAT",
            fields,
            "END_DATA_FORMAT",
            "NUMBER_OF_SETS 2",
            "BEGIN_DATA",
            *rows,
            "END_DATA",
            "",
        ]
    )


@pytest.mark.parametrize(
    "field", ["SPECTRAL_NM{}", "SPECTRAL_NM_{}", "SPECTRAL_{}", "nm{}", "R_{}", "SPEC_{}"]
)
def test_spectra_names_and_conditions(field: str) -> None:
    found = read_bytes(cgats(field).encode(), "a.txt").spectra
    assert [r.name for r in found] == ["masstone", "tint 1:4"]
    np.testing.assert_allclose(found[0].reflectance, [0.05 + nm / 1e4 for nm in BANDS])
    c = found[0].conditions
    assert (c.instrument, c.date, c.specular) == ("Benchtop 3", "1 March 2026", "included")
    assert found[1].where == "a.txt, line 15"


def test_percent_by_field_by_norm_and_by_looks() -> None:
    for text in (
        cgats("SPECTRAL_PCT_{}", 100.0),
        cgats(scale=100.0, extra="SPECTRAL_NORM 100"),
        cgats(scale=100.0),
    ):
        got = read_bytes(text.encode(), "a.txt").spectra[1].reflectance[0]
        assert got == pytest.approx(0.438)


def test_tabs_keep_names_with_blanks_together() -> None:
    text = cgats().replace('"', "")
    head, _, tail = text.partition("BEGIN_DATA\n")
    rows = tail.replace("tint 1:4", "tint§1:4").replace(" ", "\t").replace("§", " ")
    found = read_bytes((head + "BEGIN_DATA\n" + rows).encode(), "a.txt").spectra
    assert found[1].name == "tint 1:4"


def test_a_set_may_run_over_lines_and_tables_may_follow() -> None:
    text = cgats().replace('"masstone" ', '"masstone"\n')
    colours = "\nBEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L\nEND_DATA_FORMAT\nBEGIN_DATA\n1 50\nEND_DATA\n"
    assert len(read_bytes((text + colours).encode(), "a.txt").spectra) == 2


def test_45_0_sees_no_mirror_reflection() -> None:
    text = cgats().replace("d/8 specular included", "45/0")
    assert read_bytes(text.encode(), "a.txt").spectra[0].conditions.specular == "excluded"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (cgats().replace("END_DATA\n", ""), "ends before END_DATA"),
        (cgats().replace("END_DATA_FORMAT", ""), "a line is missing"),
        (cgats().replace("0.08800", "dark"), "line 14, column SPECTRAL_NM380: 'dark'"),
        (cgats().replace('"tint 1:4"', "tint 1:4"), "39 cells where the data format has 38"),
        (cgats().replace(" 0.47300", ""), "37 cells where"),
        (cgats("LAB_{}"), "No spectrum"),
    ],
)
def test_faults_are_told_with_their_line(text: str, words: str) -> None:
    with pytest.raises(UserError) as told:
        read_bytes(text.encode(), "a.txt")
    assert words in str(told.value)


@pytest.mark.slow
@settings(max_examples=200, deadline=None)
@given(st.data())
def test_a_damaged_file_is_read_or_refused(data: st.DataObject) -> None:
    text = cgats()
    for _ in range(data.draw(st.integers(1, 5))):
        at = data.draw(st.integers(0, len(text) - 1))
        cut = data.draw(st.integers(0, 40))
        text = text[:at] + data.draw(st.text(max_size=4)) + text[at + cut :]
    try:
        found = read_bytes(text.encode("utf-8", "replace"), "f.txt")
    except UserError:
        return
    assert found.spectra
