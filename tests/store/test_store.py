from __future__ import annotations

import datetime
import os
import signal
import sqlite3
import subprocess
import sys
import textwrap
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from tubewise.errors import UserError
from tubewise.store import store as store_module
from tubewise.store.database import HEAD, default_url, migrate, open_engine, sqlite_url
from tubewise.store.store import Imported, Store
from tubewise.tubes.catalogue import write_catalogue
from tubewise.tubes.supply import KeyMix, Slot, SupplyList
from tubewise.tubes.tube import Box, Tube, make_tube


def tube(name: str, label: str = "", *, maker: str = "Ostrel", **more: object) -> Tube:
    return make_tube(maker=maker, line="Fen", name=name, label=label, **more)  # type: ignore[arg-type]


TUBES = [
    tube("Permanent Rose", "PV19 (gamma)", medium="acrylic", stock=2, swatch_lab=(40.0, 60.0, 1.0)),
    tube("Ultramarine Blue", "PB29", medium="oil", stock=0, price=4.2, extra={"shelf": "A"}),
    tube("Ultramarine Violet", "PV15", medium="acrylic", grade="student"),
    tube("Titanium White", "PW6", maker="Grünhag"),
    tube("Lilac", "PV19, PW6", maker="Grünhag", medium="acrylic"),
    tube("Red", "PR112", maker="Grünhag"),
]


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store(tmp_path / "store.sqlite3") as opened:
        opened.import_catalogue(TUBES)
        yield opened


def names(store: Store, *args: str, **conditions: object) -> list[str]:
    return [found.name for found in store.find(*args, **conditions).tubes]  # type: ignore[arg-type]


# ---------------------------------------------------------------- imports


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
        from tubewise.tubes.tube import make_tube
        from tubewise.store import store
        store._CHUNK = 100
        def told(done, of):
            if done == 2000:
                print("midway", flush=True)
                time.sleep(60)
        tubes = [make_tube(maker="Ostrel", name=f"New {n}", label="PB29") for n in range(3000)]
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


# ---------------------------------------------------------------- finding


@pytest.mark.parametrize(
    ("query", "best"),
    [
        ("permanent rose", "Permanent Rose"),
        ("Permanant Rose", "Permanent Rose"),
        ("rose permanent", "Permanent Rose"),
        ("ultra marine blue", "Ultramarine Blue"),
        ("ultram", "Ultramarine Blue"),
        ("xltramarine violet", "Ultramarine Violet"),
        ("grunhag white", "Titanium White"),
        ("RED", "Red"),
        ("lila", "Lilac"),
    ],
)
def test_names_misspelt_cut_short_or_in_another_order(store: Store, query: str, best: str) -> None:
    assert names(store, query)[0] == best


@pytest.mark.parametrize("query", ["zzzz", "!", "☃", "%", "' OR 1=1 --"])
def test_names_that_nothing_is_near(store: Store, query: str) -> None:
    assert store.find(query).total == 0


def test_by_code_form_maker_and_their_combinations(store: Store) -> None:
    assert names(store, code="PW6") == ["Titanium White", "Lilac"]
    assert names(store, code="PV19/gamma")[0] == "Permanent Rose"
    with pytest.raises(UserError, match="has no form"):
        names(store, code="PV19/nothing")
    assert names(store, maker="GRUNHAG") == ["Titanium White", "Lilac", "Red"]
    assert names(store, maker="Grunhog") == ["Titanium White", "Lilac", "Red"]
    assert names(store, maker="Zuxyq") == []
    assert names(store, "white", maker="Ostrel") == []
    assert names(store, code="PW6", medium="acrylic") == ["Lilac"]
    assert names(store, grade="student") == ["Ultramarine Violet"]
    assert names(store, in_stock=True) == ["Permanent Rose"]


def test_pages(store: Store) -> None:
    page = store.find(limit=2, offset=4)
    assert ([t.name for t in page.tubes], page.total, page.offset) == (["Lilac", "Red"], 6, 4)
    whole = [t.name for t in store.find("ultramarine").tubes]
    assert names(store, "ultramarine", limit=1, offset=1) == whole[1:2]
    assert store.find(offset=99).tubes == ()
    assert store.find(limit=-1).tubes == ()


def test_another_programs_tubes_are_found_too(store: Store, tmp_path: Path) -> None:
    assert names(store, "Viridian") == []
    with Store(tmp_path / "store.sqlite3") as other:
        other.import_catalogue([tube("Viridian", "PG18")])
    assert names(store, "Viridain") == ["Viridian"]


def test_a_deleted_tube_is_found_by_nothing_and_can_be_brought_back(store: Store) -> None:
    rose = TUBES[0]
    assert store.delete_tube(rose.id)
    assert not store.delete_tube(rose.id)
    assert store.tube(rose.id) is None
    assert store.catalogue() == TUBES[1:]
    for conditions in ({"name": "rose"}, {"code": "PV19/gamma"}, {"maker": "Ostrel"}):
        assert rose.name not in names(store, **conditions)
    assert store.restore_tube(rose.id)
    assert not store.restore_tube(rose.id)
    assert store.catalogue() == TUBES
    assert names(store, "rose") == names(store, code="PV19/gamma")[:1] == [rose.name]


