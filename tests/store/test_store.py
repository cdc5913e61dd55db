from __future__ import annotations

import datetime
import os
import signal
import sqlite3
import subprocess
import sys
import textwrap
from dataclasses import replace
from pathlib import Path

import pytest

from tests.refs import parts, refs
from tests.store.tubes_for_tests import TUBES, names, tube
from tubewise.errors import UserError
from tubewise.store import store as store_module
from tubewise.store.store import Imported, Store
from tubewise.tubes.catalogue import write_catalogue
from tubewise.tubes.supply import KeyMix, Slot, SupplyList
from tubewise.tubes.tube import Box, Tube


def test_tubes_come_back_as_they_were(store: Store) -> None:
    assert store.catalogue() == TUBES
    assert store.tube(TUBES[1].id) == TUBES[1]
    assert store.tube("nothing") is None


def test_the_same_import_twice_changes_nothing(store: Store, tmp_path: Path) -> None:
    write_catalogue(tmp_path / "paints.csv", TUBES)
    before = _dump(tmp_path / "store.sqlite3")
    assert store.import_catalogue(tmp_path / "paints.csv") == Imported(unchanged=len(TUBES))
    assert _dump(tmp_path / "store.sqlite3") == before


def test_a_changed_row_is_brought_up_to_date_with_its_indexes(store: Store) -> None:
    other = replace(TUBES[0], label="PR122", stock=None)
    assert store.import_catalogue([other, *TUBES[1:]]) == Imported(changed=1, unchanged=5)
    assert store.tube(other.id) == other
    assert names(store, code="PR122") == ["Permanent Rose"]
    assert names(store, code="PV19") == ["Lilac"]


def test_tubes_in_hand_that_contradict_each_other_are_refused(store: Store) -> None:
    pair = [tube("New", "PB29"), tube("New", "PB28")]
    with pytest.raises(UserError, match="contradict"):
        store.import_catalogue(pair)
    assert store.import_catalogue([pair[0], pair[0]]) == Imported(added=1)


