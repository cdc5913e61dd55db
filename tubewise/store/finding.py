"""Tubes found by pigment, maker, medium, grade or stock."""

from __future__ import annotations

from collections.abc import Sequence

import sqlalchemy as sa
from sqlalchemy.engine import Connection
from sqlalchemy.sql.elements import ColumnElement

from tubewise import labels
from tubewise.pigments.ref import Ref
from tubewise.store.rows import TUBE_COLUMNS, tube_of_row
from tubewise.store.tables import TUBE_PIGMENTS, TUBES
from tubewise.tubes.slug import slug
from tubewise.tubes.tube import Tube


def conditions(code: str, medium: str, grade: str, in_stock: bool) -> list[ColumnElement[bool]]:
    """Conditions for every word that is not empty. Raises UserError for a code that is none."""
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


def maker_key(connection: Connection, maker: str) -> str | None:
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


def tubes_by_keys(connection: Connection, pks: Sequence[int]) -> tuple[Tube, ...]:
    """The tubes of primary keys, in the order of the keys."""
    if not pks:
        return ()
    rows = connection.execute(
        sa.select(TUBES.c.pk, *TUBE_COLUMNS).where(TUBES.c.pk.in_(pks))
    ).mappings()
    tubes = {row["pk"]: tube_of_row(dict(row)) for row in rows}
    return tuple(tubes[pk] for pk in pks)


def tubes_where(
    connection: Connection,
    *where: ColumnElement[bool],
    limit: int | None = None,
    offset: int = 0,
) -> list[Tube]:
    """The tubes that meet every condition and are not deleted, in the order they were added."""
    query = sa.select(*TUBE_COLUMNS).where(TUBES.c.deleted_at.is_(None), *where)
    query = query.order_by(TUBES.c.pk).limit(limit).offset(offset)
    return [tube_of_row(dict(row)) for row in connection.execute(query).mappings()]
