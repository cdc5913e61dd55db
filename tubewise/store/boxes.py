"""Boxes into the store and out of it."""

from __future__ import annotations

import sqlalchemy as sa
from sqlalchemy.engine import Connection

from tubewise.store.rows import digest, now, tube_document, tube_of_document
from tubewise.store.tables import BOX_TUBES, BOXES
from tubewise.tubes.folded import folded
from tubewise.tubes.tube import Box, Tube


def import_box(connection: Connection, box: Box, name: str) -> str:
    """Add a box, or give a seat known already its new contents; `added`, `changed`, `unchanged`."""
    documents = [tube_document(tube) for tube in box.tubes]
    row = {
        "name": name,
        "seat": box.seat,
        "seat_key": folded(box.seat),
        "digest": digest([box.seat, documents]),
        "changed_at": now(),
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


def boxes_of_set(connection: Connection, name: str) -> list[Box]:
    """The boxes of a set, in the order they were added."""
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