def test_a_failed_import_leaves_the_store_as_it_was(
    store: Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = _dump(tmp_path / "store.sqlite3")
    (tmp_path / "bad.csv").write_text("name,price\nNew,3\nOther,free\n")
    with pytest.raises(UserError):
        store.import_catalogue(tmp_path / "bad.csv")

    monkeypatch.setattr(store_module, "_CHUNK", 2)

    def stop(done: int, _of: int) -> None:
        if done >= 4:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        store.import_catalogue([tube(f"New {n}", "PB29") for n in range(9)], progress=stop)
    assert _dump(tmp_path / "store.sqlite3") == before
    assert names(store, "New") == []
    # The words of the failed import must not be taken for known.
    assert store.import_catalogue([tube("New 1", "PB29")]) == Imported(added=1)
    assert names(store, "new") == ["New 1"]


def test_progress_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(store_module, "_CHUNK", 4)
    told: list[tuple[int, int]] = []
    with Store(tmp_path / "store.sqlite3") as opened:
        opened.import_catalogue(TUBES, progress=lambda done, of: told.append((done, of)))
    assert told == [(4, 6), (6, 6)]


@pytest.mark.slow
def test_an_import_killed_midway_leaves_the_store_whole(tmp_path: Path) -> None:
    path = tmp_path / "store.sqlite3"
    with Store(path) as opened:
        opened.import_catalogue(TUBES)
    script = textwrap.dedent(
        """
        import sys, time
        from pathlib import Path
        from tubewise.store.store import Store
        from tubewise.tubes.tube import Tube
        from tubewise.store import store
        store._CHUNK = 100
        def told(done, of):
            if done == 2000:
                print("midway", flush=True)
                time.sleep(60)
        tubes = [Tube(maker="Ostrel", name=f"New {n}", label="PB29") for n in range(3000)]
        with Store(Path(sys.argv[1])) as opened:
            opened.import_catalogue(tubes, progress=told)
        """
    )
    child = subprocess.Popen(
        [sys.executable, "-c", script, str(path)], stdout=subprocess.PIPE, text=True
    )
    assert child.stdout is not None
    assert child.stdout.readline() == "midway\n"
    os.kill(child.pid, signal.SIGKILL)
    child.wait()
    child.stdout.close()
    with Store(path) as opened:
        assert opened.catalogue() == TUBES
        assert opened.import_catalogue([tube("New 1", "PB29")]) == Imported(added=1)
    with sqlite3.connect(path) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert connection.execute("PRAGMA foreign_key_check").fetchall() == []


def _dump(path: Path) -> list[str]:
    with sqlite3.connect(path) as connection:
        return [line for line in connection.iterdump() if '"revision"' not in line]


BOXES = [Box("Ada", (TUBES[0], Tube(name="old blue"))), Box("Ben", ())]


def test_boxes_keep_their_owners_rows(store: Store) -> None:
    assert store.import_boxes(BOXES, "june") == Imported(added=2)
    assert store.import_boxes(BOXES, "june") == Imported(unchanged=2)
    assert store.boxes("june") == BOXES
    assert store.boxes() == []
    fuller = Box("BEN", (TUBES[1],))
    assert store.import_boxes([fuller], "june") == Imported(changed=1)
    assert store.boxes("june") == [BOXES[0], fuller]
    assert store.box_names() == ["june"]
    assert store.delete_box("ada", "june")
    assert store.boxes("june") == [fuller]
    assert store.restore_box("Ada", "june")
    assert not store.restore_box("Ada", "june")
    assert store.boxes("june") == [BOXES[0], fuller]


def test_boxes_from_a_file_and_a_bad_one(store: Store, tmp_path: Path) -> None:
    (tmp_path / "boxes.csv").write_text("seat,name,price\nAda,Rose,3\n")
    assert store.import_boxes(tmp_path / "boxes.csv") == Imported(added=1)
    (tmp_path / "boxes.csv").write_text("seat,name,price\nBen,Rose,3\nAda,Blue,free\n")
    with pytest.raises(UserError):
        store.import_boxes(tmp_path / "boxes.csv")
    assert [box.seat for box in store.boxes()] == ["Ada"]


def test_supply_lists(store: Store, tmp_path: Path) -> None:
    heather = SupplyList(
        "heather",
        (Slot("rose", (refs("PV19/gamma"), refs("PY3", "PG7")), min_ml=37.0),),
        (KeyMix("violet", parts(("PV19/gamma", 1), ("PB29", 2)), "clear", {"day": "2"}),),
    )
    assert store.import_supply_list(heather) == Imported(added=1)
    assert store.import_supply_list(heather) == Imported(unchanged=1)
    assert store.supply_list("heather") == heather
    changed = replace(heather, mixes=())
    assert store.import_supply_list(changed) == Imported(changed=1)
    assert store.supply_list("heather") == changed
    assert store.supply_list_names() == ["heather"]
    assert store.delete_supply_list("heather")
    assert store.supply_list("heather") is None
    assert store.restore_supply_list("heather")
    (tmp_path / "moor.csv").write_text("slot,accept\nwhite,PW6\n")
    assert store.import_supply_list(tmp_path / "moor.csv") == Imported(added=1)
    assert store.supply_list_names() == ["heather", "moor"]


def test_measurements_are_versioned_and_withdrawn_reversibly(store: Store) -> None:
    rose = TUBES[0].id
    first = store.add_measurement(
        rose,
        raw={"drawdowns": [[0.1, 0.2]]},
        fit={"K": [1.0], "S": [0.5]},
        measured_on=datetime.date(2026, 3, 1),
        instrument="sphere",
        conditions="d/8, specular included",
    )
    second = store.add_measurement(rose, raw={}, fit={"K": [2.0]})
    assert (first.version, second.version) == (1, 2)
    assert store.measurements(rose) == [first, second]
    assert store.measured() == {rose: second}
    assert store.withdraw(rose, 2)
    assert not store.withdraw(rose, 2)
    assert store.measured([rose]) == {rose: first}
    assert store.measured(["another"]) == {}
    assert [m.withdrawn for m in store.measurements(rose)] == [False, True]
    assert store.reinstate(rose, 2)
    assert store.measured([rose, "another"]) == {rose: second}


@pytest.mark.parametrize("raw", [{"a": float("nan")}, {"a": [float("inf")]}, {"a": object()}])
def test_measurements_must_be_json(store: Store, raw: dict[str, object]) -> None:
    with pytest.raises(UserError, match="JSON"):
        store.add_measurement("x", raw=raw, fit={})
    assert store.measurements("x") == []
