"""The store: catalogues, boxes, supply lists and measurements kept in a database.

Every import is one transaction: all rows or none. Deletions and withdrawals can be undone.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import Any, Self

import sqlalchemy as sa
from sqlalchemy.engine import Connection

from tubewise.store import chosen_columns, measurements, pictures, revision, search
from tubewise.store.boxes import boxes_of_set, import_box
from tubewise.store.chunks import chunks
from tubewise.store.database import default_url, explained, open_engine, sqlite_file, sqlite_url
from tubewise.store.finding import conditions as meeting
from tubewise.store.finding import maker_key, tubes_by_keys, tubes_where
from tubewise.store.measurements import Measurement
from tubewise.store.photographed import keep_in_box
from tubewise.store.pictures import KeptPicture
from tubewise.store.rows import TUBE_COLUMNS, now, supply_of_documents, tube_of_row
from tubewise.store.supply_lists import import_supply_list
from tubewise.store.tables import (
    BOXES,
    MEASUREMENTS,
    PICTURES,
    SUPPLY_LISTS,
    TUBES,
)
from tubewise.store.tube_import import distinct, import_tubes
from tubewise.store.tube_index import index, unindex
from tubewise.tubes.catalogue import read_boxes
from tubewise.tubes.exports import read_stock
from tubewise.tubes.folded import folded
from tubewise.tubes.supply import SupplyList, read_supply_list
from tubewise.tubes.tube import Box, Tube

_CHUNK = 2_000
Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class Imported:
    """What an import did, counted in tubes, boxes or lists."""

    added: int = 0
    changed: int = 0
    unchanged: int = 0


@dataclass(frozen=True, slots=True)
class Page:
    """Tubes `offset` to `offset + len(tubes)` of `total` found."""

    tubes: tuple[Tube, ...]
    total: int
    offset: int


class Store:
    """Opens the store at a database URL, by default where the platform keeps a person's data.

    Makes it and brings its tables up to date where needed. Raises UserError where the place can't
    be used. Use it as a context manager, or close it.
    """

    def __init__(self, url: str | Path | None = None) -> None:
        text = sqlite_url(url) if isinstance(url, Path) else url or default_url()
        self._engine = open_engine(text)
        self._writing = self._engine.execution_options(writes=True)
        self._vocabulary: search.Vocabulary | None = None

    @property
    def url(self) -> str:
        """Its address, the password within, to open it elsewhere."""
        return self._engine.url.render_as_string(hide_password=False)

    @property
    def is_shared(self) -> bool:
        """Whether other processes can open it: it does not lie in memory."""
        return self._engine.url.get_backend_name() != "sqlite" or bool(
            sqlite_file(self._engine.url)
        )

    def close(self) -> None:
        """Let go of the database."""
        self._engine.dispose()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    @contextmanager
    def _reads(self) -> Iterator[Connection]:
        with explained(self._engine.url), self._engine.begin() as connection:
            yield connection

    @contextmanager
    def _writes(self) -> Iterator[Connection]:
        with explained(self._engine.url), self._writing.begin() as connection:
            if connection.dialect.name == "postgresql":
                # One writer at a time, as in SQLite, so that counts and versions hold.
                connection.execute(sa.text("SELECT pg_advisory_xact_lock(7478214)"))
            yield connection
            revision.advance(connection)

    def import_catalogue(
        self, source: str | Path | Iterable[Tube], progress: Progress | None = None
    ) -> Imported:
        """Add tubes from a file or from tubes; those known already are brought up to date.

        `progress` is called with tubes done and all tubes. Tubes that the file leaves out stay.
        """
        tubes = read_stock(source) if isinstance(source, (str, Path)) else distinct(list(source))
        counts = {"added": 0, "changed": 0, "unchanged": 0}
        with self._writes() as connection:
            vocabulary = self._words(connection)
            done = 0
            for chunk in chunks(tubes, _CHUNK):
                for outcome, count in import_tubes(connection, chunk, vocabulary).items():
                    counts[outcome] += count
                done += len(chunk)
                if progress is not None:
                    progress(done, len(tubes))
        return Imported(**counts)

    def chosen_columns(self) -> dict[str, str]:
        """What was said of the columns of exports, by heading."""
        with self._reads() as connection:
            return chosen_columns.chosen(connection)

    def choose_columns(self, chosen: Mapping[str, str]) -> None:
        """Remember which column is which, so that the next export needs no telling."""
        if chosen:
            with self._writes() as connection:
                chosen_columns.choose(connection, chosen)

    def import_boxes(self, source: str | Path | Iterable[Box], name: str = "") -> Imported:
        """Add boxes to the set called `name`; a seat known already gets the new contents.

        Seats that the file leaves out stay.
        """
        boxes = read_boxes(source) if isinstance(source, (str, Path)) else list(source)
        counts = {"added": 0, "changed": 0, "unchanged": 0}
        with self._writes() as connection:
            for box in boxes:
                counts[import_box(connection, box, name)] += 1
        return Imported(**counts)

    def import_supply_list(self, source: str | Path | SupplyList) -> Imported:
        """Add a supply list, or bring the one of its name up to date."""
        supply = source if isinstance(source, SupplyList) else read_supply_list(source)
        with self._writes() as connection:
            return Imported(**{import_supply_list(connection, supply): 1})

    def find(
        self,
        name: str = "",
        *,
        code: str = "",
        maker: str = "",
        medium: str = "",
        grade: str = "",
        in_stock: bool = False,
        limit: int = 50,
        offset: int = 0,
    ) -> Page:
        """Tubes that meet every condition given.

        `name` may be misspelt or cut short: best matches first, at most 200. `code` is a pigment,
        with its form or without (`PV19`, `PV19/gamma`). `maker` may be misspelt where no maker is
        called so. Without a name, tubes come in the order they were added.
        """
        limit, offset = max(0, limit), max(0, offset)
        with self._reads() as connection:
            where = meeting(code, medium, grade, in_stock)
            if maker:
                key = maker_key(connection, maker)
                if key is None:
                    return Page((), 0, offset)
                where.append(TUBES.c.maker_key == key)
            if name:
                vocabulary = self._current_vocabulary(connection)
                pks = search.find_by_name(connection, name, vocabulary, where)
                tubes = tubes_by_keys(connection, pks[offset : offset + limit])
                return Page(tubes, len(pks), offset)
            total = connection.execute(
                sa.select(sa.func.count())
                .select_from(TUBES)
                .where(TUBES.c.deleted_at.is_(None), *where)
            ).scalar_one()
            found = tubes_where(connection, *where, limit=limit, offset=offset)
            return Page(tuple(found), total, offset)

    def tube(self, tube_id: str) -> Tube | None:
        """The tube of an id, unless it is deleted."""
        with self._reads() as connection:
            return next(iter(tubes_where(connection, TUBES.c.id == tube_id)), None)

    def catalogue(self) -> list[Tube]:
        """Every tube, in the order they were added."""
        with self._reads() as connection:
            return tubes_where(connection)

    def delete_tube(self, tube_id: str) -> bool:
        """Take a tube out of every search; whether it was there. `restore_tube` undoes it."""
        with self._writes() as connection:
            pk = connection.execute(
                sa.update(TUBES)
                .where(TUBES.c.id == tube_id, TUBES.c.deleted_at.is_(None))
                .values(deleted_at=now())
                .returning(TUBES.c.pk)
            ).scalar()
            if pk is not None:
                unindex(connection, [pk])
            return pk is not None

    def restore_tube(self, tube_id: str) -> bool:
        """Bring a deleted tube back; whether there was one."""
        with self._writes() as connection:
            row = (
                connection.execute(
                    sa.update(TUBES)
                    .where(TUBES.c.id == tube_id, TUBES.c.deleted_at.is_not(None))
                    .values(deleted_at=None)
                    .returning(TUBES.c.pk, *TUBE_COLUMNS)
                )
                .mappings()
                .first()
            )
            if row is not None:
                tube = tube_of_row(dict(row))
                index(connection, [(row["pk"], tube)], self._words(connection))
            return row is not None

    def boxes(self, name: str = "") -> list[Box]:
        """The boxes of a set, in the order they were added."""
        with self._reads() as connection:
            return boxes_of_set(connection, name)

    def box_names(self) -> list[str]:
        """The names of all sets of boxes."""
        with self._reads() as connection:
            return list(
                connection.execute(
                    sa.select(BOXES.c.name)
                    .where(BOXES.c.deleted_at.is_(None))
                    .distinct()
                    .order_by(BOXES.c.name)
                ).scalars()
            )

    def delete_box(self, seat: str, name: str = "") -> bool:
        """Take a box away; whether it was there. `restore_box` undoes it."""
        return self._mark(BOXES, "deleted_at", True, seat_key=folded(seat), name=name)

    def restore_box(self, seat: str, name: str = "") -> bool:
        """Bring a deleted box back; whether there was one."""
        return self._mark(BOXES, "deleted_at", False, seat_key=folded(seat), name=name)

    def supply_list(self, name: str) -> SupplyList | None:
        """The supply list of a name, unless it is deleted."""
        with self._reads() as connection:
            row = connection.execute(
                sa.select(SUPPLY_LISTS).where(
                    SUPPLY_LISTS.c.name == name, SUPPLY_LISTS.c.deleted_at.is_(None)
                )
            ).first()
            return None if row is None else supply_of_documents(row.name, row.slots, row.mixes)

    def supply_list_names(self) -> list[str]:
        """The names of all supply lists."""
        with self._reads() as connection:
            return list(
                connection.execute(
                    sa.select(SUPPLY_LISTS.c.name)
                    .where(SUPPLY_LISTS.c.deleted_at.is_(None))
                    .order_by(SUPPLY_LISTS.c.name)
                ).scalars()
            )

    def delete_supply_list(self, name: str) -> bool:
        """Take a supply list away; whether it was there. `restore_supply_list` undoes it."""
        return self._mark(SUPPLY_LISTS, "deleted_at", True, name=name)

    def restore_supply_list(self, name: str) -> bool:
        """Bring a deleted supply list back; whether there was one."""
        return self._mark(SUPPLY_LISTS, "deleted_at", False, name=name)

    def add_measurement(
        self,
        tube_id: str,
        *,
        raw: Mapping[str, Any],
        fit: Mapping[str, Any],
        measured_on: datetime.date | None = None,
        instrument: str = "",
        conditions: str = "",
    ) -> Measurement:
        """Keep a measurement as the tube's next version; earlier ones stay.

        `raw` and `fit` are JSON values: finite numbers, strings, lists and mappings.
        """
        measurements.refuse_what_json_loses(raw, fit)
        with self._writes() as connection:
            return measurements.keep(
                connection,
                tube_id,
                raw=raw,
                fit=fit,
                measured_on=measured_on,
                instrument=instrument,
                conditions=conditions,
            )

    def measurements(self, tube_id: str) -> list[Measurement]:
        """All measurements of a tube, withdrawn ones too, oldest version first."""
        with self._reads() as connection:
            return measurements.versions(connection, tube_id)

    def measured(self, tube_ids: Iterable[str] | None = None) -> dict[str, Measurement]:
        """The newest measurement that is not withdrawn, of each tube or of those asked for."""
        with self._reads() as connection:
            return measurements.newest(connection, tube_ids)

    def withdraw(self, tube_id: str, version: int) -> bool:
        """Set a measurement aside; whether it was in use. `reinstate` undoes it."""
        return self._mark(MEASUREMENTS, "withdrawn_at", True, tube_id=tube_id, version=version)

    def reinstate(self, tube_id: str, version: int) -> bool:
        """Use a withdrawn measurement again; whether there was one."""
        return self._mark(MEASUREMENTS, "withdrawn_at", False, tube_id=tube_id, version=version)

    def keep_in_box(
        self, box: Box, name: str, *, instead: bool, kept: Sequence[KeptPicture]
    ) -> None:
        """Add tubes to a seat's box of the set `name`, or put them `instead`, with pictures."""
        with self._writes() as connection:
            keep_in_box(connection, box, name, instead=instead, kept=kept)

    def pictures_of(self, tube: Tube) -> list[int]:
        """The numbers of a tube's pictures, newest first; none kept of another label."""
        with self._reads() as connection:
            return pictures.numbers_of(connection, tube)

    def picture(self, number: int) -> KeptPicture | None:
        """The picture of a number, or None."""
        with self._reads() as connection:
            return pictures.picture(connection, number)

    def withdraw_picture(self, number: int) -> bool:
        """Set a picture aside; whether there was one in use."""
        return self._mark(PICTURES, "withdrawn_at", True, pk=number)

    def reinstate_picture(self, number: int) -> bool:
        """Show a withdrawn picture again; whether there was one."""
        return self._mark(PICTURES, "withdrawn_at", False, pk=number)

    def _mark(self, table: sa.Table, column: str, on: bool, **keys: object) -> bool:
        mark = table.c[column]
        with self._writes() as connection:
            marked = connection.execute(
                sa.update(table)
                .where(
                    *(table.c[key] == value for key, value in keys.items()),
                    mark.is_(None) if on else mark.is_not(None),
                )
                .values({column: now() if on else None})
                .returning(table.c.pk)
            ).scalar()
            return marked is not None

    def _words(self, connection: Connection) -> dict[str, int]:
        vocabulary = self._current_vocabulary(connection)
        return dict(zip(vocabulary.words, vocabulary.pks, strict=True))

    def _current_vocabulary(self, connection: Connection) -> search.Vocabulary:
        number = revision.current(connection)
        if self._vocabulary is None or self._vocabulary.revision != number:
            self._vocabulary = search.load_vocabulary(connection, number)
        return self._vocabulary
