"""`tubewise standins`: the list of a night."""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pytest

from bench.chain_tubes import chain_tubes
from tests.cli.conftest import Run
from tubewise.tubes.catalogue import write_catalogue

TUBES = chain_tubes(14, seed=9)


@pytest.fixture
def catalogue(tmp_path: Path) -> Path:
    path = tmp_path / "catalogue.csv"
    write_catalogue(path, TUBES)
    return path


@pytest.mark.slow
def test_a_list_of_all_and_of_what_is_sold_out(run: Run, catalogue: Path, tmp_path: Path) -> None:
    assert run("import", str(catalogue)).status == 0
    out = tmp_path / "standins.csv"
    ran = run("standins", "--all", "--out", str(out))
    assert ran.status == 0 and "14 tubes" in ran.out and "14 judged anew" in ran.out
    rows = list(csv.DictReader(out.open(encoding="utf-8-sig")))
    assert {row["tube"] for row in rows} == {tube.id for tube in TUBES}
    assert {row["kind"] for row in rows} <= {"tube", "mixture", "nothing"}

    again = run("standins", "--out", str(tmp_path / "gone.json"))
    assert "0 judged anew, 14 unchanged" in again.out
    lines = json.loads((tmp_path / "gone.json").read_text())
    assert {line["tube"] for line in lines} == {t.id for t in TUBES if t.stock == 0}

    assert run("standins", "--all", "--out", str(tmp_path / "standins.xlsx")).status == 0
    assert (tmp_path / "standins.xlsx").read_bytes().startswith(b"PK")


def test_a_catalogue_is_enough(run: Run, catalogue: Path) -> None:
    ran = run("standins", "--single", "--from", str(catalogue), "--all", "--json")
    document = json.loads(ran.out)
    assert document["tubes"] == document["judged"] == len(TUBES)
    assert all(line["kind"] != "mixture" for line in document["standins"])


def test_what_can_not_be_is_said(run: Run, tmp_path: Path) -> None:
    wrong_ending = run("standins", "--out", "list.pdf")
    assert wrong_ending.status == 2 and ".csv, .xlsx or .json" in wrong_ending.err
    no_store = run("standins", "--from", str(tmp_path / "none.sqlite3"))
    assert no_store.status == 2 and "no store here" in no_store.err
