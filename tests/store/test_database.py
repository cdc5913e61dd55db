from __future__ import annotations

import sqlite3
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.store.tubes_for_tests import TUBES
from tubewise.errors import UserError
from tubewise.store import store as store_module
from tubewise.store.database import HEAD, default_url, migrate, open_engine, sqlite_url
from tubewise.store.store import Imported, Store


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


def test_a_store_from_before_swatches_had_a_geometry_keeps_its_tubes(tmp_path: Path) -> None:
    path = tmp_path / "store.sqlite3"
    with Store(path) as store:
        store.import_catalogue(TUBES)
    with sqlite3.connect(path) as connection:
        connection.execute("DROP TABLE pictures")
        connection.execute("DROP TABLE standins")
        connection.execute("DROP TABLE chosen_columns")
        connection.execute("ALTER TABLE tubes DROP COLUMN swatch_geometry")
        connection.execute("UPDATE alembic_version SET version_num = '0001'")
    with Store(path) as store:
        assert {tube.id: tube for tube in store.catalogue()} == {tube.id: tube for tube in TUBES}
        # What was in the file is known again: nothing that it can say has changed.
        again = store.import_catalogue(TUBES)
        assert (again.added, again.changed, again.unchanged) == (0, 0, len(TUBES))


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
