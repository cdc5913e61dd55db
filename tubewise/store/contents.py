"""Whether what stands in the store is what was put there: each row read, and its fingerprint."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import product
from typing import Any, TypeVar

import sqlalchemy as sa
from sqlalchemy.engine import Connection

from tubewise.store.damage import DamagedStoreError, first_line
from tubewise.store.revision import current
from tubewise.store.rows import (
    TUBE_COLUMNS,
    digest,
    supply_documents,
    supply_of_documents,
    tube_document,
    tube_of_document,
    tube_of_row,
)
from tubewise.store.tables import (
    BOX_TUBES,
    BOXES,
    MEASUREMENTS,
    METADATA,
    PICTURES,
    SUPPLY_LISTS,
    TUBE_PIGMENTS,
    TUBE_WORDS,
    TUBES,
)

_MOST_FAULTS = 20
_Row = TypeVar("_Row")


@dataclass(frozen=True, slots=True)
class ContentFault:
    """One thing that is wrong; `remade` is True where it can be made anew from the rest."""

    words: str
    remade: bool = False


def content_faults(connection: Connection) -> list[ContentFault]:
    """What is missing or altered in a store whose tables are up to date; never raises for it."""
    there = set(sa.inspect(connection).get_table_names())
    missing = sorted(set(METADATA.tables) - there)
    if missing:
        return [ContentFault(f"the table {name} is missing") for name in missing]
    found: list[ContentFault] = []
    for look in (_revision, _tubes, _boxes, _supply_lists, _measurements, _pictures, _indexes):
        try:
            for fault in look(connection):
                found.append(fault)
                if len(found) >= _MOST_FAULTS:
                    return found
        # Whatever a damaged row brings about, it is the row's doing; we only read.
        except Exception as error:
            found.append(ContentFault(f"{look.__name__.strip('_')}: {first_line(error)}"))
    return found


def _revision(connection: Connection) -> Iterator[ContentFault]:
    try:
        current(connection)
    except DamagedStoreError:
        yield ContentFault("the row that counts its revisions is missing", remade=True)


def _altered(
    what: str, kept: str, document: Callable[[_Row], Any], row: _Row
) -> Iterator[ContentFault]:
    try:
        same = digest(document(row)) == kept
    except Exception as error:
        yield ContentFault(f"{what} can't be read ({first_line(error)})")
        return
    if not same:
        yield ContentFault(f"{what} is not as it was written")


def _tubes(connection: Connection) -> Iterator[ContentFault]:
    for row in connection.execute(sa.select(TUBES.c.digest, *TUBE_COLUMNS)).mappings():
        faults = list(_altered(f"the tube {row['id']}", row["digest"], _tube_of, row))
        if faults and not any(digest(document) == row["digest"] for document in _spellings(row)):
            yield from faults


def _tube_of(row: sa.RowMapping) -> Any:
    return tube_document(tube_of_row(dict(row)))


def _spellings(row: sa.RowMapping) -> Iterator[Any]:
    """A tube's document with whole numbers as they may have been given.

    A column of the database knows neither 4 from 4.0 nor 0.0 from -0.0; the fingerprint does.
    """
    try:
        document = _tube_of(row)
    except Exception:
        return
    lab = document["swatch_lab"] or []
    numbers = [document["size_ml"], document["price"], *lab]
    for size, price, *swatch in product(*(_alike(number) for number in numbers)):
        yield {**document, "size_ml": size, "price": price, "swatch_lab": swatch or None}


def _alike(number: float | None) -> list[float | int | None]:
    if number is None or number != int(number):
        return [number]
    return [number, int(number)] if number else [0.0, -0.0, 0]


def _boxes(connection: Connection) -> Iterator[ContentFault]:
    documents: dict[int, list[Any]] = {}
    for pk, row in connection.execute(
        sa.select(BOX_TUBES.c.box_pk, BOX_TUBES.c.row).order_by(
            BOX_TUBES.c.box_pk, BOX_TUBES.c.position
        )
    ):
        tube_of_document(row)
        documents.setdefault(pk, []).append(row)
    for box in connection.execute(sa.select(BOXES.c.pk, BOXES.c.seat, BOXES.c.digest)):
        contents = [box.seat, documents.get(box.pk, [])]
        yield from _altered(f"the box of seat {box.seat}", box.digest, list, contents)


def _supply_lists(connection: Connection) -> Iterator[ContentFault]:
    for row in connection.execute(sa.select(SUPPLY_LISTS)):
        yield from _altered(f"the supply list {row.name}", row.digest, _documents_of, row)


def _documents_of(row: sa.Row[Any]) -> Any:
    return list(supply_documents(supply_of_documents(row.name, row.slots, row.mixes)))


def _measurements(connection: Connection) -> Iterator[ContentFault]:
    for row in connection.execute(sa.select(MEASUREMENTS)):
        if not isinstance(row.raw, dict) or not isinstance(row.fit, dict):
            yield ContentFault(f"measurement {row.version} of {row.tube_id} can't be read")


def _pictures(connection: Connection) -> Iterator[ContentFault]:
    for number, start in connection.execute(
        sa.select(PICTURES.c.pk, sa.func.substr(PICTURES.c.jpeg, 1, 2))
    ):
        if bytes(start) != b"\xff\xd8":
            yield ContentFault(f"picture {number} is no JPEG any more")


def _indexes(connection: Connection) -> Iterator[ContentFault]:
    """Living tubes that no search finds, and dead ones that one would."""
    living = sa.select(TUBES.c.pk).where(TUBES.c.deleted_at.is_(None))
    for index in (TUBE_PIGMENTS, TUBE_WORDS):
        stray = connection.execute(
            sa.select(sa.func.count()).select_from(index).where(index.c.tube_pk.not_in(living))
        ).scalar_one()
        if stray:
            yield ContentFault(f"{index.name}: {stray} entries of no tube", remade=True)
    unfound = connection.execute(
        sa.select(sa.func.count())
        .select_from(TUBES)
        .where(
            TUBES.c.deleted_at.is_(None),
            TUBES.c.maker_key != "",
            TUBES.c.pk.not_in(sa.select(TUBE_WORDS.c.tube_pk)),
        )
    ).scalar_one()
    if unfound:
        yield ContentFault(f"tube_words: {unfound} tubes that no name finds", remade=True)
