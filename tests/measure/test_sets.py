"""How readings meet their roles: by name, by columns beside the spectra, or by a manifest."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from tests.measure.synthetic_drawdowns import files, film, paint, spectrum
from tubewise.errors import UserError
from tubewise.measure.drawdowns import drawdown_set
from tubewise.measure.manifest import read_manifest, template
from tubewise.measure.sample_names import Role, paint_from_name, role_from_name
from tubewise.measure.spectra import Spectra, conditions_from
from tubewise.measure.spectral_csv import read_spectral_csv
from tubewise.optics.geometry import geometry_named

P = paint(np.random.default_rng(3))


@pytest.mark.parametrize(
    ("name", "role"),
    [
        ("masstone", Role("masstone")),
        ("Masstone #2", Role("masstone")),
        ("MASSTONE (3)", Role("masstone")),
        ("mass tone on white", Role("masstone", ground="white")),
        ("masstone white", Role("masstone", ground="white")),
        ("masstone_over_black", Role("masstone", ground="black")),
        ("masstone over black 75 µm", Role("masstone", ground="black", thickness_um=75.0)),
        ("full strength", Role("masstone")),
        ("tint 1:4", Role("tint", 1, 4)),
        ("Tint 1+4", Role("tint", 1, 4)),
        ("tint 2 : 2,5", Role("tint", 2, 2.5)),
        ("tint 1:4 by weight", Role("tint", 1, 4, "weight")),
        ("tint with white 1/10", Role("tint", 1, 10)),
        ("tint 20 %", Role("tint", 20, 80)),
        ("tint 1:4 over black 50 um", Role("tint", 1, 4, "volume", "black", 50.0)),
        ("white", Role("white")),
        ("card white", Role("card", ground="white")),
        ("black card", Role("card", ground="black")),
        ("Rose of Tarn - tint 1:4", Role("tint", 1, 4)),
        ("Rose: masstone", Role("masstone")),
        ("tint", None),
        ("tint 0:4", None),
        ("tint 1:0", None),
        ("tint 100 %", None),
        ("masstone 1:4", None),
        ("calibration tile", None),
        ("", None),
    ],
)
def test_names(name: str, role: Role | None) -> None:
    assert role_from_name(name) == role


def test_repeats_are_averaged_and_their_spread_counts() -> None:
    R = film(P)
    rows = [("masstone #1", R + 0.01), ("masstone #2", R - 0.01), ("tint 1:4", film(P, 4))]
    drawn = drawdown_set(files(rows))
    assert len(drawn.films) == 2
    np.testing.assert_allclose(drawn.films[0].R, R)
    assert drawn.films[0].sigma[0] == pytest.approx(0.01, rel=1e-6)
    assert drawn.films[1].sigma[0] == pytest.approx(0.002)


def test_names_that_say_nothing_ask_for_a_manifest() -> None:
    with pytest.raises(UserError, match="--manifest"):
        drawdown_set(files([("A1", film(P)), ("A2", film(P, 4))]))


def test_several_paints_in_one_file_are_told_apart() -> None:
    rose = [("Rose - masstone", film(P)), ("Rose - tint 1:4", film(P, 4)), ("white", film(P, 9))]
    blue = [("Blue - masstone", film(P) + 0.2)]
    with pytest.raises(UserError, match=r"several paints \(blue, rose\); say --only"):
        drawdown_set(files(rose + blue))
    drawn = drawdown_set(files(rose + blue), only="rose")
    assert [f.sample for f in drawn.films] == ["Rose - masstone", "Rose - tint 1:4"]
    assert drawn.white is not None
    with pytest.raises(UserError, match="names in front are: blue, rose"):
        drawdown_set(files(rose + blue), only="green")
    with pytest.raises(UserError, match="one paint at a time"):
        drawdown_set(files([("masstone", film(P))] * 501))


def test_repeats_that_are_not_of_one_film_are_refused() -> None:
    rows = [("masstone #1", film(P)), ("masstone #2", film(P) + 0.2)]
    with pytest.raises(UserError, match="differ by 20 % of reflectance"):
        drawdown_set(files(rows))


@pytest.mark.parametrize(
    ("name", "front"),
    [
        ("Rose - tint 1:4", "rose"),
        ("Rose of Tarn: masstone", "rose of tarn"),
        ("a - b - masstone", "a - b"),
        ("tint 1:4", ""),
        ("tint 1: 4", ""),
        ("tile", ""),
    ],
)
def test_the_paints_name_in_front(name: str, front: str) -> None:
    assert paint_from_name(name) == front


def test_specular_is_asked_for_taken_from_the_file_or_overruled() -> None:
    rows = [("masstone", film(P))]
    with pytest.raises(UserError, match="Say --specular"):
        drawdown_set(files(rows, specular=""))
    assert drawdown_set(files(rows, specular="excluded")).conditions.specular == "excluded"
    drawn = drawdown_set(files(rows, specular="excluded"), specular="included")
    assert "the file says otherwise" in drawn.warnings[0]
    both = Spectra(
        (
            spectrum("masstone", film(P), specular="included"),
            spectrum("tint 1:4", film(P, 4), specular="excluded"),
        )
    )
    with pytest.raises(UserError, match="measure all alike"):
        drawdown_set([both])
    with pytest.raises(UserError, match="not 'perhaps'"):
        drawdown_set(files(rows), specular="perhaps")


def test_readings_without_a_role_are_left_out_with_a_word() -> None:
    drawn = drawdown_set(files([("masstone", film(P)), ("tile", film(P, 1))]))
    assert drawn.warnings == ("not used, as nothing says what they are: tile",)


def test_columns_beside_the_spectra_are_a_manifest() -> None:
    bands = list(range(380, 740, 10))
    lines = ["sample;kind;parts;white_parts;by;" + ";".join(map(str, bands))]
    lines.append("A1;masstone;;;;" + ";".join(f"{v:.5f}" for v in film(P)))
    lines.append("A2;tint;2;8;volume;" + ";".join(f"{v:.5f}" for v in film(P, 4)))
    drawn = drawdown_set([read_spectral_csv("\n".join(lines), "a.csv")], specular="included")
    assert [f.share for f in drawn.films] == pytest.approx([1.0, 0.2])


def manifest(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "drawdowns.csv"
    path.write_text(text, encoding="utf-8")
    return path


def test_a_manifest_names_roles_densities_and_files(tmp_path: Path) -> None:
    path = manifest(
        tmp_path,
        "Sample;Kind;Parts;White parts;By;Ground;Density;White density;File\n"
        "A1;masstone;;;;opaque;1,2;1,8;\nA2;tint;1;3;weight;;;;one\n",
    )
    found = Spectra((spectrum("A1", film(P)), spectrum("A2", film(P, 2))))
    with pytest.raises(UserError, match="No reading is named 'A2' in one"):
        drawdown_set([found], read_manifest(path))
    path.write_text(path.read_text().replace(";one", ""))
    drawn = drawdown_set([found], read_manifest(path))
    assert drawn.films[1].share == pytest.approx(1 / 3)
    assert drawn.density_known and not drawn.assumed


def test_the_template_is_a_manifest(tmp_path: Path) -> None:
    entries = read_manifest(manifest(tmp_path, template()))
    assert [e.role.kind for e in entries].count("tint") == 3
    assert entries[4].role == Role("masstone", ground="black", thickness_um=75.0)


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("A,kumquat,,,,", "column kind: 'kumquat'"),
        ("A,tint,1,,,", "a tint needs its parts of white"),
        ("A,masstone,1,4,,", "a masstone has no white"),
        ("A,tint,0,4,,", "column parts: '0'"),
        ("A,tint,1,some,,", "column white_parts: 'some'"),
        ("A,tint,1,4,length,", "neither volume nor weight"),
        ("A,masstone,,,,pink", "column ground: 'pink'"),
        ("A,card,,,,", "column ground: 'opaque'"),
    ],
)
def test_faults_in_a_manifest_are_told_with_their_row(
    tmp_path: Path, line: str, words: str
) -> None:
    path = manifest(tmp_path, f"sample,kind,parts,white_parts,by,ground\n{line}\n")
    with pytest.raises(UserError) as told:
        read_manifest(path)
    assert "row 2" in str(told.value) and words in str(told.value)


def test_a_manifest_without_samples_or_lines(tmp_path: Path) -> None:
    with pytest.raises(UserError, match="No column `sample`"):
        read_manifest(manifest(tmp_path, "kind,parts\ntint,1\n"))
    with pytest.raises(UserError, match="no lines"):
        read_manifest(manifest(tmp_path, "sample,kind\n,tint\n"))


@pytest.mark.parametrize(
    ("text", "specular"),
    [
        ("d/8 SCI", "included"),
        ("SCE", "excluded"),
        ("Specular_Included", "included"),
        ("spex", "excluded"),
        ("di:8", "included"),
        ("de:8", "excluded"),
        ("45/0", "excluded"),
        ("45°:0°", "excluded"),
        ("0/45", "excluded"),
        ("d/8", ""),
        ("", ""),
    ],
)
def test_words_for_specular(text: str, specular: str) -> None:
    assert geometry_named(text) == specular
    assert conditions_from({"Geometry": text}).specular == specular
