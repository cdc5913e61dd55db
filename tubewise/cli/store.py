"""`tubewise store`: whether the store is whole, copies of it, and a copy put back."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from tubewise.cli.options import Json

if TYPE_CHECKING:
    from tubewise.store.backups import Backup
    from tubewise.store.health import Health

app = typer.Typer(
    help="Look after the store: check it, back it up, mend it, put a backup back.",
    no_args_is_help=True,
)

FOUND_SOMETHING = 1
_SHOWN_BACKUPS = 5


@app.command("check")
def check(as_json: Json = False) -> None:
    """Look whether the store is whole: its pages, and each row as it was written.

    Ends with status 1 where something is wrong. Changes nothing.
    """
    from tubewise.cli import show
    from tubewise.store.database import default_url
    from tubewise.store.health import examine

    health = examine(default_url())
    if as_json:
        show.print_json(health)
    else:
        _print(health)
    if health.faults:
        raise typer.Exit(FOUND_SOMETHING)


@app.command("backup")
def backup(
    out: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Where to; else beside the store, named by date."),
    ] = None,
    as_json: Json = False,
) -> None:
    """Copy the store as it stands, also while others use it. The copy is checked."""
    from tubewise.cli import show
    from tubewise.store.backups import back_up

    made = back_up(_file("pg_dump --format=custom --file=tubewise.dump NAME"), out)
    if as_json:
        show.print_json(made)
    else:
        print(f"Backed up to {made.path} ({made.size / 2**20:.1f} MB).")


@app.command("restore")
def restore(
    file: Annotated[
        Path | None,
        typer.Argument(metavar="[FILE]", help="A backup; else the newest that is whole."),
    ] = None,
    as_json: Json = False,
) -> None:
    """Put a backup in the store's place; what was there is kept beside the backups."""
    from tubewise.cli import show
    from tubewise.store.restoring import restore as put_back

    done = put_back(_file("pg_restore --clean --if-exists --dbname=NAME tubewise.dump"), file)
    if as_json:
        show.print_json(done)
        return
    print(f"The store is as in {done.backup} again.")
    if done.replaced:
        print(f"What was there before is kept: {done.replaced}")
    print("Measurements and boxes changed since then are not in it; pages show it at once.")


@app.command("mend")
def mend(as_json: Json = False) -> None:
    """Make anew what can be made from the rest: indexes, and the count of revisions.

    Nothing that a person entered is touched, and a copy of the store as it was is kept.
    """
    from tubewise.cli import show
    from tubewise.store.database import default_url
    from tubewise.store.mending import mend as make_anew

    done = make_anew(default_url())
    if as_json:
        show.print_json(done)
    else:
        if done.replaced:
            print(f"The store as it was is kept: {done.replaced}")
        _print(done.health)
    if done.health.faults:
        raise typer.Exit(FOUND_SOMETHING)


def _file(instead: str) -> Path:
    """The file of the store. Raises UserError on PostgreSQL, which has its own means."""
    from tubewise.errors import UserError
    from tubewise.store.database import default_url, sqlite_file, url_of

    url = url_of(default_url())
    path = sqlite_file(url)
    if path is not None:
        return path
    if url.get_backend_name() == "postgresql":
        raise UserError(
            f"This store is on PostgreSQL, which has its own means: {instead}",
            where=url.render_as_string(hide_password=True),
        )
    raise UserError("This store is no file of its own.", where=str(url))


def _print(health: Health) -> None:
    counts = ", ".join(f"{count} {name}" for name, count in health.counts.items())
    print(f"{health.place}: {counts}" if counts else health.place)
    if health.note:
        print(health.note)
    if not health.faults:
        print("Nothing is wrong with it.")
    else:
        print("It is damaged:")
        for fault in health.faults:
            print(f"  {fault}" + (" (can be made anew)" if fault in health.remade else ""))
        print(_advice(health))
    for backup in health.backups[:_SHOWN_BACKUPS]:
        print(f"  backup of {backup.made:%Y-%m-%d %H:%M:%S}: {backup.path}")
    if len(health.backups) > _SHOWN_BACKUPS:
        print(f"  and {len(health.backups) - _SHOWN_BACKUPS} older ones")


def _advice(health: Health) -> str:
    """What to do next."""
    if set(health.faults) <= set(health.remade):
        return "`tubewise store mend` makes all of it anew; nothing that anybody entered is lost."
    newest: Backup | None = next(iter(health.backups), None)
    if newest is None:
        return (
            "There is no backup. `tubewise store mend` tries what can be made anew; catalogues and "
            "boxes can be imported again into another store (TUBEWISE_DB)."
        )
    return (
        f"`tubewise store mend` tries what can be made anew; `tubewise store restore` puts the "
        f"backup of {newest.made:%Y-%m-%d %H:%M} in its place."
    )
