"""The register's spreadsheets, broken in every way an editor may break them."""

from __future__ import annotations

import csv
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tubewise.errors import UserError
from tubewise.pigments.register import load

FILES = {
    "pigments.csv": """\
code,parent,constitutions,chemical,names,chem_class,hue,opacity,needs,assumed,note,source
PV19,,73900; 46500,quinacridone,quinacridone rose,quinacridone,violet,transparent,form,,,book
PB15,,74160,copper phthalocyanine,phthalo blue,phthalocyanine,blue,transparent,suffix,PB15:3,,book
PB15:3,PB15,74160,copper phthalocyanine,phthalo blue,phthalocyanine,blue,transparent,,,,book
""",
    "forms.csv": """\
code,form,default,label_words,hue_words,opacity,note,source
PV19,beta,,violet,violet,transparent,bluer,book
PV19,gamma,yes,rose; red,red,transparent,redder,book
""",
    "lightfastness.csv": """\
code,acrylic,oil,watercolour,gouache,source
PV19,I,I,II,not rated,book
""",
    "cautions.csv": """\
kind,applies,text,source
cobalt,dust,"Follow the label, the safety data sheet and local rules.",book
general,dust; children,"Follow the label, the safety data sheet and local rules.",book
""",
    "pigment_cautions.csv": """\
code,form,kind,source
PB15:3,,cobalt,an invented case
""",
    "notes.csv": "code,note,text,source\nPV19,fugitive in tints,Fades in tints.,book\n",
    "name_promises.csv": """\
promise,phrases,codes,strength,source
phthalo blue,phthalo blue; bleu phtalo,PB15; PB15:3,pigment,book
sky,sky,,name only,book
""",
}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name, text in FILES.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    return tmp_path


def test_a_small_register_of_ones_own_loads(folder: Path) -> None:
    own = load(folder)
    assert own.codes == ("PV19", "PB15", "PB15:3")
    assert own.refs == ("PV19/beta", "PV19/gamma", "PB15", "PB15:3")
    pv19 = own.get("PV19")
    assert pv19 is not None
    assert pv19.lightfastness("watercolour") == "II"
    assert [note.kind for note in pv19.notes] == ["fugitive in tints"]
    assert [caution.kind for caution in own.general_cautions] == ["general"]
    assert own.promises("bleu phtalo")[0].codes == ("PB15", "PB15:3")


def test_what_a_spreadsheet_saves_loads_as_well(folder: Path) -> None:
    """A byte order mark, semicolons between cells, and blank rows at the end."""
    plain = load(folder)
    for name in FILES:
        path = folder / name
        rows = list(csv.reader(path.read_text(encoding="utf-8").splitlines()))
        with path.open("w", encoding="utf-8-sig", newline="") as file:
            csv.writer(file, delimiter=";").writerows([*rows, [""] * len(rows[0]), []])
    again = load(folder)
    assert list(again) == list(plain)


BROKEN: list[tuple[str, str, str, str, str]] = [
    ("pigments.csv", "PV19,,", "PX19,,", "row 2, column code", "Colour Index name"),
    ("pigments.csv", "PB15:3,PB15,", "PV19,,", "row 4, column code", "already in row 2"),
    ("pigments.csv", "73900; 46500", "7390", "row 2, column constitutions", "five or six digits"),
    ("pigments.csv", "violet,transparent", "purple,transparent", "column hue", "one of"),
    ("pigments.csv", "violet,transparent", "violet,clear", "column opacity", "one of"),
    ("pigments.csv", "form,,,book", "phase,,,book", "column needs", "one of"),
    ("pigments.csv", "form,,,book", "form,,,", "column source", "empty"),
    ("pigments.csv", "73900; 46500,quinacridone,", ",,", "column chemical", "empty"),
    ("pigments.csv", "PB15:3,PB15,", "PB15:3,PB16,", "column parent", "not a code"),
    ("pigments.csv", "PB15:3,PB15,", "PB15:3,PV19,", "column parent", "without its suffix"),
    ("pigments.csv", "suffix,PB15:3", "suffix,PB15:9", "column assumed", "not a code"),
    ("pigments.csv", "suffix,PB15:3", "suffix,", "column assumed", "must be filled"),
    ("pigments.csv", "suffix,PB15:3", "form,", "column needs", "fewer than two"),
    ("forms.csv", "PV19,beta", "PV91,beta", "row 2, column code", "not a code"),
    ("forms.csv", "PV19,beta", "PV19,Beta!", "column form", "small letters"),
    ("forms.csv", "PV19,beta", "PV19,gamma", "row 3, column form", "twice"),
    ("forms.csv", "beta,,", "beta,yes,", "column default", "two default"),
    ("forms.csv", "gamma,yes,", "gamma,,", "column default", "no form of PV19"),
    ("forms.csv", "gamma,yes,", "gamma,ja,", "column default", "one of"),
    ("forms.csv", "rose; red,red", "violet,red", "column label_words", "PV19/beta already"),
    ("forms.csv", "rose; red,red", "rose; red,pink", "column hue_words", "pink"),
    ("forms.csv", "red,transparent", "red,glassy", "column opacity", "one of"),
    ("forms.csv", "bluer,book", ",book", "column note", "empty"),
    ("lightfastness.csv", "PV19,I", "PV91,I", "column code", "not a code"),
    ("lightfastness.csv", "I,I,II", "I,VI,II", "column oil", "one of"),
    ("lightfastness.csv", "rated,book", "rated,book\nPV19,I,I,I,I,book", "row 3", "twice"),
    ("lightfastness.csv", "rated,book", "rated,", "column source", "empty"),
    ("cautions.csv", "cobalt,dust", "cobald,dust", "column kind", "one of"),
    ("cautions.csv", "cobalt,dust", "cobalt,eating", "column applies", "eating"),
    ("cautions.csv", "the safety data sheet", "nothing", "column text", "safety data sheet"),
    ("cautions.csv", "local rules.", "local rules: safe.", "column text", "must not call"),
    ("pigment_cautions.csv", "PB15:3,,", "PB15:7,,", "column code", "not a code"),
    ("pigment_cautions.csv", "PB15:3,,", "PB15:3,alpha,", "column form", "not a form"),
    ("pigment_cautions.csv", "cobalt", "lead", "column kind", "no text"),
    ("pigment_cautions.csv", "an invented case", "", "column source", "empty"),
    ("notes.csv", "PV19,", "PV91,", "column code", "not a code"),
    ("notes.csv", "fugitive in tints,", "weak,", "column note", "one of"),
    ("notes.csv", "Fades in tints.", "", "column text", "empty"),
    ("name_promises.csv", "PB15; PB15:3", "PB15; PB15:9", "column codes", "'PB15:9'"),
    ("name_promises.csv", "PB15; PB15:3", "", "column codes", "must name"),
    ("name_promises.csv", ",name only", ",perhaps", "column strength", "one of"),
    ("name_promises.csv", "sky,sky", "sky,Bleu Phtalo", "row 3, column phrases", "phthalo blue"),
    ("name_promises.csv", "sky,sky", "sky,", "column phrases", "empty"),
]


