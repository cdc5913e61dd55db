"""Run the command line in this process, with a store of its own."""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from tubewise.cli.main import main


@dataclass(frozen=True)
class Ran:
    """How a command ended."""

    status: int
    out: str
    err: str


Run = Callable[..., Ran]


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Run:
    """`run("label", "PV23")` -> Ran; the store lies in the test's own folder."""
    monkeypatch.setenv("TUBEWISE_DB", f"sqlite:///{tmp_path / 'store.sqlite3'}")
    monkeypatch.delenv("TUBEWISE_DEBUG", raising=False)

    def go(*words: str) -> Ran:
        monkeypatch.setattr(sys, "argv", ["tubewise", *words])
        status = 0
        try:
            main()
        except SystemExit as stop:
            status = int(stop.code or 0)
        out, err = capsys.readouterr()
        return Ran(status, out, err)

    return go


CATALOGUE = """maker,line,grade,medium,name,label,size_ml,price,currency,stock,swatch_lab
Oakfen,Fenland,artist,acrylic,Titanium White,PW6,60,6.50,EUR,9,
Oakfen,Fenland,artist,acrylic,Lemon Yellow,PY3,60,8.00,EUR,4,
Oakfen,Fenland,artist,acrylic,Yellow Medium,PY74,60,8.00,EUR,4,
Oakfen,Fenland,artist,acrylic,Phthalo Green,PG7,60,8.50,EUR,2,
Oakfen,Fenland,artist,acrylic,Ultramarine,PB29,60,8.50,EUR,2,
Oakfen,Fenland,artist,acrylic,Permanent Rose,PV19 (rose),60,11.00,EUR,2,
Millrace,Weir,artist,acrylic,Permanent Rose,PR209,60,10.00,EUR,2,
Millrace,Weir,student,acrylic,Mauve,PV23,75,4.00,EUR,5,
Oakfen,Fenland,artist,acrylic,Dioxazine Violet,PV23,60,11.00,EUR,5,
Oakfen,Fenland,artist,acrylic,Cadmium Red Hue,PR254,60,9.00,EUR,5,
"""
SUPPLY = """slot,accept,medium,min_ml,note
White,PW6,acrylic,60,
Rose,PV19/gamma,acrylic,30,by code
Ultramarine,PB29,acrylic,30,
"""
MIXES = """mix,parts,aim
Violet,PV19/gamma 1 + PB29 1 + PW6 4,clear
"""
BOXES = """seat,maker,line,medium,name,label,size_ml
1,Oakfen,Fenland,acrylic,Titanium White,PW6,60
1,Oakfen,Fenland,acrylic,Permanent Rose,PV19 (rose),60
1,Oakfen,Fenland,acrylic,Ultramarine,PB29,60
2,Millrace,Weir,acrylic,Permanent Rose,PR209,60
"""


@pytest.fixture
def files(tmp_path: Path) -> Path:
    """A folder with a small catalogue, a supply list with its mixes, and boxes."""
    (tmp_path / "catalogue.csv").write_text(CATALOGUE, encoding="utf-8")
    (tmp_path / "list.csv").write_text(SUPPLY, encoding="utf-8")
    (tmp_path / "list-mixes.csv").write_text(MIXES, encoding="utf-8")
    (tmp_path / "boxes.csv").write_text(BOXES, encoding="utf-8")
    return tmp_path
