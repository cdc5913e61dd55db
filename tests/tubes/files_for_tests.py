"""Files of paints that tests write and read."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from tubewise.errors import UserError
from tubewise.tubes.catalogue import (
    read_catalogue,
)
from tubewise.tubes.tube import Tube

HEADER = "maker,line,grade,medium,name,label,size_ml,price,currency,stock,swatch_lab,swatch_hex\n"
ROW = 'Ostrel,Fen,artist,acrylic,Rose,PV19,37,4.20,EUR,3,"41.2, 38, -12",#a01040\n'
ROSE = Tube(
    maker="Ostrel",
    line="Fen",
    grade="artist",
    medium="acrylic",
    name="Rose",
    label="PV19",
    size_ml=37.0,
    price=4.2,
    currency="EUR",
    stock=3,
    swatch_lab=(41.2, 38.0, -12.0),
    swatch_hex="#a01040",
)


def written(folder: Path, text: str | bytes, name: str = "paints.csv") -> Path:
    path = folder / name
    path.write_bytes(text.encode() if isinstance(text, str) else text)
    return path


def workbook(folder: Path, rows: Sequence[Sequence[Any]], name: str = "paints.xlsx") -> Path:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for row in rows:
        sheet.append(list(row))
    book.save(folder / name)
    return folder / name


def problems(path: Path) -> tuple[str, ...]:
    with pytest.raises(UserError) as caught:
        read_catalogue(path)
    assert caught.value.where == path.name
    return caught.value.problems
