"""Backups are whole even while others write, and are made before tables change."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path
from threading import Thread

import pytest

from tests.store.damaged import MANY, whole_store
from tests.store.tubes_for_tests import TUBES
from tubewise.errors import UserError
from tubewise.store.backups import back_up, backup_folder, backups_of
from tubewise.store.damage import DamagedStoreError
from tubewise.store.database import sqlite_url
from tubewise.store.health import examine
from tubewise.store.restoring import restore
from tubewise.store.store import Store
from tubewise.tubes.tube import Box


def to_first_version(path: Path) -> None:
    """The store as a tubewise before swatches had a geometry left it."""
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("DROP TABLE pictures")
        connection.execute("DROP TABLE standins")
        connection.execute("DROP TABLE chosen_columns")
        connection.execute("ALTER TABLE tubes DROP COLUMN swatch_geometry")
        connection.execute("UPDATE alembic_version SET version_num = '0001'")
        connection.commit()


def test_a_backup_is_one_file_with_all_that_was_confirmed(tmp_path: Path) -> None:
    path = tmp_path / "store.sqlite3"
    with Store(path) as store:
        store.import_catalogue(TUBES)
        made = back_up(path)
        assert store.delete_tube(TUBES[0].id)
    assert made.path.parent == backup_folder(path)
    assert [file.name for file in made.path.parent.iterdir()] == [made.path.name]
    assert made.size == made.path.stat().st_size
    assert examine(sqlite_url(made.path)).counts["tubes"] == len(TUBES)


def test_backups_made_while_another_writes_are_each_whole(tmp_path: Path) -> None:
    path = whole_store(tmp_path / "store.sqlite3")

    def write() -> None:
        with Store(path) as store:
            for round in range(12):
                store.import_boxes([Box("1", tuple(MANY[round : round + 3]))])
                store.delete_tube(MANY[round].id)
                store.restore_tube(MANY[round].id)

    writer = Thread(target=write)
    writer.start()
    made = [back_up(path, tmp_path / f"backup{n}.sqlite3") for n in range(6)]
    writer.join()
    assert [examine(sqlite_url(backup.path)).faults for backup in made] == [()] * 6


def test_two_backups_in_one_second_have_two_names(
    tmp_path: Path,
) -> None:
    path = whole_store(tmp_path / "store.sqlite3")
    first, second = back_up(path), back_up(path)
    assert {backup.path for backup in backups_of(path)} == {first.path, second.path}


def test_a_place_that_is_taken_and_a_store_that_is_none(tmp_path: Path) -> None:
    path = whole_store(tmp_path / "store.sqlite3")
    taken = tmp_path / "letters.txt"
    taken.write_text("dear")
    with pytest.raises(UserError, match="file of this name"):
        back_up(path, taken)
    assert taken.read_text() == "dear"
    with pytest.raises(UserError, match="no store here"):
        back_up(tmp_path / "none.sqlite3")
    with pytest.raises(UserError, match="can't be written"):
        back_up(path, Path("/dev/null/backup.sqlite3"))
    assert not backup_folder(path).exists()


def test_who_has_the_store_open_sees_what_was_put_back(tmp_path: Path) -> None:
    path = tmp_path / "store.sqlite3"
    with Store(path) as store:
        store.import_catalogue(TUBES)
        back_up(path)
        store.delete_tube(TUBES[0].id)
        assert store.find("permanent rose").total == 0
        done = restore(path)
        # What it remembered of names is stale, and it knows.
        assert store.find("permanent rose").tubes == (TUBES[0],)
        assert store.import_catalogue(TUBES).unchanged == len(TUBES)
    assert done.replaced is not None
    with Store(done.replaced) as before:
        assert before.tube(TUBES[0].id) is None


def test_tables_change_only_after_a_backup(tmp_path: Path) -> None:
    path = tmp_path / "store.sqlite3"
    with Store(path) as store:
        store.import_catalogue(TUBES)
    assert backups_of(path) == []
    to_first_version(path)
    Store(path).close()
    (made,) = backups_of(path)
    assert made.path.name.startswith("before-step-after-0001-")
    with closing(sqlite3.connect(made.path)) as connection:
        assert connection.execute("SELECT count(*) FROM tubes").fetchone() == (len(TUBES),)
        assert connection.execute("SELECT * FROM alembic_version").fetchone() == ("0001",)
    # It can be put back, and is brought up to date anew.
    restore(path)
    with Store(path) as store:
        assert {tube.id for tube in store.catalogue()} == {tube.id for tube in TUBES}
    assert len(backups_of(path)) == 2


def test_where_no_backup_can_be_made_tables_stay_as_they_are(tmp_path: Path) -> None:
    path = tmp_path / "store.sqlite3"
    with Store(path) as store:
        store.import_catalogue(TUBES)
    to_first_version(path)
    backup_folder(path).write_text("in the way")
    with pytest.raises(UserError, match=r"makes a backup first.*Nothing was changed"):
        Store(path)
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("SELECT * FROM alembic_version").fetchone() == ("0001",)


def test_a_damaged_store_is_not_backed_up_as_if_whole(tmp_path: Path) -> None:
    path = whole_store(tmp_path / "store.sqlite3")
    data = bytearray(path.read_bytes())
    for page in range(1, len(data) // 4096):
        data[page * 4096] = 0x77
    path.write_bytes(data)
    with pytest.raises(DamagedStoreError):
        back_up(path)
    assert backups_of(path) == []
