"""The store: catalogues, boxes, supply lists and measurements kept in a database.

Every import is one transaction: all rows or none. Deletions and withdrawals can be undone.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from types import TracebackType
from typing import Any, Self, TypeVar

import sqlalchemy as sa
from sqlalchemy.engine import Connection
from sqlalchemy.sql.elements import ColumnElement

from tubewise import labels
from tubewise.errors import UserError
from tubewise.pigments.ref import Ref
from tubewise.store import search
from tubewise.store.database import default_url, open_engine, sqlite_url, told
from tubewise.store.rows import (
    TUBE_COLUMNS,
    digest,
    supply_documents,
    supply_of_documents,
    tube_document,
    tube_of_document,
    tube_of_row,
    tube_row,
)
from tubewise.store.tables import (
    BOX_TUBES,
    BOXES,
    MEASUREMENTS,
    REVISION,
    SUPPLY_LISTS,
    TUBE_PIGMENTS,
    TUBE_WORDS,
    TUBES,
    WORDS,
)
from tubewise.tubes.catalogue import read_boxes, read_catalogue
from tubewise.tubes.slug import slug
from tubewise.tubes.supply import SupplyList, read_supply_list
from tubewise.tubes.tube import Box, Tube

_CHUNK = 2_000
_ASKED_AT_ONCE = 500
Progress = Callable[[int, int], None]
_T = TypeVar("_T")


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


@dataclass(frozen=True, slots=True)
class Measurement:
    """Measured optics of one tube: what was measured, and K and S fitted to it, as JSON values."""

    tube_id: str
    version: int
    measured_on: datetime.date | None
    instrument: str
    conditions: str
    raw: Mapping[str, Any]
    fit: Mapping[str, Any]
    withdrawn: bool


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
        with told(self._engine.url), self._engine.begin() as connection:
            yield connection

    @contextmanager
    def _writes(self) -> Iterator[Connection]:
        with told(self._engine.url), self._writing.begin() as connection:
            if connection.dialect.name == "postgresql":
                # One writer at a time, as in SQLite, so that counts and versions hold.
                connection.execute(sa.text("SELECT pg_advisory_xact_lock(7478214)"))
            yield connection
            connection.execute(sa.update(REVISION).values(number=REVISION.c.number + 1))

    # ------------------------------------------------------------ imports

    def import_catalogue(
        self, source: str | Path | Iterable[Tube], progress: Progress | None = None
    ) -> Imported:
        """Add tubes from a file or from tubes; those known already are brought up to date.

        `progress` is called with tubes done and all tubes. Tubes that the file leaves out stay.
        """
        tubes = (
            read_catalogue(source) if isinstance(source, (str, Path)) else _distinct(list(source))
        )
        counts = {"added": 0, "changed": 0, "unchanged": 0}
        with self._writes() as connection:
            vocabulary = self._words(connection)
            done = 0
            for chunk in _chunks(tubes, _CHUNK):
                for outcome, count in _import_tubes(connection, chunk, vocabulary).items():
                    counts[outcome] += count
                done += len(chunk)
                if progress is not None:
                    progress(done, len(tubes))
        return Imported(**counts)

    def import_boxes(self, source: str | Path | Iterable[Box], name: str = "") -> Imported:
        """Add boxes to the set called `name`; a seat known already gets the new contents.

        Seats that the file leaves out stay.
        """
        boxes = read_boxes(source) if isinstance(source, (str, Path)) else list(source)
        counts = {"added": 0, "changed": 0, "unchanged": 0}
        with self._writes() as connection:
            for box in boxes:
                counts[_import_box(connection, box, name)] += 1
        return Imported(**counts)

    def import_supply_list(self, source: str | Path | SupplyList) -> Imported:
        """Add a supply list, or bring the one of its name up to date."""
        supply = source if isinstance(source, SupplyList) else read_supply_list(source)
        slots, mixes = supply_documents(supply)
        row = {
            "name": supply.name,
            "slots": slots,
            "mixes": mixes,
            "digest": digest([slots, mixes]),
            "changed_at": _now(),
            "deleted_at": None,
        }
        with self._writes() as connection:
            old = connection.execute(
                sa.select(SUPPLY_LISTS).where(SUPPLY_LISTS.c.name == supply.name)
            ).first()
            if old is None:
                connection.execute(sa.insert(SUPPLY_LISTS).values(row))
                return Imported(added=1)
            if old.digest == row["digest"] and old.deleted_at is None:
                return Imported(unchanged=1)
            connection.execute(
                sa.update(SUPPLY_LISTS).where(SUPPLY_LISTS.c.pk == old.pk).values(row)
            )
            return Imported(changed=1)

    # ------------------------------------------------------------ tubes

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
            where = _conditions(code, medium, grade, in_stock)
            if maker:
                key = _maker_key(connection, maker)
                if key is None:
                    return Page((), 0, offset)
                where.append(TUBES.c.maker_key == key)
            if name:
                vocabulary = self._current_vocabulary(connection)
                pks = search.find_by_name(connection, name, vocabulary, where)
                tubes = _by_pks(connection, pks[offset : offset + limit])
                return Page(tubes, len(pks), offset)
            where.append(TUBES.c.deleted_at.is_(None))
            total = connection.execute(
                sa.select(sa.func.count()).select_from(TUBES).where(*where)
            ).scalar_one()
            rows = connection.execute(
                sa.select(*TUBE_COLUMNS)
                .where(*where)
                .order_by(TUBES.c.pk)
                .limit(limit)
                .offset(offset)
            ).mappings()
            return Page(tuple(tube_of_row(dict(row)) for row in rows), total, offset)

    def tube(self, tube_id: str) -> Tube | None:
        """The tube of an id, unless it is deleted."""
        with self._reads() as connection:
            row = (
                connection.execute(
                    sa.select(*TUBE_COLUMNS).where(
                        TUBES.c.id == tube_id, TUBES.c.deleted_at.is_(None)
                    )
                )
                .mappings()
                .first()
            )
            return None if row is None else tube_of_row(dict(row))

    def catalogue(self) -> list[Tube]:
        """Every tube, in the order they were added."""
        with self._reads() as connection:
            rows = connection.execute(
                sa.select(*TUBE_COLUMNS).where(TUBES.c.deleted_at.is_(None)).order_by(TUBES.c.pk)
            ).mappings()
            return [tube_of_row(dict(row)) for row in rows]

    def delete_tube(self, tube_id: str) -> bool:
        """Take a tube out of every search; whether it was there. `restore_tube` undoes it."""
        with self._writes() as connection:
            pk = connection.execute(
                sa.update(TUBES)
                .where(TUBES.c.id == tube_id, TUBES.c.deleted_at.is_(None))
                .values(deleted_at=_now())
                .returning(TUBES.c.pk)
            ).scalar()
            if pk is not None:
                _unindex(connection, [pk])
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
                _index(connection, [(row["pk"], tube)], self._words(connection))
            return row is not None

    # ------------------------------------------------------------ boxes and lists

    def boxes(self, name: str = "") -> list[Box]:
        """The boxes of a set, in the order they were added."""
        with self._reads() as connection:
            rows = connection.execute(
                sa.select(BOXES.c.pk, BOXES.c.seat, BOX_TUBES.c.row)
                .select_from(BOXES.outerjoin(BOX_TUBES, BOX_TUBES.c.box_pk == BOXES.c.pk))
                .where(BOXES.c.name == name, BOXES.c.deleted_at.is_(None))
                .order_by(BOXES.c.pk, BOX_TUBES.c.position)
            )
            found: dict[int, tuple[str, list[Tube]]] = {}
            for pk, seat, document in rows:
                tubes = found.setdefault(pk, (seat, []))[1]
                if document is not None:
                    tubes.append(tube_of_document(document))
            return [Box(seat, tuple(tubes)) for seat, tubes in found.values()]

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
        return self._mark(BOXES, "deleted_at", True, seat_key=_seat_key(seat), name=name)

    def restore_box(self, seat: str, name: str = "") -> bool:
        """Bring a deleted box back; whether there was one."""
        return self._mark(BOXES, "deleted_at", False, seat_key=_seat_key(seat), name=name)

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

    # ------------------------------------------------------------ measurements

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
        try:
            digest([raw, fit])
            _finite([raw, fit])
        except (TypeError, ValueError) as error:
            raise UserError(f"The measurement holds what JSON can't keep ({error}).") from None
        with self._writes() as connection:
            last = connection.execute(
                sa.select(sa.func.max(MEASUREMENTS.c.version)).where(
                    MEASUREMENTS.c.tube_id == tube_id
                )
            ).scalar()
            kept = Measurement(
                tube_id=tube_id,
                version=(last or 0) + 1,
                measured_on=measured_on,
                instrument=instrument,
                conditions=conditions,
                raw=dict(raw),
                fit=dict(fit),
                withdrawn=False,
            )
            connection.execute(
                sa.insert(MEASUREMENTS).values(
                    tube_id=tube_id,
                    version=kept.version,
                    measured_on=measured_on,
                    instrument=instrument,
                    conditions=conditions,
                    raw=kept.raw,
                    fit=kept.fit,
                    added_at=_now(),
                    withdrawn_at=None,
                )
            )
            return kept

    def measurements(self, tube_id: str) -> list[Measurement]:
        """All measurements of a tube, withdrawn ones too, oldest version first."""
        with self._reads() as connection:
            rows = connection.execute(
                sa.select(MEASUREMENTS)
                .where(MEASUREMENTS.c.tube_id == tube_id)
                .order_by(MEASUREMENTS.c.version)
            )
            return [_measurement(row) for row in rows]

    def measured(self, tube_ids: Iterable[str] | None = None) -> dict[str, Measurement]:
        """The newest measurement that is not withdrawn, of each tube or of those asked for."""
        with self._reads() as connection:
            query = (
                sa.select(MEASUREMENTS)
                .where(MEASUREMENTS.c.withdrawn_at.is_(None))
                .order_by(MEASUREMENTS.c.version)
            )
            wanted = None if tube_ids is None else set(tube_ids)
            if wanted is not None and len(wanted) <= _ASKED_AT_ONCE:
                query = query.where(MEASUREMENTS.c.tube_id.in_(wanted))
            found = [_measurement(row) for row in connection.execute(query)]
            return {m.tube_id: m for m in found if wanted is None or m.tube_id in wanted}

    def withdraw(self, tube_id: str, version: int) -> bool:
        """Set a measurement aside; whether it was in use. `reinstate` undoes it."""
        return self._mark(MEASUREMENTS, "withdrawn_at", True, tube_id=tube_id, version=version)

    def reinstate(self, tube_id: str, version: int) -> bool:
        """Use a withdrawn measurement again; whether there was one."""
        return self._mark(MEASUREMENTS, "withdrawn_at", False, tube_id=tube_id, version=version)

    # ------------------------------------------------------------ inside

    def _mark(self, table: sa.Table, column: str, on: bool, **keys: object) -> bool:
        mark = table.c[column]
        with self._writes() as connection:
            marked = connection.execute(
                sa.update(table)
                .where(
                    *(table.c[key] == value for key, value in keys.items()),
                    mark.is_(None) if on else mark.is_not(None),
                )
                .values({column: _now() if on else None})
                .returning(table.c.pk)
            ).scalar()
            return marked is not None

    def _words(self, connection: Connection) -> dict[str, int]:
        vocabulary = self._current_vocabulary(connection)
        return dict(zip(vocabulary.words, vocabulary.pks, strict=True))

    def _current_vocabulary(self, connection: Connection) -> search.Vocabulary:
        revision = connection.execute(sa.select(REVISION.c.number)).scalar_one()
        if self._vocabulary is None or self._vocabulary.revision != revision:
            self._vocabulary = search.load_vocabulary(connection, revision)
        return self._vocabulary


# ---------------------------------------------------------------- tubes in and out


def _now() -> datetime.datetime:
    return datetime.datetime.now(datetime.UTC)


def _chunks(items: Sequence[_T], size: int) -> Iterator[list[_T]]:
    rest = iter(items)
    while chunk := list(islice(rest, size)):
        yield chunk


def _distinct(tubes: list[Tube]) -> list[Tube]:
    """The tubes, equal ones folded. Raises UserError where two that differ share an id."""
    found: dict[str, Tube] = {}
    problems = []
    for tube in tubes:
        if found.setdefault(tube.id, tube) != tube:
            problems.append(f"{tube.id}: two tubes that differ have this id")
    if problems:
        raise UserError("These tubes contradict each other; nothing was kept.", problems=problems)
    return list(found.values())


def _import_tubes(
    connection: Connection, tubes: Sequence[Tube], words: dict[str, int]
) -> dict[str, int]:
    old: dict[str, tuple[int, str, bool]] = {}
    for some in _chunks(tubes, _ASKED_AT_ONCE):
        for known in connection.execute(
            sa.select(TUBES.c.id, TUBES.c.pk, TUBES.c.digest, TUBES.c.deleted_at).where(
                TUBES.c.id.in_([tube.id for tube in some])
            )
        ):
            old[known.id] = (known.pk, known.digest, known.deleted_at is not None)
    now = _now()
    fresh: list[tuple[Tube, dict[str, Any]]] = []
    changed: list[tuple[int, Tube]] = []
    for tube in tubes:
        row = tube_row(tube)
        if tube.id not in old:
            fresh.append((tube, {**row, "added_at": now, "changed_at": now, "deleted_at": None}))
            continue
        pk, kept, deleted = old[tube.id]
        if kept != row["digest"] or deleted:
            connection.execute(
                sa.update(TUBES)
                .where(TUBES.c.pk == pk)
                .values({**row, "changed_at": now, "deleted_at": None})
            )
            changed.append((pk, tube))
    if changed:
        _unindex(connection, [pk for pk, _ in changed])
    added: list[tuple[int, Tube]] = []
    if fresh:
        # Asking for the keys afterwards is several times faster than having them returned.
        connection.execute(sa.insert(TUBES), [row for _, row in fresh])
        by_id = {tube.id: tube for tube, _ in fresh}
        for asked in _chunks(list(by_id), _ASKED_AT_ONCE):
            added += [
                (kept.pk, by_id[kept.id])
                for kept in connection.execute(
                    sa.select(TUBES.c.pk, TUBES.c.id).where(TUBES.c.id.in_(asked))
                )
            ]
        added.sort(key=lambda entry: entry[0])
    _index(connection, changed + added, words)
    return {
        "added": len(added),
        "changed": len(changed),
        "unchanged": len(tubes) - len(added) - len(changed),
    }


def _unindex(connection: Connection, pks: Sequence[int]) -> None:
    for chunk in _chunks(pks, _ASKED_AT_ONCE):
        connection.execute(sa.delete(TUBE_PIGMENTS).where(TUBE_PIGMENTS.c.tube_pk.in_(chunk)))
        connection.execute(sa.delete(TUBE_WORDS).where(TUBE_WORDS.c.tube_pk.in_(chunk)))


def _index(
    connection: Connection, tubes: Sequence[tuple[int, Tube]], words: dict[str, int]
) -> None:
    """Make the living tubes findable by pigment and word; new words are added to `words`."""
    spelt = {pk: search.words_of(tube.maker, tube.line, tube.name) for pk, tube in tubes}
    unknown = sorted({word for found in spelt.values() for word in found} - words.keys())
    if unknown:
        pks = connection.execute(
            sa.insert(WORDS).returning(WORDS.c.pk, sort_by_parameter_order=True),
            [{"word": word} for word in unknown],
        ).scalars()
        words.update(zip(unknown, pks, strict=True))
    postings: list[tuple[Any, ...]] = sorted(
        (words[word], pk, len(found)) for pk, found in spelt.items() for word in found
    )
    _insert_plain(connection, TUBE_WORDS, ("word_pk", "tube_pk", "among"), postings)
    pigments: dict[tuple[str, int, str], int] = {}
    for pk, tube in tubes:
        # Not `tube.reading`, which would keep every reading of a long catalogue in memory.
        reading = labels.read(tube.label, name=tube.name)
        for position, declared in enumerate(reading.pigments):
            pigments.setdefault((declared.code, pk, declared.form), position)
    _insert_plain(
        connection,
        TUBE_PIGMENTS,
        ("code", "tube_pk", "form", "position"),
        sorted((*key, position) for key, position in pigments.items()),
    )


def _insert_plain(
    connection: Connection, table: sa.Table, columns: Sequence[str], rows: list[tuple[Any, ...]]
) -> None:
    """Insert rows of plain values, without the cost of typed parameters: they are many."""
    if not rows:
        return
    mark = "?" if connection.dialect.paramstyle == "qmark" else "%s"
    marks = ", ".join(mark for _ in columns)
    connection.exec_driver_sql(
        f"INSERT INTO {table.name} ({', '.join(columns)}) VALUES ({marks})", rows
    )


def _conditions(code: str, medium: str, grade: str, in_stock: bool) -> list[ColumnElement[bool]]:
    where: list[ColumnElement[bool]] = []
    if code:
        ref = _wanted_ref(code)
        having = sa.select(TUBE_PIGMENTS.c.tube_pk).where(TUBE_PIGMENTS.c.code == ref.code)
        if ref.form:
            having = having.where(TUBE_PIGMENTS.c.form == ref.form)
        where.append(TUBES.c.pk.in_(having))
    if medium:
        where.append(TUBES.c.medium == medium)
    if grade:
        where.append(TUBES.c.grade == grade)
    if in_stock:
        where.append(TUBES.c.stock > 0)
    return where


def _wanted_ref(code: str) -> Ref:
    """The pigment that a search means, also one that no register lists. Raises UserError."""
    declared = labels.read(code).pigments
    if len(declared) == 1 and not declared[0].name:
        return Ref(declared[0].code)
    return labels.typed_ref(code, where=f"“{code}”")


def _maker_key(connection: Connection, maker: str) -> str | None:
    """The folded name of the maker meant: as spelt, or else the nearest there is."""
    from rapidfuzz import fuzz, process

    key = slug(maker)
    known = connection.execute(
        sa.select(TUBES.c.pk).where(TUBES.c.maker_key == key).limit(1)
    ).scalar()
    if known is not None:
        return key
    makers = connection.execute(sa.select(TUBES.c.maker_key).distinct()).scalars().all()
    nearest = process.extractOne(key, makers, scorer=fuzz.WRatio, score_cutoff=75)
    return None if nearest is None else str(nearest[0])


def _by_pks(connection: Connection, pks: Sequence[int]) -> tuple[Tube, ...]:
    if not pks:
        return ()
    rows = connection.execute(
        sa.select(TUBES.c.pk, *TUBE_COLUMNS).where(TUBES.c.pk.in_(pks))
    ).mappings()
    tubes = {row["pk"]: tube_of_row(dict(row)) for row in rows}
    return tuple(tubes[pk] for pk in pks)


# ---------------------------------------------------------------- boxes and measurements


def _seat_key(seat: str) -> str:
    return " ".join(seat.casefold().split())


def _import_box(connection: Connection, box: Box, name: str) -> str:
    documents = [tube_document(tube) for tube in box.tubes]
    row = {
        "name": name,
        "seat": box.seat,
        "seat_key": _seat_key(box.seat),
        "digest": digest([box.seat, documents]),
        "changed_at": _now(),
        "deleted_at": None,
    }
    old = connection.execute(
        sa.select(BOXES).where(BOXES.c.name == name, BOXES.c.seat_key == row["seat_key"])
    ).first()
    if old is None:
        pk = connection.execute(sa.insert(BOXES).values(row).returning(BOXES.c.pk)).scalar_one()
    elif old.digest == row["digest"] and old.deleted_at is None:
        return "unchanged"
    else:
        pk = old.pk
        connection.execute(sa.update(BOXES).where(BOXES.c.pk == pk).values(row))
        connection.execute(sa.delete(BOX_TUBES).where(BOX_TUBES.c.box_pk == pk))
    if documents:
        connection.execute(
            sa.insert(BOX_TUBES),
            [
                {"box_pk": pk, "position": n, "tube_id": document["id"], "row": document}
                for n, document in enumerate(documents)
            ],
        )
    return "added" if old is None else "changed"


def _finite(value: object) -> None:
    if isinstance(value, float) and value - value != 0.0:
        raise ValueError("a number is not finite")
    if isinstance(value, Mapping):
        for entry in value.values():
            _finite(entry)
    elif isinstance(value, (list, tuple)):
        for entry in value:
            _finite(entry)


def _measurement(row: sa.Row[Any]) -> Measurement:
    return Measurement(
        tube_id=row.tube_id,
        version=row.version,
        measured_on=row.measured_on,
        instrument=row.instrument,
        conditions=row.conditions,
        raw=row.raw,
        fit=row.fit,
        withdrawn=row.withdrawn_at is not None,
    )