def test_importing_a_deleted_tube_brings_it_back(store: Store) -> None:
    store.delete_tube(TUBES[0].id)
    assert store.import_catalogue(TUBES) == Imported(changed=1, unchanged=5)
    assert store.catalogue() == TUBES


# ---------------------------------------------------------------- boxes, lists, measurements

BOXES = [Box("Ada", (TUBES[0], make_tube(name="old blue"))), Box("Ben", ())]


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
        (Slot("rose", (frozenset({"PV19/gamma"}), frozenset({"PY3", "PG7"})), min_ml=37.0),),
        (KeyMix("violet", (("PV19/gamma", 1), ("PB29", 2)), "clear", {"day": "2"}),),
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


# ---------------------------------------------------------------- places


def test_the_default_place(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("TUBEWISE_DB", "sqlite:///elsewhere.db")
    assert default_url() == "sqlite:///elsewhere.db"
    monkeypatch.delenv("TUBEWISE_DB")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    monkeypatch.setattr("platformdirs.user_data_dir", lambda *_a, **_k: str(tmp_path / "tubewise"))
    with Store() as opened:
        opened.import_catalogue(TUBES)
    assert (tmp_path / "tubewise" / "tubewise.sqlite3").is_file()


@pytest.mark.parametrize(
    ("url", "words"),
    [
        ("no url", "no database URL"),
        ("mysql://host/name", "SQLite or PostgreSQL"),
        ("sqlite:////dev/null/store.db", "can't be made"),
        ("postgresql+nodriver://host/name", "no database URL|driver"),
    ],
)
def test_places_that_are_no_store(url: str, words: str) -> None:
    with pytest.raises(UserError, match=words):
        Store(url)


def test_a_file_that_is_no_database(tmp_path: Path) -> None:
    path = tmp_path / "store.sqlite3"
    path.write_bytes(b"maker,name\nOstrel,Rose\n" * 100)
    with pytest.raises(UserError, match="no store of ours"):
        Store(path)
    assert path.read_bytes() == b"maker,name\nOstrel,Rose\n" * 100


def test_a_folder_is_no_database(tmp_path: Path) -> None:
    with pytest.raises(UserError, match="can't be used"):
        Store(tmp_path)


def test_a_store_of_a_newer_version_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "store.sqlite3"
    Store(path).close()
    with sqlite3.connect(path) as connection:
        connection.execute("UPDATE alembic_version SET version_num = '9999'")
    with pytest.raises(UserError, match="newer tubewise"):
        Store(path)


def test_a_store_in_use_says_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tubewise.store.database._BUSY_SECONDS", 0.1)
    with Store(tmp_path / "store.sqlite3") as opened:
        other = sqlite3.connect(tmp_path / "store.sqlite3", isolation_level=None)
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(UserError, match="in use"):
            opened.import_catalogue(TUBES)
        # Readers go on meanwhile.
        assert opened.find("rose").total == 0
        other.execute("ROLLBACK")
        other.close()
        assert opened.import_catalogue(TUBES) == Imported(added=6)


def test_two_writers_take_turns(tmp_path: Path) -> None:
    with Store(tmp_path / "s.sqlite3") as one, Store(tmp_path / "s.sqlite3") as two:
        one.import_catalogue(TUBES[:3])
        assert two.import_catalogue(TUBES) == Imported(added=3, unchanged=3)
        assert one.catalogue() == TUBES


# ---------------------------------------------------------------- migrations


def test_the_steps_end_where_the_tables_are(tmp_path: Path) -> None:
    from alembic.autogenerate import compare_metadata
    from alembic.migration import MigrationContext

    from tubewise.store.tables import METADATA

    engine = open_engine(sqlite_url(tmp_path / "store.sqlite3"))
    with engine.connect() as connection:
        context = MigrationContext.configure(connection)
        assert context.get_current_revision() == HEAD
        assert compare_metadata(context, METADATA) == []
    engine.dispose()


def test_a_store_opened_again_is_not_migrated_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    Store(tmp_path / "store.sqlite3").close()
    monkeypatch.setattr("tubewise.store.database.migrate", migrate_never)
    Store(tmp_path / "store.sqlite3").close()


def migrate_never(*_: object) -> None:
    raise AssertionError("migrated again")


def test_the_steps_lead_back_too(tmp_path: Path) -> None:
    from alembic import command
    from alembic.config import Config

    engine = open_engine(sqlite_url(tmp_path / "store.sqlite3"))
    config = Config()
    folder = Path(store_module.__file__).with_name("migrations")
    config.set_main_option("script_location", str(folder))
    with engine.execution_options(writes=True).begin() as connection:
        config.attributes["connection"] = connection
        command.downgrade(config, "base")
        migrate(connection, HEAD)
    engine.dispose()
    with Store(tmp_path / "store.sqlite3") as opened:
        assert opened.import_catalogue(TUBES) == Imported(added=6)


def test_importing_the_package_loads_no_database() -> None:
    code = (
        "import sys, tubewise.tubes, tubewise.tubes.tube; print([m for m in "
        "('sqlalchemy', 'openpyxl', 'alembic', 'numpy', 'rapidfuzz') if m in sys.modules])"
    )
    start = time.perf_counter()
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]", time.perf_counter() - start