@pytest.mark.parametrize(("file", "old", "new", "where", "what"), BROKEN)
def test_a_broken_cell_is_named(
    folder: Path, file: str, old: str, new: str, where: str, what: str
) -> None:
    path = folder / file
    assert old in FILES[file]
    path.write_text(FILES[file].replace(old, new, 1), encoding="utf-8")
    with pytest.raises(UserError) as refused:
        load(folder)
    told = str(refused.value)
    assert file in told
    assert where in told
    assert what in told


def test_all_faults_of_a_file_are_told_at_once(folder: Path) -> None:
    text = FILES["pigments.csv"].replace("transparent", "clear")
    (folder / "pigments.csv").write_text(text, encoding="utf-8")
    with pytest.raises(UserError) as refused:
        load(folder)
    assert len(refused.value.problems) == 3
    assert "3 cells" in refused.value.message


def _remove(path: Path) -> None:
    path.unlink()


def _latin(path: Path) -> None:
    path.write_bytes("code;Grün\n".encode("latin-1"))


def _binary(path: Path) -> None:
    path.write_bytes(bytes(range(256)) * 20)


def _empty(path: Path) -> None:
    path.write_bytes(b"")


def _no_header(path: Path) -> None:
    path.write_text("PV19,73900\n", encoding="utf-8")


def _too_many_cells(path: Path) -> None:
    path.write_text(path.read_text(encoding="utf-8") + "a" + ",b" * 40 + "\n", encoding="utf-8")


def _endless_cell(path: Path) -> None:
    path.write_text(path.read_text(encoding="utf-8") + "x" * 200_000 + "\n", encoding="utf-8")


def _folder(path: Path) -> None:
    path.unlink()
    path.mkdir()


@pytest.mark.parametrize("file", FILES)
@pytest.mark.parametrize(
    "damage",
    [_remove, _latin, _binary, _empty, _no_header, _too_many_cells, _endless_cell, _folder],
)
def test_a_damaged_file_gives_one_message(
    folder: Path, file: str, damage: Callable[[Path], None]
) -> None:
    damage(folder / file)
    with pytest.raises(UserError, match=file):
        load(folder)


def test_a_register_without_pigments_is_refused(folder: Path) -> None:
    head = FILES["pigments.csv"].splitlines()[0]
    (folder / "pigments.csv").write_text(head + "\n", encoding="utf-8")
    with pytest.raises(UserError, match=r"pigments\.csv"):
        load(folder)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(file=st.sampled_from(sorted(FILES)), data=st.data())
def test_any_cell_overwritten_loads_or_is_refused_with_its_file(
    tmp_path_factory: pytest.TempPathFactory, file: str, data: st.DataObject
) -> None:
    """Whatever is typed over a cell, the outcome is a register or one `UserError`."""
    rows = list(csv.reader(FILES[file].splitlines()))
    row = data.draw(st.integers(0, len(rows) - 1))
    column = data.draw(st.integers(0, len(rows[row]) - 1))
    rows[row][column] = data.draw(st.text(st.characters(codec="utf-8"), max_size=20))
    folder = tmp_path_factory.mktemp("register")
    try:
        for name, text in FILES.items():
            (folder / name).write_text(text, encoding="utf-8")
        with (folder / file).open("w", encoding="utf-8", newline="") as out:
            csv.writer(out).writerows(rows)
        try:
            loaded = load(folder)
        except UserError as refused:
            assert ".csv" in str(refused)
        else:
            assert len(loaded) == 3
    finally:
        shutil.rmtree(folder)
