"""A damaged store says that it is damaged and how to mend it, and is never read as if whole."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.store import damaged
from tests.store.damaged import DAMAGES, MANY, whole_store
from tests.store.tubes_for_tests import tube
from tubewise.demo.titles import TITLES
from tubewise.demo.workshop import folder
from tubewise.errors import UserError
from tubewise.store.backups import back_up, backups_of
from tubewise.store.damage import DamagedStoreError
from tubewise.store.database import sqlite_url
from tubewise.store.health import examine, refuse_damaged
from tubewise.store.mending import mend
from tubewise.store.restoring import restore
from tubewise.store.store import Store


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return whole_store(tmp_path / "store.sqlite3")


def read_all(path: Path) -> list[str]:
    with Store(path) as store:
        store.boxes()
        store.find("paint")
        return [found.name for found in store.catalogue()]


def test_a_whole_store_has_nothing_wrong(path: Path) -> None:
    health = examine(sqlite_url(path))
    assert health.faults == ()
    assert health.counts["tubes"] == len(MANY)
    refuse_damaged(sqlite_url(path))


def test_numbers_may_be_written_as_they_like(tmp_path: Path) -> None:
    """A column knows neither 4 from 4.0 nor 0.0 from -0.0, which is no damage."""
    tubes = [
        tube("Grey", "PBk9 PW6", price=4, size_ml=60, swatch_lab=(50, -0.0, 0)),
        tube("Black", "PBk9", price=0, swatch_lab=(20.0, 0.0, -0.0)),
        tube("White", "PW6", price=4.25, swatch_lab=(96.5, -1, 2)),
    ]
    with Store(tmp_path / "store.sqlite3") as store:
        store.import_catalogue(tubes)
    assert examine(sqlite_url(tmp_path / "store.sqlite3")).faults == ()


def test_the_demo_is_whole(tmp_path: Path) -> None:
    with Store(tmp_path / "store.sqlite3") as store:
        for name in TITLES:
            store.import_catalogue(folder(name) / "catalogue.csv")
            store.import_boxes(folder(name) / "boxes.csv", name)
    assert examine(sqlite_url(tmp_path / "store.sqlite3")).faults == ()


@pytest.mark.parametrize("damage", DAMAGES)
def test_a_damaged_store_says_how_to_mend_it(path: Path, damage: str) -> None:
    DAMAGES[damage](path)
    before = path.read_bytes()
    with pytest.raises(DamagedStoreError, match=r"damaged.*tubewise store restore"):
        read_all(path)
    assert examine(sqlite_url(path)).faults
    assert path.read_bytes() == before


@pytest.mark.parametrize("count", [1, 17, 512, 2048, 4095, 4096, 4097, 8192, 3 * 4096])
def test_no_cut_of_the_end_is_read_without_a_word(path: Path, count: int) -> None:
    damaged.cut(path, count)
    with pytest.raises(DamagedStoreError):
        Store(path).close()


def test_an_end_that_the_log_still_holds_is_no_damage(tmp_path: Path) -> None:
    """A process that is killed while it writes its log into the file leaves such an end."""
    with Store(tmp_path / "store.sqlite3") as store:
        store.import_catalogue(MANY)
        data = (tmp_path / "store.sqlite3").read_bytes()
        log = (tmp_path / "store.sqlite3-wal").read_bytes()
    killed = tmp_path / "killed.sqlite3"
    killed.write_bytes(data + log[32 + 24 : 32 + 24 + 700])
    killed.with_name("killed.sqlite3-wal").write_bytes(log)
    assert len(read_all(killed)) == len(MANY)


@pytest.mark.parametrize("seed", range(12))
def test_overwritten_pages_are_found_or_not_met(path: Path, seed: int) -> None:
    """What is read is what was written, or it is said that the store is damaged."""
    damaged.overwrite_pages(path, 0.1, seed)
    assert examine(sqlite_url(path)).faults
    with pytest.raises(DamagedStoreError):
        refuse_damaged(sqlite_url(path))
    try:
        names = read_all(path)
    except DamagedStoreError:
        return
    assert names == [known.name for known in MANY]


def test_changed_letters_are_found_by_the_check(path: Path) -> None:
    damaged.change_letters(path)
    assert any("is not as it was written" in fault for fault in examine(sqlite_url(path)).faults)


def test_a_write_without_a_count_of_revisions_is_refused(path: Path) -> None:
    with Store(path) as store:
        damaged.lose_revision(path)
        with pytest.raises(DamagedStoreError, match="revisions"):
            store.delete_box("1")
        assert [box.seat for box in store.boxes()] == ["1", "2"]


def test_a_lost_revision_is_made_anew_and_nothing_else_changes(path: Path) -> None:
    damaged.lose_revision(path)
    done = mend(sqlite_url(path))
    assert done.health.faults == ()
    assert done.replaced is not None and examine(sqlite_url(done.replaced)).faults
    with Store(path) as store:
        assert store.catalogue() == MANY
        assert store.find("paint 12").total > 0
        assert store.find(code="PB29").total == len(MANY)


def test_what_is_whole_is_not_mended(path: Path) -> None:
    assert mend(sqlite_url(path)).replaced is None
    assert backups_of(path) == []


@pytest.mark.parametrize("damage", DAMAGES)
def test_the_newest_backup_is_put_back(path: Path, damage: str) -> None:
    kept = back_up(path).path
    DAMAGES[damage](path)
    broken = path.read_bytes()
    done = restore(path)
    assert done.backup == kept
    with Store(path) as store:
        assert store.catalogue() == MANY
        assert store.import_catalogue(MANY[:1]).unchanged == 1
    assert done.replaced is not None and done.replaced.exists()
    if damage != "revision lost":
        assert done.replaced.read_bytes() == broken or examine(sqlite_url(done.replaced)).faults
    assert examine(sqlite_url(path)).faults == ()


def test_a_damaged_backup_is_not_put_back(path: Path, tmp_path: Path) -> None:
    bad = tmp_path / "bad.sqlite3"
    bad.write_bytes(path.read_bytes())
    damaged.overwrite_pages(bad, 0.5, 1)
    before = path.read_bytes()
    for file, words in (
        (bad, "damaged"),
        (tmp_path / "none", "no such file"),
        (path, "the store itself"),
    ):
        with pytest.raises(UserError, match=words):
            restore(path, file)
    assert path.read_bytes() == before


def test_without_a_backup_restoring_says_so(path: Path) -> None:
    with pytest.raises(UserError, match="no backup of this store yet"):
        restore(path)
