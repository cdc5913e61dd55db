"""Any file gives either rows or a UserError, and a failed import leaves the store unchanged."""

from __future__ import annotations

import csv
import io
import re
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from tubewise.errors import UserError
from tubewise.store.store import Store
from tubewise.tables.cells import clean, disarmed
from tubewise.tables.workbooks import workbook_grids
from tubewise.tubes.catalogue import (
    read_boxes,
    read_catalogue,
    write_boxes,
    write_catalogue,
)
from tubewise.tubes.columns import COLUMNS
from tubewise.tubes.supply import MIX_COLUMNS, SLOT_COLUMNS, read_supply_list
from tubewise.tubes.tube import Box, Tube

QUICK = settings(
    max_examples=60,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
READERS: tuple[Callable[[Path], object], ...] = (read_catalogue, read_boxes, read_supply_list)
HEADERS = ("seat", *COLUMNS, *SLOT_COLUMNS, *MIX_COLUMNS, "shelf", "")

CELLS = st.one_of(
    st.text(max_size=12),
    st.sampled_from(
        [
            "PV19", "PB29 1 + PW6 4", "PV19/gamma | PR122", "4,20 €", "1.234", "37 ml", "=1+1",
            "41,2; 3; -1", "#abc", "artist", "Acryl", "2026-03-01", "\u202e", "'", '"', "−", "٣",
            "½", "1e999", "٣٤,٥", "９", "0x10", "1_000", "PV٣",
        ]
    ),
    st.integers().map(str),
    st.floats().map(str),
)  # fmt: skip
ROWS = st.lists(st.lists(CELLS, max_size=8), min_size=1, max_size=6)
HEADER = st.lists(st.sampled_from(HEADERS), min_size=1, max_size=8)


@pytest.fixture(autouse=True)
def in_this_process(monkeypatch: pytest.MonkeyPatch) -> None:
    """Hundreds of workbooks are read here, since a process for each would take minutes."""
    monkeypatch.setattr("tubewise.tables.spreadsheet.workbook_grids_apart", workbook_grids)


def rows_or_refusal(read: Callable[[Path], object], path: Path) -> None:
    try:
        read(path)
    except UserError as error:
        assert error.message and error.where


@given(data=st.binary(max_size=400), name=st.sampled_from(["a.csv", "a.xlsx", "a.txt", "a"]))
@example(data=b"\xff\xfe", name="a.csv")
@example(data=b"\xff\xfea", name="a.csv")
@example(data=b"sep=", name="a.csv")
@example(data=b"\xef\xbb\xbfname\n\x85", name="a.csv")
@QUICK
def test_random_bytes(data: bytes, name: str) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / name
        path.write_bytes(data)
        for read in READERS:
            rows_or_refusal(read, path)


@pytest.mark.slow
@given(header=HEADER, rows=ROWS, delimiter=st.sampled_from(",;\t|"))
@QUICK
def test_random_cells_in_csv(header: list[str], rows: list[list[str]], delimiter: str) -> None:
    text = io.StringIO()
    writer = csv.writer(text, delimiter=delimiter)
    writer.writerow(header)
    writer.writerows(rows)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "a.csv"
        path.write_bytes(text.getvalue().encode("utf-8", errors="replace"))
        for read in READERS:
            rows_or_refusal(read, path)


VALUES = st.one_of(
    CELLS.filter(str.isprintable),
    st.none(),
    st.booleans(),
    st.integers(-(10**20), 10**20),
    st.floats(allow_nan=False, allow_infinity=False),
    st.datetimes(min_value=__import__("datetime").datetime(1905, 1, 1)),
    st.times(),
)


@pytest.mark.slow
@given(header=HEADER, rows=st.lists(st.lists(VALUES, max_size=8), min_size=1, max_size=5))
@settings(QUICK, max_examples=40)
def test_random_values_in_workbooks(header: list[str], rows: list[list[Any]]) -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for row in (header, *rows):
        sheet.append(row)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "a.xlsx"
        book.save(path)
        for read in READERS:
            rows_or_refusal(read, path)


@pytest.fixture(scope="module")
def workbook_bytes() -> bytes:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for row in (["name", "label", "price"], ["Rose", "PV19", 4.2], ["Blue", "PB29", "=2+2"]):
        sheet.append(row)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


@given(
    cuts=st.lists(st.tuples(st.integers(0, 10**4), st.integers(0, 255)), max_size=8),
    end=st.integers(0, 10**4),
)
@QUICK
def test_damaged_workbooks(workbook_bytes: bytes, cuts: list[tuple[int, int]], end: int) -> None:
    data = bytearray(workbook_bytes)
    for at, byte in cuts:
        data[at % len(data)] = byte
    if end < len(data):
        del data[end:]
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "a.xlsx"
        path.write_bytes(bytes(data) or b"x")
        rows_or_refusal(read_catalogue, path)


@pytest.mark.slow
@given(
    part=st.sampled_from(
        [
            "xl/worksheets/sheet1.xml",
            "xl/workbook.xml",
            "xl/sharedStrings.xml",
            "xl/styles.xml",
            "[Content_Types].xml",
        ]
    ),
    at=st.integers(0, 3000),
    junk=st.text(max_size=20),
)
@QUICK
def test_workbooks_with_damaged_parts(workbook_bytes: bytes, part: str, at: int, junk: str) -> None:
    import zipfile

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "a.xlsx"
        with zipfile.ZipFile(io.BytesIO(workbook_bytes)) as old, zipfile.ZipFile(path, "w") as new:
            for name in old.namelist():
                data = old.read(name)
                if name == part:
                    spot = at % (len(data) + 1)
                    data = data[:spot] + junk.encode("utf-8", "replace") + data[spot + len(junk) :]
                new.writestr(name, data)
        rows_or_refusal(read_catalogue, path)


UNSEEN = " \t\u00a0\u00ad\u200b\u200e\u202e\u2066\ufe0f\ufeff\u3164"
SNEAKY = st.text(alphabet=UNSEEN + "'=+-@＝＋－＠;|\n\r5aB", max_size=14)


@given(SNEAKY)
def test_no_program_sees_a_cell_that_runs(text: str) -> None:
    kept = disarmed(clean(text))
    assert clean(kept) == clean(text)
    for begun in re.split(r"[;|\t\r\n]", kept):
        seen = begun.lstrip(UNSEEN)
        number = re.fullmatch(r"[+-]?\d+([.,]\d+)?", begun.strip(" "))
        assert number or not seen.startswith(tuple("=+-@＝＋－＠"))


def test_a_long_run_of_blanks_costs_no_more_than_its_length() -> None:
    # Were blanks tried again from each of them, this would take hours.
    long = "\u00ad" * 1_000_000
    assert disarmed(f"a;{long}b") == f"a;{long}b"
    assert clean(f"'{long}b") == f"'{long}b"


@pytest.mark.slow
@given(text=st.text(max_size=30))
@example(text="'=1")
@example(text="''=1")
@example(text="-1")
@example(text="-1a")
@settings(max_examples=300, deadline=None)
def test_disarmed_text_comes_back(text: str) -> None:
    plain = clean(clean(clean(text)))
    kept = disarmed(plain)
    if plain == plain.strip() and clean(kept) != plain:
        # Only text that lost its own quote to cleaning may differ.
        assert plain.startswith("'")
    assert not kept or kept[0] not in "=@＝＠"


WORDS = st.text(
    st.characters(exclude_categories=("Cs", "Cc", "Cn", "Co", "Zl", "Zp")), max_size=15
).map(lambda text: " ".join(clean(text).split()))
TUBES = st.builds(
    Tube,
    maker=WORDS,
    line=WORDS,
    name=WORDS.filter(bool),
    label=WORDS.filter(lambda text: not text[:1].isdigit()),
    medium=st.sampled_from(["", "oil", "acrylic", "casein"]),
    grade=st.sampled_from(["", "artist", "student"]),
    size_ml=st.none() | st.floats(0.01, 5000).map(lambda x: round(x, 4)),
    price=st.none() | st.floats(0, 5000).map(lambda x: round(x, 3)),
    currency=st.sampled_from(["", "EUR", "$"]),
    stock=st.none() | st.integers(0, 10**6),
    swatch_lab=st.none()
    | st.tuples(st.floats(0, 100), st.floats(-128, 128), st.floats(-128, 128)).map(
        lambda lab: (round(lab[0], 3), round(lab[1], 3), round(lab[2], 3))
    ),
    swatch_hex=st.sampled_from(["", "#00ff7f", "#123456"]),
    swatch_geometry=st.sampled_from(["", "excluded", "included"]),
    extra=st.dictionaries(
        st.sampled_from(["Shelf", "=sum", "Old Code"]), WORDS.filter(bool), max_size=2
    ),
)


@pytest.mark.slow
@given(
    tubes=st.lists(TUBES, min_size=1, max_size=5, unique_by=lambda tube: tube.id),
    kind=st.sampled_from(["csv", "xlsx"]),
)
@settings(QUICK, max_examples=80)
def test_tubes_survive_files_and_the_store(tubes: list[Tube], kind: str) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"a.{kind}"
        write_catalogue(path, tubes)
        assert read_catalogue(path) == tubes
        boxes = [Box("Ada", tuple(tubes)), Box("Ben", ())]
        write_boxes(path, boxes)
        assert read_boxes(path) == boxes


@pytest.mark.slow
@given(header=HEADER, rows=ROWS)
@settings(QUICK, max_examples=40)
def test_a_refused_file_leaves_the_store_unchanged(
    tmp_path: Path, header: list[str], rows: list[list[str]]
) -> None:
    text = io.StringIO()
    csv.writer(text).writerows([header, *rows])
    path = tmp_path / "a.csv"
    path.write_bytes(text.getvalue().encode("utf-8", errors="replace"))
    with Store(tmp_path / "store.sqlite3") as store:
        before = store.catalogue()
        try:
            store.import_catalogue(path)
        except UserError:
            assert store.catalogue() == before
        else:
            assert store.import_catalogue(path).added == 0
