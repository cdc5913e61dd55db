"""Pictures in the store: photographs of labels, kept with the tube where a person wishes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import sqlalchemy as sa
from sqlalchemy.engine import Connection

from tubewise.store.rows import now
from tubewise.store.tables import PICTURES
from tubewise.tubes.folded import folded
from tubewise.tubes.tube import Tube


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptPicture:
    """A photograph of a tube: `jpeg` holds the picture alone, `marks` what was read on it.

    `marks` is JSON: `doubts`, and the `name` and `label` that the tube had when it was kept.
    """

    tube_id: str
    jpeg: bytes
    marks: Any


def keep(connection: Connection, picture: KeptPicture) -> None:
    """Keep a picture with its tube."""
    connection.execute(
        sa.insert(PICTURES).values(
            tube_id=picture.tube_id, jpeg=picture.jpeg, marks=picture.marks, added_at=now()
        )
    )


def kept_of(tube: Tube, jpeg: bytes, doubts: Sequence[Any]) -> KeptPicture:
    """A picture to keep with a tube, which remembers what the tube was then."""
    marks = {"doubts": list(doubts), "name": tube.name, "label": tube.label}
    return KeptPicture(tube_id=tube.id, jpeg=jpeg, marks=marks)


def numbers_of(connection: Connection, tube: Tube) -> list[int]:
    """The numbers of a tube's pictures that are not withdrawn, newest first.

    An id can come to stand for another tube, where a file that is read in again gives it so; then
    a picture of the former one is not this tube's.
    """
    rows = connection.execute(
        sa.select(PICTURES.c.pk, PICTURES.c.marks)
        .where(PICTURES.c.tube_id == tube.id, PICTURES.c.withdrawn_at.is_(None))
        .order_by(PICTURES.c.pk.desc())
    )
    return [row.pk for row in rows if _shows(row.marks, tube)]


def _shows(marks: Any, tube: Tube) -> bool:
    """Whether a picture is of the tube as it is now: its name or its pigments are the same."""
    if not isinstance(marks, dict) or "label" not in marks:
        return True  # kept before pictures remembered it
    if folded(marks["name"]) == folded(tube.name):
        return True
    then = Tube(id=tube.id, name=marks["name"], label=marks["label"])
    return bool(then.refs) and then.refs == tube.refs


def picture(connection: Connection, number: int) -> KeptPicture | None:
    """The picture of a number; None where there is none, or it is withdrawn."""
    row = connection.execute(
        sa.select(PICTURES).where(PICTURES.c.pk == number, PICTURES.c.withdrawn_at.is_(None))
    ).first()
    if row is None:
        return None
    return KeptPicture(tube_id=row.tube_id, jpeg=row.jpeg, marks=row.marks)
