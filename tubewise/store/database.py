"""Where the store lies, how it is opened, and its tables brought up to date."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

import sqlalchemy as sa
from sqlalchemy import event
from sqlalchemy.engine import URL, Connection, Engine, make_url

from tubewise.errors import UserError
from tubewise.store.backups import back_up, dated_place
from tubewise.store.contents import content_faults
from tubewise.store.damage import DamagedStoreError, damage_of, first_line
from tubewise.store.pages import cut_short, page_faults

if TYPE_CHECKING:
    from alembic.config import Config

# The newest step in migrations/versions.
HEAD = "0005"
_BUSY_SECONDS = 15


def default_url() -> str:
    """`TUBEWISE_DB`, or a SQLite file where the platform keeps a person's data."""
    chosen = os.environ.get("TUBEWISE_DB", "").strip()
    if chosen:
        return chosen
    import platformdirs

    folder = Path(platformdirs.user_data_dir("tubewise", appauthor=False))
    return sqlite_url(folder / "tubewise.sqlite3")


def sqlite_url(path: str | Path) -> str:
    """The URL of a SQLite file."""
    return URL.create("sqlite", database=str(path)).render_as_string()


def sqlite_file(url: URL) -> Path | None:
    """The file of a SQLite store; None where it is none, or lies in memory."""
    if url.get_backend_name() != "sqlite" or url.database in (None, "", ":memory:"):
        return None
    return None if url.query.get("uri") else Path(str(url.database))


@contextmanager
def explained(url: URL) -> Iterator[None]:
    """Turn the database's errors into one a person can act on. Passwords are never shown."""
    where = url.render_as_string(hide_password=True)
    try:
        yield
    except UserError:
        raise
    except sa.exc.DBAPIError as error:
        raise (
            damage_of(error.orig, where)
            or _damage_behind(error, url, where)
            or unusable(error, where)
        ) from None
    except Exception as error:
        damage = _damage_behind(error, url, where)
        if damage is None:
            raise
        raise damage from error


def unusable(error: sa.exc.DBAPIError, where: str) -> UserError:
    """What the database answered, with what to do about it."""
    reason = first_line(error.orig)
    if isinstance(error, sa.exc.OperationalError):
        return UserError(
            f"The store can't be used ({reason}). Look whether the place exists, may be written, "
            "has room, and is not in use by another program.",
            where=where,
        )
    return UserError(f"The store refused this ({reason}). Nothing was changed.", where=where)


def _damage_behind(error: Exception, url: URL, where: str) -> DamagedStoreError | None:
    """Damage that made an error of another kind; None where the store is whole.

    A row whose page was overwritten can bring about anything when it is read: what looks like a
    fault of ours is only one if nothing is wrong with the store.
    """
    path = sqlite_file(url)
    if path is None or not path.is_file() or getattr(error, "sqlite_errorcode", 1) != 1:
        return None
    faults = page_faults(path)
    if not faults:
        engine = _engine(url)
        try:
            with engine.connect() as connection:
                if version_of(connection) == HEAD:
                    faults = [fault.words for fault in content_faults(connection)]
        except sa.exc.DBAPIError as again:
            faults = [first_line(again.orig)]
        finally:
            engine.dispose()
    return DamagedStoreError(faults[0], where=where, problems=faults[1:]) if faults else None


def url_of(text: str) -> URL:
    """The URL of a store. Raises UserError where it is none of a database that we use."""
    try:
        url = make_url(text)
    except (sa.exc.ArgumentError, ValueError):
        raise _no_url() from None
    if url.get_backend_name() not in ("sqlite", "postgresql"):
        raise UserError(
            "The store is SQLite or PostgreSQL: write sqlite:///FILE or postgresql://…",
            where="TUBEWISE_DB",
        )
    return url


def _no_url() -> UserError:
    return UserError(
        "This is no database URL; write sqlite:///FILE or postgresql://USER@HOST/NAME.",
        where="TUBEWISE_DB",
    )


def open_as_it_is(url: URL) -> Engine:
    """An engine for a store, nothing brought up to date. Raises UserError without its driver."""
    try:
        return _engine(url)
    except (sa.exc.ArgumentError, ValueError):
        raise _no_url() from None
    except ModuleNotFoundError as error:
        raise UserError(
            f"The database's driver {error.name} is not installed; "
            "for PostgreSQL: pip install 'tubewise[postgres]'.",
            where="TUBEWISE_DB",
        ) from None


