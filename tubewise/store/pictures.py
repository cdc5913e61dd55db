"""Pictures in the store: photographs of labels, kept with the tube where a person wishes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import sqlalchemy as sa
from sqlalchemy.engine import Connection

from tubewise.store.rows import now
from tubewise.store.tables import PICTURES


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptPicture:
    """A photograph of a tube: `jpeg` holds the picture alone, `marks` what was read where.

    `marks` is JSON: the corners of lines and doubts, in pixels of a picture `width` by `height`.
    """

    tube_id: str
    jpeg: bytes
    marks: Any


def keep(connection: Connection, picture: KeptPicture) -> int:
    """Keep a picture and return its number."""
    found: int = connection.execute(
        sa.insert(PICTURES)
        .values(tube_id=picture.tube_id, jpeg=picture.jpeg, marks=picture.marks, added_at=now())
        .returning(PICTURES.c.pk)
    ).scalar_one()
    return found


def numbers_of(connection: Connection, tube_id: str) -> list[int]:
    """The numbers of a tube's pictures that are not withdrawn, newest first."""
    rows = connection.execute(
        sa.select(PICTURES.c.pk)
        .where(PICTURES.c.tube_id == tube_id, PICTURES.c.withdrawn_at.is_(None))
        .order_by(PICTURES.c.pk.desc())
    )
    return [row.pk for row in rows]


def picture(connection: Connection, number: int) -> KeptPicture | None:
    """The picture of a number; None where there is none, or it is withdrawn."""
    row = connection.execute(
        sa.select(PICTURES).where(PICTURES.c.pk == number, PICTURES.c.withdrawn_at.is_(None))
    ).first()
    if row is None:
        return None
    return KeptPicture(tube_id=row.tube_id, jpeg=row.jpeg, marks=row.marks)
