"""Where the store lies, how it is opened, and its tables brought up to date."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import sqlalchemy as sa
from sqlalchemy import event
from sqlalchemy.engine import URL, Connection, Engine, make_url

from tubewise.errors import UserError

# The newest step in migrations/versions.
HEAD = "0003"
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


@contextmanager
def explained(url: URL | str) -> Iterator[None]:
    """Turn the database's errors into one a person can act on. Passwords are never shown."""
    try:
        yield
    except sa.exc.OperationalError as error:
        reason = str(error.orig).strip().splitlines()[0] if str(error.orig).strip() else "no answer"
        raise UserError(
            f"The store can't be used ({reason}). Look whether the place exists, may be written, "
            "has room, and is not in use by another program.",
            where=_shown(url),
        ) from None
    except sa.exc.DatabaseError as error:
        reason = str(error.orig).strip().splitlines()[0] if str(error.orig).strip() else "unknown"
        raise UserError(
            f"This is no store of ours, or it is damaged ({reason}).", where=_shown(url)
        ) from None


def _shown(url: URL | str) -> str:
    return url if isinstance(url, str) else url.render_as_string(hide_password=True)


def open_engine(text: str) -> Engine:
    """An engine for a database URL, its tables brought up to date.

    Raises UserError where the URL is none, its driver is missing, the place can't be used, or a
    newer tubewise has written there.
    """
    try:
        url = make_url(text)
        if url.get_backend_name() not in ("sqlite", "postgresql"):
            raise UserError(
                "The store is SQLite or PostgreSQL: write sqlite:///FILE or postgresql://…",
                where="TUBEWISE_DB",
            )
        engine = _engine(url)
    except (sa.exc.ArgumentError, ValueError):
        raise UserError(
            "This is no database URL; write sqlite:///FILE or postgresql://USER@HOST/NAME.",
            where="TUBEWISE_DB",
        ) from None
    except ModuleNotFoundError as error:
        raise UserError(
            f"The database's driver {error.name} is not installed; "
            "for PostgreSQL: pip install 'tubewise[postgres]'.",
            where="TUBEWISE_DB",
        ) from None
    try:
        with explained(url):
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
    cursor.execute("PRAGMA synchronous = NORMAL")
    cursor.execute("PRAGMA cache_size = -65536")
    cursor.close()


def _begin(connection: Connection) -> None:
    # A writer takes its lock at once; asking for it midway could fail after half the work.
    writes = connection.get_execution_options().get("writes", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")


def _version(connection: Connection) -> str | None:
    if not sa.inspect(connection).has_table("alembic_version"):
        return None
    found = connection.execute(sa.text("SELECT version_num FROM alembic_version")).scalar()
    return None if found is None else str(found)


def _bring_up_to_date(engine: Engine) -> None:
    with engine.connect() as connection:
        if _version(connection) == HEAD:
            return
    with engine.execution_options(writes=True).begin() as connection:
        if engine.dialect.name == "postgresql":
            connection.execute(sa.text("SELECT pg_advisory_xact_lock(7478213)"))
        migrate(connection, HEAD)


def migrate(connection: Connection, target: str) -> None:
    """Run the steps up to `target` inside the connection's transaction."""
    from alembic import command
    from alembic.config import Config
    from alembic.script import ScriptDirectory

    config = Config()
    config.set_main_option(
        "script_location", str(Path(__file__).with_name("migrations")).replace("%", "%%")
    )
    config.attributes["connection"] = connection
    version = _version(connection)
    known = {step.revision for step in ScriptDirectory.from_config(config).walk_revisions()}
    if version is not None and version not in known:
        raise UserError(
            "A newer tubewise has written this store; bring this one up to date.",
            where=connection.engine.url.render_as_string(hide_password=True),
        )
    command.upgrade(config, target)