def open_engine(text: str) -> Engine:
    """An engine for a database URL, its tables brought up to date.

    Raises UserError where the URL is none, its driver is missing, the place can't be used, or a
    newer tubewise has written there.
    """
    url = url_of(text)
    engine = open_as_it_is(url)
    try:
        with explained(url):
            _refuse_cut_short(url)
            _bring_up_to_date(engine)
    except BaseException:
        engine.dispose()
        raise
    return engine


def _engine(url: URL) -> Engine:
    if url.get_backend_name() != "sqlite":
        # A bare postgresql:// means the driver that new installations have.
        if url.drivername == "postgresql":
            url = url.set(drivername="postgresql+psycopg")
        return sa.create_engine(url, pool_pre_ping=True)
    if url.database and url.database != ":memory:":
        try:
            Path(url.database).parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise UserError(
                f"The store's folder can't be made ({error.strerror}).", where=url.database
            ) from None
    engine = sa.create_engine(url, connect_args={"timeout": _BUSY_SECONDS})
    event.listen(engine, "connect", _prepare)
    event.listen(engine, "begin", _begin)
    return engine


def _prepare(connection: Any, _record: object) -> None:
    # We begin transactions ourselves: the driver would begin too late to cover table changes.
    connection.isolation_level = None
    cursor = connection.cursor()
    cursor.execute("PRAGMA foreign_keys = ON")
    cursor.execute("PRAGMA journal_mode = WAL")
    # What was confirmed outlives a power cut too; NORMAL would outlive only a crash of ours.
    cursor.execute("PRAGMA synchronous = FULL")
    cursor.execute("PRAGMA cache_size = -65536")
    cursor.close()


def _begin(connection: Connection) -> None:
    # A writer takes its lock at once; asking for it midway could fail after half the work.
    writes = connection.get_execution_options().get("writes", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")


def version_of(connection: Connection) -> str | None:
    """The last step that the store's tables have seen; None where it holds none of ours."""
    if not sa.inspect(connection).has_table("alembic_version"):
        return None
    found = connection.execute(sa.text("SELECT version_num FROM alembic_version")).scalar()
    return None if found is None else str(found)


def _bring_up_to_date(engine: Engine) -> None:
    with engine.connect() as connection:
        if version_of(connection) == HEAD:
            return
    with engine.execution_options(writes=True).begin() as connection:
        if engine.dialect.name == "postgresql":
            connection.execute(sa.text("SELECT pg_advisory_xact_lock(7478213)"))
        old = version_of(connection)
        if old in known_versions() and old != HEAD:
            _back_up_before(engine.url, old)
        migrate(connection, HEAD)


def _refuse_cut_short(url: URL) -> None:
    path = sqlite_file(url)
    if path is not None and cut_short(path):
        raise DamagedStoreError(
            "the file ends amid a page: its end is cut off",
            where=url.render_as_string(hide_password=True),
        )


def _back_up_before(url: URL, version: str) -> None:
    """A copy of the store as it was before its tables change; they don't change without.

    The writer's lock is ours already, so that the copy is what the steps begin with. On PostgreSQL
    the steps are one transaction, and copies are its operator's to make.
    """
    path = sqlite_file(url)
    if path is None:
        return
    try:
        back_up(path, dated_place(path, f"before-step-after-{version}-"))
    except DamagedStoreError:
        raise
    except UserError as error:
        raise UserError(
            "A newer tubewise changes the store's tables, and makes a backup first, which failed: "
            f"{error.message} Nothing was changed.",
            where=error.where,
        ) from None


def _alembic() -> Config:
    from alembic.config import Config

    config = Config()
    config.set_main_option(
        "script_location", str(Path(__file__).with_name("migrations")).replace("%", "%%")
    )
    return config


def known_versions() -> set[str]:
    """Every step that this tubewise knows."""
    from alembic.script import ScriptDirectory

    return {step.revision for step in ScriptDirectory.from_config(_alembic()).walk_revisions()}


def migrate(connection: Connection, target: str) -> None:
    """Run the steps up to `target` inside the connection's transaction."""
    from alembic import command

    config = _alembic()
    config.attributes["connection"] = connection
    version = version_of(connection)
    if version is not None and version not in known_versions():
        raise UserError(
            "A newer tubewise has written this store; bring this one up to date.",
            where=connection.engine.url.render_as_string(hide_password=True),
        )
    command.upgrade(config, target)
