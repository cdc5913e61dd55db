from __future__ import annotations

from pathlib import Path

import pytest

from tests.tubes.files_for_tests import HEADER, ROW, workbook, written
from tubewise.errors import UserError
from tubewise.tables.workbooks import workbook_grids
from tubewise.tubes.catalogue import (
    read_catalogue,
)


@pytest.mark.parametrize(
    ("name", "data", "words"),
    [
        ("a.csv", b"", "empty"),
        ("a.csv", b"\n\n  \n", "empty"),
        ("a.csv", bytes(range(256)) * 20, "not a text file"),
        ("a.csv", b"name,label\n", "no tubes"),
        ("a.csv", b"Dear shop,\nplease send paint.\n", "No header row"),
        ("a.csv", b'name,label\n"Rose,PV19\n', "never closed"),
        ("a.csv", b'name,label\n"Ro"se,PV19\n', "quotes are out of order"),
        ("a.csv", b"name,label\n" + b"x" * 20_000 + b",PV19\n", "20,000 characters"),
        ("a.csv", ("name" + "," * 300 + "z\n").encode(), "columns"),
        ("a.pdf", b"%PDF-1.7 ...", r"\.pdf are not read"),
        ("a.xlsx", b"name,label\nRose,PV19\n", "isn't one"),
        ("a.xls", b"\xd0\xcf\x11\xe0" + b"\0" * 600, "damaged or has a password"),
        ("a.xlsx", b"PK\x03\x04" + b"junk" * 50, "damaged"),
        ("a.ods", b"PK\x03\x04" + b"junk" * 50, "damaged"),
    ],
)
def test_files_that_are_no_catalogue(tmp_path: Path, name: str, data: bytes, words: str) -> None:
    with pytest.raises(UserError, match=words):
        read_catalogue(written(tmp_path, data, name))


def test_places_that_are_no_file(tmp_path: Path) -> None:
    with pytest.raises(UserError, match="folder"):
        read_catalogue(tmp_path)
    with pytest.raises(UserError, match="no such file"):
        read_catalogue(tmp_path / "missing.csv")
    with pytest.raises(UserError, match="can't be read"):
        read_catalogue(tmp_path / "a\0b.csv")
    with pytest.raises(UserError, match="can't be read"):
        read_catalogue(tmp_path / ("x" * 400))


def test_a_device_is_no_file() -> None:
    with pytest.raises(UserError, match="not a plain file"):
        read_catalogue("/dev/zero")


def test_a_file_that_is_too_large(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = written(tmp_path, HEADER + ROW)
    monkeypatch.setattr("tubewise.limits.MAX_BYTES", 10)
    with pytest.raises(UserError, match="Split it"):
        read_catalogue(path)


def test_too_many_rows(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tubewise.limits.MAX_ROWS", 3)
    with pytest.raises(UserError, match="split the file"):
        read_catalogue(written(tmp_path, "name\n" + "".join(f"Rose {n}\n" for n in range(9))))
    with pytest.raises(UserError, match="split the file"):
        many = workbook(tmp_path, [["name"], *[[f"Rose {n}"] for n in range(9)]])
        workbook_grids(many.name, many.read_bytes())
